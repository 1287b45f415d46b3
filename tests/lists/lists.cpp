// SPDX-License-Identifier: Apache-2.0
// Load lists and parts lists: what their columns mean, that each value meets the design's own field
// list, and that nothing changes on the way to CSV and back.
#include <doctest/doctest.h>

#include <filesystem>

#include "housepower/design/open.hpp"
#include "housepower/lists/lists.hpp"
#include "housepower/reading/write.hpp"
#include "housepower/units/unit.hpp"
#include "support/command.hpp"

namespace lists_lists {

using namespace housepower;
using lists::ListOptions;

namespace {

const std::string here = HOUSEPOWER_SOURCE_DIR "/tests/design/spreadsheet/";

std::optional<std::string> from_disk(std::string_view path) {
  const std::string name(path);
  if (!std::filesystem::is_regular_file(name)) return std::nullopt;
  return test::text_of(name);
}

std::string loads(std::string_view text, const ListOptions& options = {}) {
  Diagnostics diagnostics;
  const auto list = lists::read_loads(text, "a.csv", options, diagnostics);
  return list.document ? toml_of(*list.document) : diagnostics.all.at(0).message;
}
Diagnostics problems_of_parts(std::string_view text, const ListOptions& options = {}) {
  Diagnostics diagnostics;
  CHECK_FALSE(lists::read_parts(text, "a.csv", options, diagnostics).document.has_value());
  return diagnostics;
}

std::vector<std::string> designs() {
  std::vector<std::string> files;
  for (const auto& entry :
       std::filesystem::recursive_directory_iterator(HOUSEPOWER_SOURCE_DIR "/examples"))
    if (entry.path().extension() == ".toml") files.push_back(entry.path().string());
  std::sort(files.begin(), files.end());
  return files;
}

/// The values of a list, as its field list reads them, in SI, to the digits that a sheet keeps: 172 mm
/// and 0.172 m differ in the sixteenth.
std::string values_of(const Node& node, FieldList fields) {
  std::string out;
  const auto* table = std::get_if<Node::Table>(&node.value);
  if (table) {
    for (const Field& f : fields) {
      const auto* entry = node.find(f.key);
      if (!entry || f.role != Field::Role::member) continue;
      const FieldList inner =
          f.shape->form == Shape::Form::table ? f.shape->inner() : FieldList(&f, 1);
      out += std::string(f.key) + "=" + values_of(entry->value, inner) + "\n";
    }
    return out;
  }
  const Shape& shape =
      fields[0].shape->form == Shape::Form::list ? *fields[0].shape->items : *fields[0].shape;
  if (const auto* list = std::get_if<Node::List>(&node.value)) {
    for (const Node& one : *list) out += values_of(one, fields) + ";";
    return out;
  }
  const auto* text = std::get_if<std::string>(&node.value);
  const auto* whole = std::get_if<std::int64_t>(&node.value);
  const auto* real = std::get_if<double>(&node.value);
  const auto* flag = std::get_if<bool>(&node.value);
  if (text && shape.form == Shape::Form::quantity)
    return print_plain(std::get<Number>(parse_quantity(*text, shape.kind)).si, 14);
  return text    ? *text
         : whole ? print_plain(double(*whole), 14)
         : real  ? print_plain(*real, 14)
                 : std::to_string(flag && *flag);
}

}  // namespace

TEST_CASE("the appliances of every example come back from CSV as they were, in either style") {
  const FieldList appliance_fields = [] {
    for (const Field& f : design::document_fields())
      if (f.key == "appliance") return f.shape->items->inner();
    return FieldList{};
  }();
  int designs_with_appliances = 0;
  for (const auto& file : designs()) {
    CAPTURE(file);
    Diagnostics diagnostics;
    const auto node = read_document(file, from_disk, diagnostics);
    REQUIRE(node);
    const auto* before = node->at("appliance");
    if (!before) continue;
    ++designs_with_appliances;
    for (const SheetStyle style :
         {SheetStyle{}, SheetStyle{';', DecimalSign::comma}, SheetStyle{'\t', DecimalSign::comma},
          SheetStyle{',', DecimalSign::comma}}) {
      const auto csv = lists::write_loads(*node, style, diagnostics);
      REQUIRE(csv);
      const auto list = lists::read_loads(*csv, "a.csv", {}, diagnostics);
      CAPTURE(render(diagnostics, [&](auto) { return csv; }));
      REQUIRE(list.document);
      CHECK(diagnostics.all.empty());
      const auto& rows = std::get<Node::List>(list.document->at("appliance")->value);
      const auto& were = std::get<Node::List>(before->value);
      REQUIRE(rows.size() == were.size());
      for (std::size_t i = 0; i < rows.size(); ++i)
        CHECK(values_of(rows[i], appliance_fields) == values_of(were[i], appliance_fields));
    }
  }
  CHECK(designs_with_appliances >= 8);
}

TEST_CASE("a spreadsheet program's files of two locales hold the same appliances") {
  const std::string english = loads(test::text_of(here + "loads-en-US.csv"));
  CHECK(english == loads(test::text_of(here + "loads-de-DE.csv")));
  // From loads.fods, by hand.
  for (const std::string_view line :
       {"name = \"Water pump, \\\"front\\\"\"\npower = \"61.5 W\"\nquantity = 1\nper_day = \"0.3 "
        "h\"",
        "starting = { current = \"11.25 A\", time = \"0.3 s\" }",
        "note = \"two lines\\nin one cell\"",
        "name = \"Kühlbox 12 V\"\npower = \"1234.5 W\"\nquantity = 2\nper_day = \"1.125 h\"\n"
        "duty = \"62.5 %\"\nbetween = [\"20:00-24:00\", \"00:00-06:00\"]",
        "note = \"1 234 is no number here\"", "name = \"=1+1\"\npower = \"0.6 W\""}) {
    CAPTURE(line);
    CHECK(english.find(line) != std::string::npos);
  }
}

TEST_CASE("what a list gives is part of a design that opens") {
  const std::string base = R"(schema = 1
[vehicle]
name = "small"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[bank]
chemistry = "lfp"
quantity = 1
capacity = "100 Ah"
nominal_voltage = "12.8 V"
[[node]]
name = "panel"
[[run]]
name = "bank to panel"
from = "bank"
to = "panel"
length = "2 m"
)";
  const std::string list = loads(
      "Gerät;Leistung (W);Stück;h/Tag;Einschaltdauer (%);Zeitfenster;Versorgung;on;Anlaufstrom "
      "(A);Anlaufzeit (s)\nKühlschrank;45,5;1;;40;;12 "
      "V;panel;9;1\nLampe;4;6;3;;18:00\u201323:00;DC;"
      "panel;;\n");
  const FileReader memory = [&](std::string_view) { return std::optional(base + list); };
  Diagnostics diagnostics;
  const auto tables = tables::read_tables(tables::embedded_tables(), {}, diagnostics);
  REQUIRE(tables);
  const auto opened =
      design::open_design("van.toml", memory, {}, *tables, Defaults::ordinary, diagnostics);
  CAPTURE(render(diagnostics, memory));
  REQUIRE(opened);
  const auto& appliances = opened->design->appliances;
  REQUIRE(appliances.size() == 2);
  CHECK(appliances[0].power == 45.5 * watt);
  CHECK(appliances[1].quantity == 6);
  CHECK(appliances[1].windows.size() == 1);
}

