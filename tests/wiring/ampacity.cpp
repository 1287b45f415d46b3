// SPDX-License-Identifier: Apache-2.0
// Ampacity by hand: table value × ambient × grouping × lie, as written beside each test. Table
// values are those of BS 7671 4F1, 4F2, 4F3A (a cable maker's booklet, an electrical seller's page)
// and 33 CFR 183.425; ambient factors of IEC 60364-5-52 B.52.14; grouping of B.52.17.
#include "rig.hpp"

using namespace rig;

namespace {

/// One run of 4 m from the bank to a lamp, no nearer than that to anything else.
Rig one(const std::string& conductor, const std::string& more, const std::string& rules = "") {
  std::string text = rules.empty() ? bank : van::with(bank, "profile = \"au-nz-caravan\"", rules);
  return Rig(text + appliance("Lamp", "current = \"1 A\"") +
             run("lamp", "bank", "Lamp", "4 m", conductor, more));
}
double amperes(const Ampacity& a) { return a.value.value(); }

}  // namespace

TEST_CASE("alone in free air at the table's ambient only the terminals limit a 90 °C cable") {
  Working working;
  const Rig r = one("35 mm2", "");
  const Ampacity a = r.ampacity("lamp", &working);  // 200 A · √((75 − 30)/(90 − 30))
  CHECK(amperes(a) == about(200.0 * std::sqrt(45.0 / 60.0)));
  CHECK(a.table == "bs-7671-4f2-90");
  CHECK(a.row == "35");
  CHECK(a.listed.value() == 200.0);
  CHECK(a.at_terminal);
  CHECK(in_celsius(a.limit) == about(75.0));
  CHECK(a.source.kind == SourceKind::from_memory);  // the terminals' 75 °C
  adds_up(working);
}

TEST_CASE("hotter, clipped and beside another circuit") {
  // near the terminals: 200 · √((75 − 40)/60) · 0.80 · 0.88; by the insulation 200 · 0.91 · 0.80 · 0.88
  Working working;
  const Rig r = one("35 mm2", "laid = \"clipped\"\nambient = \"40 °C\"\ncircuits_together = 2");
  const Ampacity a = r.ampacity("lamp", &working);
  CHECK(amperes(a) == about(200.0 * std::sqrt(35.0 / 60.0) * 0.80 * 0.88));
  CHECK(double(a.grouping) == 0.80);
  CHECK(double(a.laid) == 0.88);
  adds_up(working);
}

TEST_CASE("the least favourable section counts, and the terminals only near the ends") {
  // 1 m free, 2 m through hot insulation, 1 m free: 200 · 0.71 (60 °C) · 0.5 in the middle
  Working working;
  const Rig r = one("35 mm2", "sections = [{ length = \"1 m\" }, { length = \"2 m\", ambient = "
                              "\"60 °C\", laid = \"in-insulation\" }]");
  const Ampacity a = r.ampacity("lamp", &working);
  CHECK(amperes(a) == about(200.0 * 0.71 * 0.5));
  CHECK_FALSE(a.at_terminal);
  CHECK(in_celsius(a.ambient_used) == about(60.0));
  adds_up(working);
}

TEST_CASE("up to half a metre within insulation takes a quarter, more takes half") {
  const auto inside = [](const std::string& length) {
    const Rig r = one("35 mm2", "sections = [{ length = \"1.5 m\" }, { length = \"" + length +
                                    "\", laid = \"in-insulation\" }]");
    return amperes(r.ampacity("lamp"));
  };
  CHECK(inside("0.5 m") == about(200.0 * 0.75));
  CHECK(inside("0.6 m") == about(200.0 * 0.5));
  // two sections that touch lie within insulation together
  const Rig r =
      one("35 mm2",
          "sections = [{ length = \"1.5 m\" }, { length = \"0.4 m\", laid = \"in-insulation\" }, "
          "{ length = \"0.4 m\", laid = \"in-insulation\", ambient = \"31 °C\" }]");
  CHECK(amperes(r.ampacity("lamp")) == about(200.0 * 0.96 * 0.5));
}

TEST_CASE("an ambient between two bands takes the hotter one") {
  const Rig r = one("35 mm2", "sections = [{ length = \"1 m\" }, { length = \"2 m\", ambient = "
                              "\"51 °C\", laid = \"touching-insulation\" }]");
  CHECK(amperes(r.ampacity("lamp")) == about(200.0 * 0.76 * 0.75));  // 55 °C: 0.76
}

