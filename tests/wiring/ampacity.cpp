// SPDX-License-Identifier: Apache-2.0
// Ampacity by hand: table value × min(ambient, terminal) × grouping × lie, as written beside each
// test. Table values are those of BS 7671 4F1, 4F2, 4F3A (a cable maker's booklet, an electrical
// seller's page), 4E1A, 33 CFR 183.425 and NEC 310.16; ambient factors of IEC 60364-5-52 B.52.14 and
// NEC 310.15; grouping of B.52.17. Lies, from memory: free 1, clipped 0.88, touching insulation and
// conduit 0.75; within insulation BS 7671 table 52.2, of clipped. Terminals, from memory: 75 °C in
// caravans, NEC 110.14(C).
#include "rig.hpp"

namespace wiring_ampacity {

using namespace rig;

namespace {

/// One run of 4 m from the bank to a lamp, no nearer than that to anything else.
Rig one(const std::string& conductor, const std::string& more, const std::string& rules = "") {
  std::string text = rules.empty() ? bank : van::with(bank, "profile = \"au-nz-caravan\"", rules);
  return Rig(text + appliance("Lamp", "current = \"1 A\"") +
             run("lamp", "bank", "Lamp", "4 m", conductor, more));
}
double amperes(const Ampacity& a) { return a.value.value(); }

/// A run of 4 m between two panels, neither near the bank.
Rig between(const std::string& conductor, const std::string& a, const std::string& b,
            const std::string& more = "", const std::string& rules = "",
            const std::string& ambient = "ambient = \"30 °C\"") {
  std::string text = rules.empty() ? bank : van::with(bank, "profile = \"au-nz-caravan\"", rules);
  text = van::with(text, "ambient = \"30 °C\"", ambient);
  return Rig(text + node("A", a) + node("B", b) + run("feeder", "bank", "A", "4 m", "35 mm2") +
             run("lamp", "A", "B", "4 m", conductor, more));
}
/// That section in the middle of a run, out of reach of its terminals.
std::string middle(const std::string& section) {
  return "sections = [{ length = \"1.2 m\" }, { length = \"1.6 m\", " + section + " }]";
}

}  // namespace

TEST_CASE("alone in free air at the table's ambient only the terminals limit a 90 °C cable") {
  Working working;
  const Rig r = one("35 mm2", "");
  const Ampacity a = r.ampacity("lamp", &working);  // 200 A · √((75 − 30)/(90 − 30))
  CHECK(amperes(a) == about(200.0 * std::sqrt(45.0 / 60.0)));
  CHECK(a.table == "bs-7671-4f2-90");
  CHECK(a.row == "35");
  CHECK(a.listed.value() == 200.0);
  CHECK(double(a.ambient) == 1.0);
  CHECK(double(a.terminal) == about(std::sqrt(45.0 / 60.0)));
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
  CHECK(double(a.laid) == about(0.88));
  CHECK(double(a.ambient) == 0.91);
  CHECK(double(a.terminal) == about(std::sqrt(35.0 / 60.0) / 0.91));
  adds_up(working);
}

TEST_CASE("the least favourable section counts, and the terminals only near the ends") {
  // 1 m free, 2 m through hot insulation, 1 m free: 200 · 0.71 (60 °C) · 0.50 · 0.88 in the middle
  Working working;
  const Rig r = one("35 mm2", "sections = [{ length = \"1 m\" }, { length = \"2 m\", ambient = "
                              "\"60 °C\", laid = \"in-insulation\" }]");
  const Ampacity a = r.ampacity("lamp", &working);
  CHECK(amperes(a) == about(200.0 * 0.71 * 0.50 * 0.88));
  CHECK_FALSE(a.at_terminal);
  CHECK(double(a.terminal) == 1.0);
  CHECK(in_celsius(a.ambient_used) == about(60.0));
  adds_up(working);
}

TEST_CASE("the longer it lies within insulation without a break the less it bears") {
  const auto inside = [](const std::string& length) {
    const Rig r = one("35 mm2", "sections = [{ length = \"1.5 m\" }, { length = \"" + length +
                                    "\", laid = \"in-insulation\" }]");
    return amperes(r.ampacity("lamp"));
  };
  CHECK(inside("50 mm") == about(200.0 * 0.88 * 0.88));
  CHECK(inside("51 mm") == about(200.0 * 0.88 * 0.78));  // the next longer row
  CHECK(inside("100 mm") == about(200.0 * 0.88 * 0.78));
  CHECK(inside("200 mm") == about(200.0 * 0.88 * 0.63));
  CHECK(inside("400 mm") == about(200.0 * 0.88 * 0.51));
  CHECK(inside("0.5 m") == about(200.0 * 0.88 * 0.50));
  CHECK(inside("0.6 m") == about(200.0 * 0.88 * 0.50));
  // two sections that touch lie within insulation together
  const Rig r =
      one("35 mm2",
          "sections = [{ length = \"1.5 m\" }, { length = \"0.2 m\", laid = \"in-insulation\" }, "
          "{ length = \"0.2 m\", laid = \"in-insulation\", ambient = \"31 °C\" }]");
  CHECK(amperes(r.ampacity("lamp")) == about(200.0 * 0.96 * 0.88 * 0.51));
}

TEST_CASE("whatever the table, a run that lies worse than its cables is reduced") {
  struct Row {
    const char *table, *conductor, *insulation, *laid;
    double expected;
  };
  const Row rows[] = {
      // 4E1A B in conduit: 100 A; C clipped: 109 A; F free: 161 A (25 mm²)
      {"bs-7671-4e1a-b", "16 mm2", "90 °C", "free", 100.0},
      {"bs-7671-4e1a-b", "16 mm2", "90 °C", "clipped", 100.0},
      {"bs-7671-4e1a-b", "16 mm2", "90 °C", "touching-insulation", 100.0},
      {"bs-7671-4e1a-b", "16 mm2", "90 °C", "in-insulation", 100.0 * 0.50 / (0.75 / 0.88)},
      {"bs-7671-4e1a-c", "16 mm2", "90 °C", "free", 109.0},
      {"bs-7671-4e1a-c", "16 mm2", "90 °C", "clipped", 109.0},
      {"bs-7671-4e1a-c", "16 mm2", "90 °C", "conduit", 109.0 * 0.75 / 0.88},
      {"bs-7671-4e1a-c", "16 mm2", "90 °C", "in-insulation", 109.0 * 0.50},
      {"bs-7671-4e1a-f", "25 mm2", "90 °C", "clipped", 161.0 * 0.88},
      // EN 50618, 6 mm²: on a surface 67 A, two touching 57 A, free 70 A
      {"en-50618-surface", "6 mm2", "120 °C", "clipped", 67.0},
      {"en-50618-surface", "6 mm2", "120 °C", "touching-insulation", 67.0 * 0.75 / 0.88},
      {"en-50618-touching", "6 mm2", "120 °C", "in-insulation", 57.0 * 0.50},
      {"en-50618-air", "6 mm2", "120 °C", "clipped", 70.0 * 0.88},
      // NEC 310.16, 2 AWG, 90 °C: 130 A in raceway; 33 CFR, 105 °C: 210 A
      {"nec-310-16", "2 awg", "90 °C", "clipped", 130.0},
      {"nec-310-16", "2 awg", "90 °C", "in-insulation", 130.0 * 0.50 / (0.75 / 0.88)},
      {"us-33cfr-183-425", "2 awg", "105 °C", "free", 210.0},
      {"us-33cfr-183-425", "2 awg", "105 °C", "clipped", 210.0},
      {"us-33cfr-183-425", "2 awg", "105 °C", "in-insulation", 210.0 * 0.50}};
  for (const Row& row : rows) {
    CAPTURE(std::string(row.table));
    CAPTURE(std::string(row.laid));
    const Rig r =
        one(row.conductor,
            "insulation = \"" + std::string(row.insulation) + "\"\nlaid = \"" + row.laid + "\"",
            "profile = \"small-craft-abyc\"\nampacity_table = \"" + std::string(row.table) +
                "\"");  // no limit at terminals
    Working working;
    CHECK(amperes(r.ampacity("lamp", &working)) == about(row.expected));
    adds_up(working);
  }
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
  CHECK(amperes(a) == about(180.0 * 0.75 / 0.88));  // its own lie is clipped
}

TEST_CASE("a table with a column for the terminals' temperature gives their limit itself") {
  // 33 CFR, 2 AWG: 90 °C 180 A, 75 °C 170 A and at 40 °C 0.88 of it
  const std::string table = "profile = \"au-nz-caravan\"\nampacity_table = \"us-33cfr-183-425\"";
  Working working;
  const Ampacity a = one("2 awg", "", table).ampacity("lamp", &working);
  CHECK(amperes(a) == about(170.0));
  CHECK(double(a.terminal) == about(170.0 / 180.0));
  CHECK(a.listed.value() == 180.0);
  CHECK(a.at_terminal);
  adds_up(working);
  CHECK(amperes(one("2 awg", "ambient = \"40 °C\"", table).ampacity("lamp")) ==
        about(170.0 * 0.88));
}

TEST_CASE("a profile without a limit at terminals uses its tables as printed, unless a node says") {
  const std::string craft = "profile = \"small-craft-abyc\"";
  const std::string marked = "terminals = \"75 °C\"";
  const Ampacity a = between("2 awg", "", "", "", craft).ampacity("lamp");
  CHECK(amperes(a) == about(180.0));
  CHECK_FALSE(a.at_terminal);
  CHECK(amperes(between("2 awg", "", marked, "", craft).ampacity("lamp")) == about(170.0));
}

TEST_CASE("a node's terminals replace the profile's limit there, and only there") {
  const std::string marked = "terminals = \"90 °C\"";
  CHECK(amperes(between("35 mm2", marked, marked).ampacity("lamp")) == about(200.0));
  CHECK(amperes(between("35 mm2", marked, "").ampacity("lamp")) ==
        about(200.0 * std::sqrt(45.0 / 60.0)));
  CHECK(amperes(between("35 mm2", marked, "terminals = \"60 °C\"").ampacity("lamp")) ==
        about(200.0 * std::sqrt(30.0 / 60.0)));
}

TEST_CASE("a terminal stands in the air of its own place, never cooler than a stated one") {
  const auto at = [](double air) { return about(200.0 * std::sqrt((75.0 - air) / 60.0)); };
  const auto value = [](const std::string& a, const std::string& more, const char* ambient) {
    return amperes(between("35 mm2", a, "", more, "", ambient).ampacity("lamp"));
  };
  CHECK(value("", "", "") == at(40));  // both inside
  CHECK(value("sits = \"roof\"", "", "") == at(70));
  CHECK(value("sits = \"roof\"", "", "ambient = \"45 °C\"") == at(45));  // the run says so
  CHECK(value("ambient = \"55 °C\"", "", "") == at(55));
  CHECK(value("ambient = \"45 °C\"", "ambient = \"60 °C\"", "") == at(60));
  CHECK(value("ambient = \"35 °C\"", "", "") == at(40));  // the other end
  // of two sections that of the end where the terminal is
  CHECK(value("", "sections = [{ length = \"0.5 m\", ambient = \"50 °C\" }]",
              "ambient = \"30 °C\"") == at(50));
  // what is in the air of a hot place bears no more than its insulation bears there: 4F1, 97 A
  const Rig r = between("25 mm2", "ambient = \"50 °C\"", "", "insulation = \"60 °C\"", "", "");
  CHECK(amperes(r.ampacity("lamp")) == about(97.0 * std::sqrt(10.0 / 30.0)));
  CHECK(in_celsius(r.ampacity("lamp").ambient_used) == about(50.0));
}

TEST_CASE("a device along the run is a terminal too") {
  // 200 · 0.82 by the insulation at 50 °C; at the device 200 · √((75 − 50)/(90 − 30))
  const std::string hot = middle("ambient = \"50 °C\"");
  CHECK(amperes(between("35 mm2", "", "", hot).ampacity("lamp")) == about(200.0 * 0.82));
  const Rig r =
      between("35 mm2", "", "",
              hot + "\nprotection = [{ end = \"from\", type = \"ul-248-class-t\", rating = "
                    "\"100 A\", distance = \"2 m\" }]");
  CHECK(amperes(r.ampacity("lamp")) == about(200.0 * std::sqrt(25.0 / 60.0)));
}

TEST_CASE("NEC: the 60 °C column as printed up to 100 A, corrected beyond 40 °C only") {
  const std::string nec = "profile = \"nec-552-park-trailer\"";
  const auto value = [&](const char* conductor, const std::string& ambient,
                         const std::string& marked = "") {
    return amperes(
        between(conductor, marked, marked, "ambient = \"" + ambient + "\"", nec).ampacity("lamp"));
  };
  CHECK(value("2 awg", "30 °C") == about(95.0));
  CHECK(value("2 awg", "40 °C") == about(95.0));         // by the insulation 130 · 0.91
  CHECK(value("2 awg", "45 °C") == about(95.0 * 0.71));  // the factor of the 60 °C column
  CHECK(value("1 awg", "30 °C") == about(130.0));        // 110 A at 60 °C: over 100 A, so 75 °C
  CHECK(value("1 awg", "50 °C") == about(130.0 * 0.75));
  CHECK(value("2 awg", "40 °C", "terminals = \"75 °C\"") == about(115.0));
  CHECK(value("2 awg", "40 °C", "terminals = \"90 °C\"") == about(130.0 * 0.91));
  CHECK(value("16 awg", "30 °C") == about(18.0 * std::sqrt(30.0 / 60.0)));  // no 60 °C column
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

TEST_CASE("a conductor thinner than any row is counted as carrying nothing, and that is said") {
  const Ampacity thin = one("0.22 mm2", "").ampacity("lamp");
  CHECK(amperes(thin) == 0.0);
  CHECK(thin.beyond.find("thinner than 0.5") != std::string::npos);
}

TEST_CASE("where a table gives no answer there is none, in words") {
  CHECK(one("6 mm2", "", "profile = \"au-nz-caravan\"\nampacity_table = \"de-leisure-list\"")
            .no_ampacity("lamp")
            .find("ambient") != std::string::npos);
}

TEST_CASE("hotter than the last ambient factor is reckoned on from it, down to nothing") {
  // 4F2, 6 mm² 55 A: B.52.14 ends at 80 °C with 0.41
  const auto in_middle = [](const char* conductor, const std::string& ambient) {
    return one(conductor, middle("ambient = \"" + ambient + "\"")).ampacity("lamp");
  };
  const Ampacity a = in_middle("6 mm2", "85 °C");
  CHECK(amperes(a) == about(55.0 * 0.41 * std::sqrt(5.0 / 10.0)));
  CHECK(a.source.kind == SourceKind::from_memory);
  CHECK(a.beyond.find("80 °C") != std::string::npos);
  CHECK(amperes(in_middle("6 mm2", "80 °C")) == about(55.0 * 0.41));
  CHECK(in_middle("6 mm2", "80 °C").beyond.empty());
  for (const char* ambient : {"90 °C", "91 °C", "150 °C"})
    CHECK(amperes(in_middle("6 mm2", ambient)) == 0.0);
  // 4F3A, 2.5 mm² 25 A: its own factors end at 70 °C with 0.47
  CHECK(amperes(in_middle("2.5 mm2", "75 °C")) == about(25.0 * 0.47 * std::sqrt(15.0 / 20.0)));
  // a terminal of 75 °C in hotter air leaves nothing either
  CHECK(amperes(one("6 mm2", "ambient = \"85 °C\"").ampacity("lamp")) == 0.0);
  // and a table that does not state its ambient says at least that
  CHECK(amperes(one("6 mm2", "insulation = \"70 °C\"\nambient = \"75 °C\"",
                    "profile = \"au-nz-caravan\"\nampacity_table = \"de-leisure-list\"")
                    .ampacity("lamp")) == 0.0);
}

TEST_CASE("more together than the last grouping factor take it by the root of their number") {
  // B.52.17 bunched ends with 0.38 at 20 circuits; 6 mm² 55 A, terminals √(45/60)
  Working working;
  const Ampacity a = one("6 mm2", "circuits_together = 40").ampacity("lamp", &working);
  CHECK(double(a.grouping) == about(0.38 * std::sqrt(20.0 / 40.0)));
  CHECK(amperes(a) == about(55.0 * std::sqrt(45.0 / 60.0) * 0.38 * std::sqrt(0.5)));
  CHECK(a.beyond.find("40 circuits") != std::string::npos);
  CHECK(a.source.kind == SourceKind::from_memory);
  adds_up(working);
  // an open last row holds: 33 CFR, from 25 conductors on 0.40
  const Rig craft = one("2 awg", "circuits_together = 40", "profile = \"small-craft-abyc\"");
  CHECK(double(craft.ampacity("lamp").grouping) == 0.40);
  CHECK(craft.ampacity("lamp").beyond.empty());
}

TEST_CASE("the boat table's published case: 100 A of 105 °C cable takes 6 AWG, not 8") {
  // 33 CFR 183.425 table 5, 105 °C: 8 AWG 80 A, 6 AWG 120 A; up to two together, as printed
  const auto value = [](const char* size) {
    return amperes(
        one(size, "insulation = \"105 °C\"\nlaid = \"clipped\"", "profile = \"small-craft-abyc\"")
            .ampacity("lamp"));
  };
  CHECK(value("8 awg") == about(80.0));
  CHECK(value("6 awg") == about(120.0));
}

TEST_CASE("the design's own choice of table counts for ampacity but not for the temperature") {
  const Rig r =
      one("35 mm2", "", "profile = \"au-nz-caravan\"\nampacity_table = \"us-33cfr-183-425\"");
  CHECK(r.ampacity("lamp").table == "us-33cfr-183-425");
  CHECK(std::get<Ampacity>(r.facts("lamp").heating).table == "bs-7671-4f2-90");
}

}  // namespace wiring_ampacity