TEST_CASE("a value meets the limits of the design's own field list, at its cell") {
  Diagnostics diagnostics;
  const auto list = lists::read_loads(
      "name,power (W),duty,between\nlamp,-5,140 %,7 to 9\nlamp,5,,\n", "a.csv", {}, diagnostics);
  CHECK_FALSE(list.document);
  diagnostics.sort_by_place();
  REQUIRE(diagnostics.all.size() == 4);
  CHECK(diagnostics.all[0].key == "appliance/lamp/power");
  CHECK(diagnostics.all[0].place == Place{"a.csv", 2, 6, 2});
  CHECK(diagnostics.all[1].message == "must be at least 0 %, at most 100 %, is 140 %");
  CHECK(diagnostics.all[2].message == "\"7 to 9\" is not a time of the day");
  CHECK(diagnostics.all[3].message == "the name \"lamp\" is taken already");
}

TEST_CASE("less than a minute of use a day is asked about, not refused") {
  Diagnostics diagnostics;
  const auto list = lists::read_loads("name,power (W),per day (s)\nlamp,4,3\nfan,5,60\n", "a.csv",
                                      {}, diagnostics);
  CHECK(list.document);
  REQUIRE(diagnostics.all.size() == 1);
  CHECK(diagnostics.all[0].severity == Severity::warning);
  CHECK(diagnostics.all[0].place == Place{"a.csv", 2, 8, 1});
  CHECK(diagnostics.all[0].message == "\"3 s\" a day is less than a minute: are hours meant?");
}

TEST_CASE("a figure that a part needs is asked for by name, at its cell or at the head") {
  const auto cell = problems_of_parts("name,capacity (Ah),voltage (V)\nB1,100,12.8\nB2,,12.8\n",
                                      {{}, {}, design::PartKind::battery});
  REQUIRE(cell.all.size() == 1);
  CHECK(cell.all[0].key == "part/B2/capacity");
  CHECK(cell.all[0].place == Place{"a.csv", 3, 4, 1});
  const auto head = problems_of_parts("is,name,voltage (V)\nbattery,B1,12.8\n");
  REQUIRE(head.all.size() == 1);
  CHECK(head.all[0].message == "no column gives `capacity`, for the kind \"battery\"");
  CHECK(problems_of_parts("name,capacity (Ah),voltage (V)\nB1,100,12.8\n").all[0].message ==
        "no column says what each row is");
}