TEST_CASE("insulation of 60 to 89 °C reads the 60 °C table, whose terminals it does not reach") {
  for (const char* insulation : {"60 °C", "75 °C", "89 °C"}) {
    const Rig r = one("6 mm2", std::string("insulation = \"") + insulation + "\"");
    const Ampacity a = r.ampacity("lamp");
    CHECK(amperes(a) == about(39.0));
    CHECK(a.table == "bs-7671-4f1-60");
    CHECK_FALSE(a.at_terminal);
  }
  // 40 °C by the square root: √((60 − 40)/(60 − 30))
  CHECK(amperes(one("6 mm2", "insulation = \"60 °C\"\nambient = \"40 °C\"").ampacity("lamp")) ==
        about(39.0 * std::sqrt(20.0 / 30.0)));
}

TEST_CASE("more than 90 °C earns no credit") {
  CHECK(amperes(one("35 mm2", "insulation = \"125 °C\"").ampacity("lamp")) ==
        about(200.0 * std::sqrt(45.0 / 60.0)));
}

TEST_CASE("below the first row the cord table counts, and that is said") {
  const Rig r = one("1.5 mm2", "");
  const Ampacity a = r.ampacity("lamp");  // 16 A; terminals √(45/60)
  CHECK(amperes(a) == about(16.0 * std::sqrt(45.0 / 60.0)));
  CHECK(a.table == "bs-7671-4f3a");
  CHECK_FALSE(a.note.empty());
  // where both tables hold a row the main one counts: 4 mm² 42 A, not 32
  CHECK(one("4 mm2", "").ampacity("lamp").table == "bs-7671-4f2-90");
}

TEST_CASE("a size of another series is rated as the next row down") {
  const Rig auto_size = one("6 auto-od", "");  // true copper 4.59 mm² at the most: the row of 4
  CHECK(auto_size.ampacity("lamp").row == "4");
  const Rig awg = one("2 awg", "");  // 33.6 mm²: the row of 25
  CHECK(awg.ampacity("lamp").row == "25");
  const Rig metric = one("35 mm2", "", "profile = \"small-craft-abyc\"");
  CHECK(metric.ampacity("lamp").listed.value() <= 180.0);  // at most 2 AWG
}

TEST_CASE("between two insulation columns the lower counts") {
  // 33 CFR: 2 AWG, 105 °C 210 A, 90 °C 180 A, 75 °C 170 A; insulation 100 °C reads 90
  const Rig r = one("2 awg",
                    "insulation = \"100 °C\"\nsections = [{ length = \"1 m\" }, { length = \"2 "
                    "m\", laid = \"touching-insulation\" }]",
                    "profile = \"small-craft-abyc\"");
  const Ampacity a = r.ampacity("lamp");
  CHECK(a.listed.value() == 180.0);
  CHECK(amperes(a) == about(180.0 * 0.75));
}

TEST_CASE("a table with a 75 °C column gives the terminals' limit itself") {
  const Rig r = one("2 awg", "", "profile = \"small-craft-abyc\"");  // 170 A of the 75 °C column
  CHECK(amperes(r.ampacity("lamp")) == about(170.0));
  CHECK(r.ampacity("lamp").at_terminal);
}

TEST_CASE("parallel conductors add up and count as circuits together") {
  const Rig r = one("35 mm2", "parallel = 2");  // 2 · 200 · √(45/60) · 0.80
  CHECK(amperes(r.ampacity("lamp")) == about(2 * 200.0 * std::sqrt(45.0 / 60.0) * 0.80));
}

TEST_CASE("in conduit a 90 °C cable reads the conduit table, another three quarters of free air") {
  CHECK(one("16 mm2", "laid = \"conduit\"").ampacity("lamp").table == "bs-7671-4e1a-b");
  CHECK(amperes(one("16 mm2", "laid = \"conduit\"\ninsulation = \"60 °C\"").ampacity("lamp")) ==
        about(73.0 * 0.75));
}

TEST_CASE("where a table gives no answer there is none, in words") {
  CHECK(one("6 mm2", "ambient = \"85 °C\"").no_ampacity("lamp").find("ambient") !=
        std::string::npos);
  CHECK(one("6 mm2", "circuits_together = 40").no_ampacity("lamp").find("40 circuits") !=
        std::string::npos);
  CHECK(one("0.22 mm2", "").no_ampacity("lamp").find("begins at 0.5") != std::string::npos);
  CHECK(one("6 mm2", "", "profile = \"au-nz-caravan\"\nampacity_table = \"de-leisure-list\"")
            .no_ampacity("lamp")
            .find("ambient") != std::string::npos);
}

TEST_CASE("the design's own choice of table counts for ampacity but not for the temperature") {
  const Rig r =
      one("35 mm2", "", "profile = \"au-nz-caravan\"\nampacity_table = \"us-33cfr-183-425\"");
  CHECK(r.ampacity("lamp").table == "us-33cfr-183-425");
  CHECK(std::get<Ampacity>(r.facts("lamp").heating).table == "bs-7671-4f2-90");
}
