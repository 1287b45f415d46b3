// SPDX-License-Identifier: Apache-2.0
// What a check says of the cold, of unlimited and of promised stays where the mean day or the month of
// the promise alone would be kinder than the hours of the year.
#include "energy/camp.hpp"
#include "examples.hpp"
#include "housepower/checks/delivered.hpp"
#include "housepower/energy/outlook.hpp"
#include "housepower/energy/questions.hpp"
#include "housepower/wiring/switched_off.hpp"

namespace checks_cold_and_promises {
namespace {

using namespace examples;
using camp::appliance, camp::at, camp::panel, camp::roof;

const std::string fridge = appliance("Fridge", "power = \"45 W\"\nduty = \"40 %\"\non = \"panel\"");
const std::string never_stops = camp::bank + "no_cold_cut_off = true\n";

std::optional<Finding> of_rule(const Checked& all, std::string_view rule,
                               std::string_view key = {}) {
  for (const Finding& f : all.findings)
    if (f.rule == rule && (key.empty() || f.subject.key() == key)) return f;
  return std::nullopt;
}
Finding cold(const std::string& text) {
  const auto found = of_rule(checked_text(text), "cold-charging");
  REQUIRE(found.has_value());
  return *found;
}
Finding unlimited(const std::string& text) {
  const auto found =
      of_rule(checked_text(text + "[promise]\nunlimited = true\n"), "promised-stay", "unlimited");
  REQUIRE(found.has_value());
  return *found;
}

}  // namespace

TEST_CASE("the cold of the year is judged, not that of the month of the promise") {
  // Alice Springs: a mean minimum of 22.5 °C in January, 3.9 °C in July, frost on record.
  const std::string van_ = never_stops + panel + fridge + roof;
  const Finding summer = cold(van_ + at("alice-springs", "month = \"january\""));
  CHECK(summer.verdict == Verdict::fail);
  CHECK(summer.of_safety);
  CHECK(summer.measured->si == cold(van_ + at("alice-springs")).measured->si);
  // Days on which frozen cells take nothing harm nobody: they count in the month of the promise.
  const std::string cut_off =
      camp::bank + "charge_cut_off_below = \"0 °C\"\n" + panel + fridge + roof;
  CHECK(cold(cut_off + at("oslo", "month = \"july\"")).verdict == Verdict::pass);
  CHECK(cold(cut_off + at("oslo")).verdict == Verdict::caution);
}

TEST_CASE("no cells are warmer than the record cold, but for a heater that the bank feeds") {
  const std::string van_ = never_stops + panel + fridge + roof;
  const Finding stated = cold(van_ + at("brisbane", "record_low = \"-10 °C\""));
  CHECK(stated.verdict == Verdict::fail);
  CHECK(stated.measured->si == doctest::Approx(263.15));
  // 2.5 W/(m²·K) over 2·(0.5·0.35 + 0.5·0.35 + 0.35·0.35) = 0.945 m²: 2.3625 W/K. 60 W hold 25 K, so
  // the cells stay where the heater begins, at 3 °C; 6 W hold 2.54 K.
  const auto heated = [&](const std::string& power, const std::string& by) {
    return cold(van::with(van_ + at("brisbane", "record_low = \"-10 °C\""), "own_draw = \"0 A\"\n",
                          "own_draw = \"0 A\"\nmass = \"21 kg\"\n"
                          "box = { size = [\"0.5 m\", \"0.35 m\", \"0.35 m\"], heat_transfer = "
                          "\"2.5 W/m2K\", heater = { power = \"" +
                              power + "\", supplied_by = \"" + by +
                              "\", on_below = \"3 °C\", off_above = \"5 °C\" } }\n"));
  };
  CHECK(heated("60 W", "bank").verdict == Verdict::pass);
  const double weak = heated("6 W", "bank").measured->si;
  CHECK(weak - 273.15 == doctest::Approx(-10.0 + 6.0 / (2.5 * 0.945)));
  CHECK(weak < 273.15);
  CHECK(heated("60 W", "charge").verdict == Verdict::fail);
}

TEST_CASE(
    "made-up air is no colder than the record, and alarms nobody where none was ever so cold") {
  // Sydney's record is 3.0 °C, 0 °C with the 3 K that the table's gets.
  CHECK(cold(never_stops + panel + fridge + roof + at("sydney")).verdict == Verdict::pass);
  const camp::Camp c(camp::bank + at("sydney"));
  const auto weather = *energy::weather_of(c.design(), 40, 1);
  const Temperature record = *c.design()->site.record_low;
  CHECK(record.value() == doctest::Approx(273.15));
  energy::Spell s;
  bool reached = false;
  for (int year = 0; year < 40; ++year) {
    weather.spell(year, 151, 92, s);
    for (const Temperature& t : s.air) {
      CHECK_FALSE(t < record);
      reached = reached || t == record;
    }
  }
  CHECK(reached);  // or this asked nothing
}

TEST_CASE("an assumed record softens nothing where the simulated cells freeze by themselves") {
  const auto place = [](const std::string& latitude, const std::string& longitude) {
    return "[place]\nlatitude = \"" + latitude + "\"\nlongitude = \"" + longitude +
           "\"\nheight = \"200 m\"\n";
  };
  const std::string van_ = never_stops + panel + fridge + roof;
  const Finding alaska = cold(van_ + place("65.0°", "-150°"));
  CHECK(alaska.verdict == Verdict::fail);
  CHECK(alaska.of_safety);
  // A cut-off below freezing is none: where cells stay above it the record must say so, and a far
  // town's is nobody's.
  const std::string colder =
      camp::bank + "charge_cut_off_below = \"-10 °C\"\n" + panel + fridge + roof;
  const Finding pacific = cold(colder + place("-10°", "170°"));
  CHECK(pacific.verdict == Verdict::not_checked);
  CHECK(pacific.of_safety);
  CHECK(pacific.wants.size() == 1);
  CHECK(cold(colder + at("darwin")).verdict == Verdict::pass);
}

TEST_CASE(
    "cells too hot fail in whichever month, and it is said whether that is the promised one") {
  const auto hot = [](double cut_off, const std::string& month) {
    const std::string box = "charge_cut_off_above = \"" + std::to_string(cut_off) +
                            " °C\"\nmounted = \"outside-sealed\"\nmass = \"21 kg\"\n"
                            "box = { size = [\"0.5 m\", \"0.35 m\", \"0.35 m\"] }\n";
    const std::string text =
        van::with(camp::bank, "own_draw = \"0 A\"\n", "own_draw = \"0 A\"\n" + box) + panel +
        fridge;
    return *of_rule(checked_text(text + at("alice-springs", month)), "box-too-hot");
  };
  const Finding first = hot(45.0, "");
  const double hottest = first.measured->si - 273.15;
  REQUIRE(first.in_case != "July");
  const Finding in_july = hot(hottest - 3.0, "month = \"july\"");
  CHECK(in_july.verdict == Verdict::fail);
  CHECK(in_july.message.find("not in July, which is promised") != std::string::npos);
  const Finding its_own = hot(hottest - 3.0, "month = \"" + first.in_case + "\"");
  CHECK(its_own.verdict == Verdict::fail);
  CHECK(its_own.message.find("which is promised") == std::string::npos);
  CHECK(hot(hottest + 1.0, "").verdict == Verdict::pass);
}

TEST_CASE("cells are looked at in the hottest month, too, whichever is promised") {
  const std::string box =
      "mass = \"21 kg\"\nbox = { size = [\"0.5 m\", \"0.35 m\", \"0.35 m\"] }\n";
  const std::string van_ =
      van::with(camp::bank, "own_draw = \"0 A\"\n", "own_draw = \"0 A\"\n" + box) + panel + fridge;
  const auto hot = [&](const std::string& month) {
    return of_rule(checked_text(van_ + at("alice-springs", month)), "box-too-hot")->measured->si;
  };
  CHECK(hot("month = \"july\"") == hot(""));
}

TEST_CASE("unlimited is promised only where every start outlasts the hours, not by the mean day") {
  // 20 Ah, a summer of Hobart: the mean day's sun is more than twice what is used, and the night is
  // longer than the bank.
  const std::string small =
      van::with(van::with(camp::bank, "100 Ah", "20 Ah"), "quantity = 2", "quantity = 1") + panel +
      van::with(fridge, "45 W", "90 W") + van::with(roof, "modules = 2", "modules = 4") +
      at("hobart", "month = \"january\"");
  const Finding f = unlimited(small);
  CHECK(f.verdict == Verdict::fail);
  CHECK(f.measured->si < 1.0);
  // A bank beyond all nights and dull spells, with sun enough.
  const std::string large =
      van::with(camp::bank, "100 Ah", "600 Ah") + panel + van::with(fridge, "45 W", "20 W") +
      van::with(roof, "modules = 2", "modules = 8") + at("brisbane", "month = \"january\"");
  CHECK(unlimited(large).verdict == Verdict::pass);
}

TEST_CASE("what stated travel charges counts for an unlimited promise") {
  const std::string dark = camp::bank + panel + fridge + at("hobart", "month = \"june\"") +
                           "[[charger]]\nname = \"set\"\nkind = \"generator\"\ncurrent = \"20 A\"\n"
                           "[travel]\ngenerator = \"3.5 h\"\n";
  CHECK(unlimited(dark).verdict == Verdict::pass);
  const auto balance =
      of_rule(checked_text(dark + "[promise]\nunlimited = true\n"), "daily-balance");
  REQUIRE(balance.has_value());
  CHECK(balance->verdict == Verdict::pass);
}

TEST_CASE("a promised stay passes only where the lower end of its interval does") {
  const std::string van_ = camp::bank + panel + fridge + at("hobart", "month = \"july\"") + roof;
  const auto judged = [&](double days) {
    return *of_rule(checked_text(van_ + "[promise]\nstay = \"" + std::to_string(days) + " d\"\n"),
                    "promised-stay");
  };
  const camp::Camp c(van_ + "[promise]\nstay = \"20 d\"\n");
  const auto answer = *energy::stay_that_counts(c.design(), {}, 20);
  REQUIRE(answer.sampling.has_value());
  const double low = (*answer.sampling)[0] / day, met = answer.met / day;
  REQUIRE(met - low > 0.2);  // or this asks nothing
  CHECK(judged(met - 0.02 * (met - low)).verdict == Verdict::caution);
  CHECK(judged(0.7 * low).verdict == Verdict::pass);
  CHECK(judged(met + 1.0).verdict == Verdict::fail);
}

TEST_CASE(
    "without a place nothing is known of how cold the cells are, and autonomy is not checked") {
  const std::string van_ = camp::bank + panel + fridge + "[promise]\nautonomy = \"2 d\"\n";
  const auto nowhere = of_rule(checked_text(van_), "autonomy");
  REQUIRE(nowhere.has_value());
  CHECK(nowhere->verdict == Verdict::not_checked);
  CHECK(of_rule(checked_text(van_ + at("hobart")), "autonomy")->verdict == Verdict::pass);
  // What fails in the warmth fails in the cold.
  CHECK(of_rule(checked_text(van::with(van_, "2 d", "30 d")), "autonomy")->verdict ==
        Verdict::fail);
}

TEST_CASE("a place far from every town of the climate table passes nothing by their weather") {
  const auto at_latitude = [](const std::string& south) {
    return checked_text(camp::bank + panel + fridge +
                        "[promise]\nautonomy = \"1 d\"\nstay = \"1 d\"\n[place]\nlatitude = \"-" +
                        south + "°\"\nlongitude = \"147.5°\"\nheight = \"27 m\"\n");
  };
  const Checked near_ = at_latitude("44"), far = at_latitude("47");  // 464 km south of Hobart
  for (const char* rule : {"autonomy", "promised-stay"}) {
    CAPTURE(rule);
    CHECK(of_rule(near_, rule)->verdict == Verdict::pass);
    CHECK(of_rule(far, rule)->verdict == Verdict::caution);
    CHECK(of_rule(far, rule)->message.find("Hobart (464 km") != std::string::npos);
  }
}

TEST_CASE("what is too little by another climate stays so") {
  const Checked far = checked_text(camp::bank + panel + fridge +
                                   "[promise]\nautonomy = \"60 d\"\n[place]\nlatitude = \"-47°\"\n"
                                   "longitude = \"147.5°\"\nheight = \"27 m\"\n");
  CHECK(of_rule(far, "autonomy")->verdict == Verdict::fail);
}

TEST_CASE("a measured and a limit that differ do not read alike") {
  const std::string van_ = HOUSEPOWER_SOURCE_DIR "/examples/two-berth.toml";
  const auto says = [&](const std::string& set, std::string_view rule) {
    const auto f = of_rule(checked(van_, {set}), rule);
    REQUIRE(f.has_value());
    REQUIRE(f->measured->si != f->limit->si);
    return f->message;
  };
  CHECK(says("bank/discharge_limit=15.57 A", "bank-discharge").find("may give 15.57 A") !=
        std::string::npos);
  CHECK(says("promise/autonomy=2.335 d", "autonomy").find("; 2.335 d are") != std::string::npos);
}

TEST_CASE("autonomy rests on the month in which it is shortest, summer too") {
  const std::string van_ = folder + "pellibri.toml";
  const auto in_month = [&](const std::string& month) {
    return *of_rule(
        checked(van_, {"place/name=mildura", "promise/autonomy=2.15 d", "place/month=" + month}),
        "autonomy");
  };
  double least = 1e18;
  for (int m = 0; m < 12; ++m)
    least = std::min(least, in_month(std::string(energy::month_name(m))).measured->si);
  CHECK(in_month("worst").measured->si == least);
}

TEST_CASE("parked, the month in which it stands the shortest decides, whatever month is promised") {
  const std::string file = HOUSEPOWER_SOURCE_DIR "/tests/hazards/sound/au-micro-awning.toml";
  const auto one = examples::opened(file, {"place/month=worst"});
  Duration shortest = 1000.0 * day, longest{};
  for (const auto& m : energy::assess(one.design).months) {
    const auto may_stand =
        energy::parked(one.design, wiring::fed_while_parked(one.design), m.month)->may_stand;
    shortest = std::min(shortest, may_stand), longest = std::max(longest, may_stand);
  }
  REQUIRE(shortest < longest);
  for (const char* month : {"january", "july"}) {
    const auto f =
        of_rule(checked(file, {std::string("place/month=") + month}), "parked-drain", "parked");
    REQUIRE(f.has_value());
    CHECK(f->measured->si == doctest::Approx(shortest.value()));
  }
}

TEST_CASE("a charger whose stated input is below its cut-out brings nothing, drawn or not") {
  const std::string text = camp::bank +
                           "[[charger]]\nname = \"drive\"\nkind = \"dc-dc\"\ncurrent = \"20 A\"\n"
                           "input_cut_out = \"11.5 V\"\ninput_voltage = { low = \"11 V\", normal = "
                           "\"13.5 V\" }\n";
  const camp::Camp low(text), enough(van::with(text, "\"11 V\"", "\"12 V\""));
  CHECK(checks::delivered(low.design()).at(0).current.value() == 0.0);
  CHECK(checks::delivered(enough.design()).at(0).current / ampere == doctest::Approx(20.0));
}

}  // namespace checks_cold_and_promises
