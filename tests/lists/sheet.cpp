// SPDX-License-Identifier: Apache-2.0
// A sheet into tables: heads, units, and numbers with either decimal sign.
#include <doctest/doctest.h>

#include <array>

#include "housepower/lists/sheet.hpp"

namespace lists_sheet {
namespace {
struct Lamp {
  std::string name;
  std::optional<housepower::Power> power;
  std::optional<int> quantity;
  std::optional<housepower::Duration> per_day;
};
}  // namespace
}  // namespace lists_sheet

namespace housepower {
template <>
inline constexpr auto fields<lists_sheet::Lamp> =
    std::array{field<&lists_sheet::Lamp::name>("name", "What it is called.", "lamp"),
               field<&lists_sheet::Lamp::power>("power", "What it draws.", "45 W"),
               field<&lists_sheet::Lamp::quantity>("quantity", "How many.", "1"),
               field<&lists_sheet::Lamp::per_day>("per_day", "How long.", "2 h")};
}  // namespace housepower

namespace lists_sheet {

using namespace housepower;

namespace {

constexpr std::array heads{HeadWord{"watts", "power", "W"}, HeadWord{"leistung", "power", {}},
                           HeadWord{"h/day", "per_day", "h"}};

struct Read {
  Sheet sheet;
  Diagnostics diagnostics;
  [[nodiscard]] std::string value(std::string_view key, std::size_t row = 0) const {
    const Node* node = sheet.rows.at(row).at(key);
    return node && std::holds_alternative<std::string>(node->value)
               ? std::get<std::string>(node->value)
               : "";
  }
};
Read read(std::string_view text, const SheetOptions& options = {}) {
  Read r;
  SheetRules rules;
  rules.kinds.push_back({"", fields<Lamp>});
  rules.list = "lamp";
  rules.heads = heads;
  const auto csv = parse_csv(text, "a.csv", {}, r.diagnostics);
  if (csv) r.sheet = read_sheet(*csv, rules, options, r.diagnostics);
  return r;
}

}  // namespace

TEST_CASE("a head is the key, a word of the trade, or either with a unit, however it is written") {
  for (const std::string head : {"power (W)", "Power [W]", "POWER / W", "Power in W", "power W",
                                 "Watts", "Leistung (W)", "Power (Watts)", "Power (W)*"}) {
    CAPTURE(head);
    const auto r = read("name;" + head + "\nlamp;45\n");
    CHECK_FALSE(r.diagnostics.any_error());
    CHECK(r.value("power") == "45 W");
  }
}

TEST_CASE("a heading that is said by hand keeps its unit, wherever in it that stands") {
  struct Row {
    std::string head, by_hand, value;
  };
  for (const Row& row :
       {Row{"Verbrauch (W)", "Verbrauch (W)=power", "45 W"},
        Row{"Verbrauch (W)", "Verbrauch=power", "45 W"},
        Row{"Watt at the plug", "Watt at the plug=power", "45 W"}, Row{"kW", "kW=power", "45 kW"},
        Row{"Verbrauch", "Verbrauch=power (W)", "45 W"}}) {
    CAPTURE(row.head);
    CAPTURE(row.by_hand);
    const auto r = read("name;" + row.head + "\nlamp;45\n", {{row.by_hand}, {}});
    CHECK_FALSE(r.diagnostics.any_error());
    CHECK(r.value("power") == row.value);
  }
  CHECK(read("name;Hours of use\nlamp;3\n", {{"Hours of use=per_day"}, {}}).value("per_day") ==
        "3 h");
  // of two units neither is taken
  CHECK(read("name;Hours or minutes\nlamp;3\n", {{"Hours or minutes=per_day"}, {}})
            .diagnostics.any_error());
}

TEST_CASE("where hours are meant, hours are suggested") {
  const auto r = read("name;Use\nlamp;3\n", {{"Use=per_day"}, {}});
  REQUIRE(r.diagnostics.all.size() == 1);
  CHECK(r.diagnostics.all[0].hint.find("\"Use (h)\"") != std::string::npos);
  const auto bare = read("name;quantity;Hours\nlamp;1;3\n");
  REQUIRE(bare.diagnostics.all.size() == 1);
  CHECK(bare.diagnostics.all[0].hint.find("--column \"Hours=per_day (h)\"") != std::string::npos);
}

TEST_CASE("a head that says more than the key is not taken for it") {
  for (const std::string head : {"Power (peak)", "Total power (W)", "Power (A)", "Powerful"}) {
    CAPTURE(head);
    const auto r = read("name;quantity;" + head + "\nlamp;1;45\n");
    REQUIRE(r.diagnostics.all.size() == 1);
    CHECK(r.diagnostics.all[0].severity == Severity::warning);
    CHECK(r.diagnostics.all[0].place.column == 15);
    CHECK(r.value("power").empty());
  }
}

TEST_CASE("a cell's own unit holds before the head's; without either it is asked for") {
  CHECK(read("name;power (W)\nlamp;0,5 kW\n").value("power") == "0.5 kW");
  const auto r = read("name;power\nlamp;45\n");
  REQUIRE(r.diagnostics.all.size() == 1);
  CHECK(r.diagnostics.all[0].message == "\"45\" has no unit, and neither has its heading");
  CHECK(r.diagnostics.all[0].place.line == 2);
  CHECK(r.diagnostics.all[0].place.column == 6);
}

TEST_CASE("a number that can be read in one way is, and the file's decimal sign is told") {
  struct Row {
    std::string_view written, value;
    DecimalSign sign;
  };
  for (const Row& row :
       {Row{"45.5", "45.5 W", DecimalSign::point}, Row{"45,5", "45.5 W", DecimalSign::comma},
        Row{"0,125", "0.125 W", DecimalSign::comma}, Row{"0.125", "0.125 W", DecimalSign::point},
        Row{"1.234,5", "1234.5 W", DecimalSign::comma},
        Row{"1,234.5", "1234.5 W", DecimalSign::point},
        Row{"1 234,5", "1234.5 W", DecimalSign::comma},
        Row{"1.234.567", "1234567 W", DecimalSign::comma},
        Row{"12345,678", "12345.678 W", DecimalSign::comma}}) {
    CAPTURE(row.written);
    const auto r = read("name;power (W)\nlamp;" + std::string(row.written) + "\n");
    CHECK(r.value("power") == row.value);
    CHECK(r.sheet.decimal == row.sign);
    CHECK(r.sheet.decimal_from == "line 2");
  }
}

TEST_CASE("1.234 alone is refused, since nothing tells whether it is a thousand") {
  for (const std::string_view written : {"1.234", "1,234"}) {
    CAPTURE(written);
    const std::string text = "name;power (W)\nlamp;" + std::string(written) + "\n";
    const auto r = read(text);
    REQUIRE(r.diagnostics.all.size() == 1);
    CHECK(r.diagnostics.all[0].message.find("can be ") != std::string::npos);
    const bool point = written[1] == '.';
    CHECK(read(text, {{}, DecimalSign::point}).value("power") == (point ? "1.234 W" : "1234 W"));
    CHECK(read(text, {{}, DecimalSign::comma}).value("power") == (point ? "1234 W" : "1.234 W"));
  }
}

TEST_CASE("another row tells the decimal sign, and a thousand that is parted is told") {
  const auto r = read("name;power (W)\nlamp;1.234\nlight;0,5\n");
  CHECK(r.value("power") == "1234 W");
  REQUIRE(r.diagnostics.all.size() == 1);
  CHECK(r.diagnostics.all[0].severity == Severity::warning);
  CHECK(r.diagnostics.all[0].message == "\"1.234\" is read as 1234: its thousands are separated");
  const auto plain = read("name;power (W)\nlamp;1.234\nlight;0.5\n");
  CHECK(plain.value("power") == "1.234 W");
  CHECK(plain.diagnostics.all.empty());
}

TEST_CASE("both decimal signs in one file are refused; said by hand, the other one is") {
  const std::string_view text = "name;power (W)\nlamp;0.5\nlight;0,5\n";
  const auto r = read(text);
  REQUIRE(r.diagnostics.all.size() == 1);
  CHECK(r.diagnostics.all[0].place.line == 3);
  const auto said = read(text, {{}, DecimalSign::comma});
  REQUIRE(said.diagnostics.all.size() == 1);
  CHECK(said.diagnostics.all[0].place.line == 2);
}

TEST_CASE("digits that are parted wrongly are no number") {
  for (const std::string_view written : {"1.23.4", "12,34,567", "1.234,5,6", "1 23", "0 123"}) {
    CAPTURE(written);
    const auto r = read("name;power (W)\nlamp;" + std::string(written) + "\n");
    CHECK(r.diagnostics.any_error());
  }
}

TEST_CASE("a column is mapped or left out by hand; an unknown head or key is refused") {
  const std::string_view text = "name;Verbrauch (W);Farbe\nlamp;45;rot\n";
  const auto r = read(text, {{"Verbrauch=power", "Farbe="}, {}});
  CHECK(r.diagnostics.all.empty());
  CHECK(r.value("power") == "45 W");
  CHECK(r.sheet.columns[2].left_out);
  CHECK(read("name;P\nlamp;45\n", {{"P=power (W)"}, {}}).value("power") == "45 W");
  CHECK(read(text, {{"Verbrach=power"}, {}}).diagnostics.any_error());
  CHECK(read(text, {{"Verbrauch=pwer"}, {}}).diagnostics.all[0].hint == "did you mean \"power\"?");
}

TEST_CASE("two columns of one key, a missing name column and a row of sums are refused") {
  CHECK(read("name;Power (W);Watts\nlamp;45;45\n").diagnostics.any_error());
  CHECK(read("quantity;Power (W)\n1;45\n").diagnostics.all[0].message == "no column gives `name`");
  CHECK(read("name;Power (W)\nlamp;45\nTotal;45\n").diagnostics.all[0].place.line == 3);
}

TEST_CASE("a cell beyond the head is never dropped") {
  const auto r = read("name,quantity,power (W)\nlamp,1,0,5\n");
  REQUIRE(r.diagnostics.all.size() == 1);
  CHECK(r.diagnostics.all[0].message == "has 4 cells, the heading row has 3");
  CHECK(r.diagnostics.all[0].place.column == 10);
}

TEST_CASE("a name that is missing is asked for at its empty cell") {
  const auto r = read("power (W);name\n45;lamp\n50;\n");
  REQUIRE(r.diagnostics.all.size() == 1);
  CHECK(r.diagnostics.all[0].message == "is missing");
  CHECK(r.diagnostics.all[0].place.line == 3);
  CHECK(r.diagnostics.all[0].place.column == 4);
}

TEST_CASE("a title above the head is told and left out") {
  const auto r = read("Lamps of the van;\nname;Watts\nlamp;45\n");
  CHECK(r.sheet.head_line == 2);
  CHECK(r.diagnostics.all.size() == 1);
  CHECK(r.value("power") == "45 W");
}

}  // namespace lists_sheet