TEST_CASE(
    "a figure that its kind has not, a price without currency and a gap in a size are refused") {
  CHECK(problems_of_parts("is,name,capacity (Ah),voltage (V),power (W)\nbattery,B,100,12.8,\n"
                          "module,M,100,,200\n")
            .all[0]
            .message == "\"capacity (Ah)\" is not a key that the kind \"module\" has");
  const ListOptions modules{{}, {}, design::PartKind::module};
  CHECK(problems_of_parts("name,power (W),price\nM,200,165\n", modules).all[0].message ==
        "\"165\" has no currency");
  CHECK(problems_of_parts("name,power (W),price\nM,200,$ 165\n", modules).all[0].message ==
        "\"$ 165\" has no currency that is known by its sign");
  CHECK(problems_of_parts("name,power (W),length (mm),width (mm)\nM,200,,990\n", modules)
            .all[0]
            .message == "states its number 2 but not number 1");
}

TEST_CASE("price, size, resistance and peak are read from one column or several") {
  const ListOptions batteries{{}, {}, design::PartKind::battery};
  const auto read = [&](const std::string& heads, const std::string& cells) {
    Diagnostics diagnostics;
    const auto list = lists::read_parts("name\tcapacity (Ah)\tvoltage (V)\t" + heads +
                                            "\nB\t100\t12.8\t" + cells + "\n",
                                        "a.csv", batteries, diagnostics);
    return list.document ? toml_of(*list.document) : diagnostics.all.at(0).message;
  };
  const auto has = [](const std::string& text, std::string_view line) {
    CAPTURE(text);
    CAPTURE(line);
    CHECK(text.find(line) != std::string::npos);
  };
  has(read("Price (EUR)", "420.50"), "price = \"420.50 EUR\"");
  has(read("Price", "€ 420"), "price = \"420 EUR\"");
  has(read("Currency\tPrice", "AUD\t420"), "price = \"420 AUD\"");
  has(read("Size", "330x172\u00D7220 mm"), "size = [\"330 mm\", \"172 mm\", \"220 mm\"]");
  has(read("Height (mm)\tLength (mm)\tWidth (mm)", "220\t330\t172"),
      "size = [\"330 mm\", \"172 mm\", \"220 mm\"]");
  has(read("Resistance low (mOhm)\tResistance high", "2\t5 mohm"),
      "resistance = { low = \"2 mΩ\", high = \"5 mohm\" }");
  has(read("Peak current\tPeak time (s)", "200 A\t3"),
      "peak = { current = \"200 A\", time = \"3 s\" }");
}

TEST_CASE("a parts list of all kinds comes back from CSV as it was") {
  const std::string file = HOUSEPOWER_SOURCE_DIR "/examples/parts-fennimarl.csv";
  Diagnostics diagnostics;
  const auto list = lists::read_parts(test::text_of(file), file, {}, diagnostics);
  REQUIRE(list.document);
  CHECK(std::get<Node::List>(list.document->at("part")->value).size() == 5);
  CHECK(design::catalogue_of(*list.document, diagnostics).has_value());
  const auto csv = lists::write_parts(*list.document, {';', DecimalSign::comma}, diagnostics);
  REQUIRE(csv);
  const auto again = lists::read_parts(*csv, "b.csv", {}, diagnostics);
  REQUIRE(again.document);
  CHECK(lists::write_parts(*again.document, {';', DecimalSign::comma}, diagnostics) == csv);
  CHECK(diagnostics.all.empty());
}

TEST_CASE("conductors and devices in stock come from a sheet, each with its price") {
  Diagnostics diagnostics;
  const auto list = lists::read_parts("is,name,size,type,ratings,price,in_stock\n"
                                      "conductor,drum,6 mm2,,,2.40 EUR,true\n"
                                      "device,cubes,,terminal-cube,100 A,14 EUR,true\n",
                                      "a.csv", {}, diagnostics);
  for (const auto& p : diagnostics.all) MESSAGE(p.key << ": " << p.message);
  REQUIRE(list.document);
  const std::string text = toml_of(*list.document);
  CAPTURE(text);
  CHECK(text.find("size = \"6 mm2\"") != std::string::npos);
  CHECK(text.find("type = \"terminal-cube\"") != std::string::npos);
  CHECK(text.find("in_stock = true") != std::string::npos);
}

}  // namespace lists_lists
