// SPDX-License-Identifier: Apache-2.0
// One cable as a program asks for it: its figures against calculations by hand, what governs them, and
// problems as data.
#include "housepower/answers/cable.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "checks/examples.hpp"

namespace answers_cable {
namespace {

using namespace housepower;
using answers::CableAsked;
using answers::CableGoverns;
using answers::CableReport;
using checks::Verdict;

CableAsked run_of(Current current, Length length) {
  CableAsked asked;
  asked.current = current;
  asked.length = length;
  return asked;
}
CableReport answered(const CableAsked& asked) {
  Diagnostics problems;
  auto cable = answers::cable(asked, examples::shipped(), problems);
  REQUIRE(cable.has_value());
  CHECK(problems.all.empty());
  return *std::move(cable);
}
/// The keys of what is wrong; there is no answer.
std::vector<std::string> keys_refused(const CableAsked& asked) {
  Diagnostics problems;
  CHECK_FALSE(answers::cable(asked, examples::shipped(), problems).has_value());
  std::vector<std::string> keys;
  for (const auto& d : problems.all) keys.push_back(d.key);
  return keys;
}
const checks::Finding* finding_of(const CableReport& r, std::string_view rule) {
  const auto found = std::find_if(r.findings.begin(), r.findings.end(),
                                  [&](const auto& f) { return f.rule == rule; });
  return found == r.findings.end() ? nullptr : &*found;
}
double volts(const std::optional<Voltage>& v) {
  REQUIRE(v.has_value());
  return *v / volt;
}
double amperes(const std::optional<Current>& i) {
  REQUIRE(i.has_value());
  return *i / ampere;
}

}  // namespace

TEST_CASE("one cable loses what a calculation by hand says") {
  // 6 mm², class 5: 3.30 mΩ/m at 20 °C (IEC 60228:2004 table 3). 2 · 5 m · 20 A · 3.30 mΩ/m = 0.66 V,
  // 5.5 % of 12 V; 0.66 V · 20 A = 13.2 W.
  auto asked = run_of(20.0 * ampere, 5.0 * metre);
  asked.conductor = "6 mm2";
  asked.conductor_temperature = celsius(20.0);
  asked.drop = Ratio(0.06);
  const auto f = answered(asked).as_assumed.figures;
  CHECK(volts(f.drop) == doctest::Approx(0.66).epsilon(1e-6));
  CHECK(double(*f.drop_share) == doctest::Approx(0.055).epsilon(1e-6));
  CHECK(volts(f.at_load) == doctest::Approx(11.34).epsilon(1e-6));
  CHECK(*f.lost / watt == doctest::Approx(13.2).epsilon(1e-6));
  CHECK(f.drop_limit / volt == doctest::Approx(0.72));  // 6 % of 12 V
}

TEST_CASE("a short cable is sized by its ampacity, a long one by its drop, and that is said") {
  // 20 A over 4 m in 12 V: 0.36 V are allowed. 6 mm² loses 2 · 4 · 20 · 3.30 mΩ = 0.528 V, 10 mm² at
  // 1.91 mΩ/m 0.306 V cold. For 20 A 4 mm² does: 42 A · √(45/60) · 0.88 = 32 A.
  const auto far = answered(run_of(20.0 * ampere, 4.0 * metre));
  CHECK(far.as_assumed.figures.governs == CableGoverns::drop);
  CHECK(far.as_assumed.figures.for_ampacity == "4 mm2");
  CHECK(far.as_assumed.figures.conductor == "10 mm2");
  // 60 A over 0.5 m: 10 mm² loses 2 · 0.5 · 60 · 1.91 mΩ = 0.115 V, even 4 mm² (4.95 mΩ/m) 0.297 V.
  const auto near = answered(run_of(60.0 * ampere, 0.5 * metre));
  CHECK(near.as_assumed.figures.governs == CableGoverns::ampacity);
  CHECK_FALSE(near.as_assumed.figures.too_small);
  auto thin = run_of(20.0 * ampere, 4.0 * metre);
  thin.conductor = "6 mm2";
  CHECK(answered(thin).as_assumed.figures.too_small);
}

TEST_CASE(
    "what is left out is asked at its worst, and a pass that does not hold there is a caution") {
  // 4 mm², 4F2 42 A at 90 °C, terminals √(45/60), clipped 0.88. At worst 4F1 30 A at 60 °C, 40 °C
  // √(20/30), four circuits 0.65, in insulation 0.50 · 0.88.
  const double assumed = 42.0 * std::sqrt(45.0 / 60.0) * 0.88;
  const double worst = 30.0 * std::sqrt(20.0 / 30.0) * 0.65 * 0.50 * 0.88;
  auto asked = run_of(8.0 * ampere, 3.0 * metre);
  asked.conductor = "4 mm2";
  const auto r = answered(asked);
  CHECK(amperes(r.as_assumed.figures.ampacity) == doctest::Approx(assumed));
  CHECK(amperes(r.as_assumed.figures.largest_device) == doctest::Approx(assumed));
  CHECK(amperes(r.at_worst.figures.ampacity) == doctest::Approx(worst));
  CHECK(r.unsaid.size() == 5);
  const auto* ampacity = finding_of(r, "ampacity");
  REQUIRE(ampacity);
  CHECK(ampacity->verdict == Verdict::caution);
  const auto* at_worst = held_to_worst(r, *ampacity);
  REQUIRE(at_worst);
  CHECK(at_worst->verdict == Verdict::fail);
  CHECK(amperes(Current::from_value(at_worst->limit->si)) == doctest::Approx(worst));

  asked.insulation = celsius(90.0);
  asked.laid = design::Laid::clipped;
  asked.circuits_together = 1;
  asked.ambient = celsius(30.0);
  asked.joints = 4;
  const auto stated = answered(asked);
  CHECK(stated.unsaid.empty());
  CHECK(finding_of(stated, "ampacity")->verdict == Verdict::pass);
  CHECK_FALSE(held_to_worst(stated, *finding_of(stated, "ampacity")));
  CHECK(amperes(stated.at_worst.figures.ampacity) == doctest::Approx(assumed));
}

TEST_CASE("terminals and device are asked in quantities") {
  auto asked = run_of(5.0 * ampere, 1.0 * metre);
  asked.conductor = "4 mm2";
  asked.laid = design::Laid::free;
  asked.terminals = answers::CableTerminals{};
  CHECK(amperes(answered(asked).as_assumed.figures.ampacity) == doctest::Approx(42.0));
  asked.terminals = answers::CableTerminals{celsius(60.0)};
  CHECK(amperes(answered(asked).as_assumed.figures.ampacity) ==
        doctest::Approx(42.0 * std::sqrt(30.0 / 60.0)));
  CHECK(finding_of(answered(asked), "unprotected-source-end"));
  asked.device = answers::CableDevice{"iso-8820-3-c", 10.0 * ampere};
  const auto guarded = answered(asked);
  CHECK_FALSE(finding_of(guarded, "unprotected-source-end"));
  CHECK(finding_of(guarded, "fuse-above-load")->verdict == Verdict::pass);
}

TEST_CASE("without an operating point there is no current and no drop, not a nought") {
  // 4 · R · P > U²: 2 · 10 m · 26.0 mΩ/m = 0.52 Ω; 4 · 0.52 · 200 = 416 > 144.
  CableAsked asked;
  asked.power = 200.0 * watt;
  asked.length = 10.0 * metre;
  asked.conductor = "0.75 mm2";
  const auto r = answered(asked);
  CHECK_FALSE(r.as_assumed.figures.current.has_value());
  CHECK_FALSE(r.as_assumed.figures.drop.has_value());
  CHECK(r.as_assumed.figures.too_small);
  CHECK(r.verdicts().worse() == Verdict::fail);
}

TEST_CASE("a table is asked for bare sizes; a unit says itself of which series a size is") {
  auto asked = run_of(20.0 * ampere, 4.0 * metre);
  asked.conductor_table = answers::ConductorTable::nec_8;
  const auto conductor = [&](const char* size) {
    asked.conductor = size;
    return answered(asked).as_assumed.figures.conductor.value_or("");
  };
  CHECK(conductor("6") == "6 awg");
  CHECK(conductor("6 mm2") == "6 mm2");
}

TEST_CASE("values beyond their limits and names that are not known are problems, all at once") {
  CableAsked none;
  none.length = 4.0 * metre;
  CHECK(keys_refused(none) == std::vector<std::string>{"current"});
  auto both = run_of(20.0 * ampere, 4.0 * metre);
  both.power = 240.0 * watt;
  CHECK(keys_refused(both) == std::vector<std::string>{"current"});
  auto beyond = run_of(0.0 * ampere, -1.0 * metre);
  beyond.drop = Ratio(1.5);
  beyond.circuits_together = 0;
  beyond.ampacity_table = "no such table";
  CHECK(keys_refused(beyond) == std::vector<std::string>{"current", "length", "drop",
                                                         "circuits_together", "ampacity-table"});
  auto unknown = run_of(20.0 * ampere, 4.0 * metre);
  unknown.conductor = "bogus";
  CHECK(keys_refused(unknown) == std::vector<std::string>{"conductor"});
}

/// All stated that a worst case would take.
CableAsked stated(CableAsked asked) {
  asked.insulation = celsius(90.0);
  asked.laid = design::Laid::free;
  asked.circuits_together = 1;
  asked.ambient = celsius(40.0);
  asked.joints = 0;
  return asked;
}

TEST_CASE("a named table does not make insulation better that nobody stated") {
  // 60 °C PVC in 59 °C air carries next to nothing, whatever table a hotter insulation would use.
  CableAsked asked = run_of(14.5 * ampere, 0.5 * metre);
  asked.conductor = "6 mm2";
  asked.ambient = celsius(59.0);
  asked.circuits_together = 1;
  asked.laid = design::Laid::clipped;
  asked.joints = 4;
  for (const char* table :
       {"bs-7671-4f2-90", "bs-7671-4e1a-b", "us-33cfr-183-425", "en-50618-air"}) {
    CAPTURE(table);
    asked.ampacity_table = table;
    const CableReport r = answered(asked);
    CHECK(amperes(r.at_worst.figures.ampacity) < 10.0);
    const auto* f = finding_of(r, "ampacity");
    REQUIRE(f);
    CHECK(f->verdict != Verdict::pass);
  }
}

TEST_CASE("a load of power behind a weak source is judged by what it draws there") {
  // 460 W at the end of 0.8 m of 6 mm² behind 20 mΩ: P = U·I − I²·(20 mΩ + 6.4 mΩ) gives 42.3 A, where
  // 460 W / (0.97 · 12 V) would be 39.5 A, less than a 40 A device.
  CableAsked asked = stated({});
  asked.power = 460.0 * watt;
  asked.length = 0.8 * metre;
  asked.conductor = "6 mm2";
  asked.source_resistance = Resistance::from_value(20e-3);
  asked.bank_resistance = Resistance::from_value(20e-3);
  asked.device = {"iso-8820-5-sf30", 40.0 * ampere};
  const CableReport r = answered(asked);
  const auto* f = finding_of(r, "fuse-above-load");
  REQUIRE(f);
  CHECK(f->verdict == Verdict::fail);
}

TEST_CASE("a load of power gets a size that keeps the drop at the current that it then draws") {
  for (const double share : {0.03, 0.1, 0.3})
    for (const double power : {120.0, 240.0}) {
      CAPTURE(share);
      CAPTURE(power);
      for (double length = 1.0; length < 12.0; length += 0.7) {
        CableAsked asked = stated({});
        asked.power = power * watt;
        asked.length = length * metre;
        asked.drop = Ratio(share);
        const CableReport r = answered(asked);
        REQUIRE(r.as_assumed.figures.drop_share.has_value());
        CHECK(double(*r.as_assumed.figures.drop_share) <= share * (1.0 + 1e-9));
        CHECK(r.as_assumed.figures.smallest == r.as_assumed.figures.conductor);
        const auto* f = finding_of(r, "drop");
        REQUIRE(f);
        CHECK(f->verdict == Verdict::pass);
      }
    }
}

TEST_CASE("which size suffices does not depend on the size that is asked about") {
  for (const double milliohms : {0.0, 5.0, 20.0})
    for (const double power : {300.0, 700.0, 1000.0}) {
      CAPTURE(milliohms);
      CAPTURE(power);
      CableAsked asked = stated({});
      asked.power = power * watt;
      asked.length = 3.0 * metre;
      asked.source_resistance = Resistance::from_value(milliohms * 1e-3);
      const CableReport open = answered(asked);
      CHECK(open.at_worst.figures.smallest == open.as_assumed.figures.smallest);  // all is stated
      for (const char* size : {"4 mm2", "10 mm2", "25 mm2", "35 mm2", "50 mm2"}) {
        CAPTURE(size);
        asked.conductor = size;
        const CableReport r = answered(asked);
        CHECK(r.as_assumed.figures.smallest == open.as_assumed.figures.smallest);
        CHECK(r.as_assumed.figures.for_drop == open.as_assumed.figures.for_drop);
        CHECK(r.at_worst.figures.smallest == open.at_worst.figures.smallest);
        const auto *drop = finding_of(r, "drop"), *load = finding_of(r, "ampacity");
        REQUIRE(drop);
        REQUIRE(load);
        if (load->verdict == Verdict::fail) CHECK(size != r.as_assumed.figures.for_ampacity);
        if (size == open.as_assumed.figures.for_drop) CHECK(drop->verdict == Verdict::pass);
        else if (drop->verdict != Verdict::pass)
          CHECK(drop->cure.find(*open.as_assumed.figures.for_drop) != std::string::npos);
      }
    }
}

TEST_CASE("a larger drop that is allowed is not taken for one that is there") {
  // 445 W at the end of 1 m of 16 mm², class 5 (1.21 mΩ/m at 20 °C, IEC 60228:2004 table 3): about
  // 37 A, of which a 40 A device knows nothing; at 10.8 V it would be 41 A, but the run loses 1 %.
  CableAsked asked = stated({});
  asked.power = 445.0 * watt;
  asked.length = 1.0 * metre;
  asked.conductor = "16 mm2";
  asked.drop = Ratio(0.1);
  asked.bank_resistance = Resistance::from_value(2e-3);
  asked.device = {"terminal-cube", 40.0 * ampere};
  const CableReport r = answered(asked);
  const auto* f = finding_of(r, "fuse-above-load");
  REQUIRE(f);
  CHECK(f->verdict != Verdict::fail);
  CHECK(amperes(r.as_assumed.figures.current) == doctest::Approx(445.0 / 11.9).epsilon(0.01));
}

TEST_CASE("one cable rests on nothing of a bank") {
  for (const auto& f : answered(run_of(10.0 * ampere, 3.0 * metre)).findings) {
    CHECK(f.message.find("bank_age") == std::string::npos);
    CHECK(f.message.find("case/") == std::string::npos);
  }
}

TEST_CASE("a named method chooses by its own drop") {
  for (const auto method : {wiring::NamedMethod::abyc_e11, wiring::NamedMethod::en_1648}) {
    CableAsked asked = stated(run_of(8.0 * ampere, 3.9 * metre));
    asked.sizes = design::SizeSeries::awg;
    asked.method = method;
    const CableReport r = answered(asked);
    CHECK(r.as_assumed.figures.conductor == r.as_assumed.figures.smallest);
    const auto* f = finding_of(r, "drop");
    REQUIRE(f);
    CHECK(f->verdict == Verdict::pass);
    asked.conductor = "18 AWG";
    const CableReport thin = answered(asked);
    const auto* lost = finding_of(thin, "drop");
    REQUIRE(lost);
    CHECK(lost->cure == *r.as_assumed.figures.for_drop + " or larger");
  }
}

TEST_CASE("only a drop that is asked fails; the usual one is a habit") {
  CableAsked asked = stated(run_of(10.0 * ampere, 5.7 * metre));  // a little more than 3 %
  asked.conductor = "6 mm2";
  CHECK(finding_of(answered(asked), "drop")->verdict == Verdict::caution);
  asked.drop = Ratio(0.03);
  CHECK(finding_of(answered(asked), "drop")->verdict == Verdict::fail);
}

TEST_CASE("any voltage to 400 V is answered, and a source is no other than it can be") {
  for (const double voltage : {5.0, 6.0, 9.0, 16.0, 19.0, 20.4, 36.0, 48.0, 400.0}) {
    CAPTURE(voltage);
    CableAsked asked = run_of(2.0 * ampere, 1.0 * metre);
    asked.voltage = voltage * volt;
    (void)answered(asked);
  }
  CableAsked wrong = run_of(10.0 * ampere, 3.0 * metre);
  wrong.bank_voltage = 1.3 * volt;
  CHECK(keys_refused(wrong) == std::vector<std::string>{"bank-voltage"});
  wrong.bank_voltage.reset();
  wrong.bank_resistance = Resistance::from_value(-2e-3);
  CHECK(keys_refused(wrong) == std::vector<std::string>{"bank_resistance"});
  wrong.bank_resistance.reset();
  wrong.device = {"iso-8820-3-c", -15.0 * ampere};
  CHECK(keys_refused(wrong) == std::vector<std::string>{"fuse"});
}

}  // namespace answers_cable
