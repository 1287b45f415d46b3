// SPDX-License-Identifier: Apache-2.0
// Cable schedules: a works' own list becomes runs of a design that opens, and runs come back from CSV
// as they were.
#include <doctest/doctest.h>

#include <filesystem>

#include "housepower/design/open.hpp"
#include "housepower/lists/lists.hpp"
#include "housepower/lists/workbook.hpp"
#include "housepower/reading/write.hpp"
#include "support/command.hpp"

namespace lists_runs {

using namespace housepower;
using lists::ListOptions;

namespace {

std::optional<std::string> file_on_disk(std::string_view path) {
  const std::string name(path);
  if (!std::filesystem::is_regular_file(name)) return std::nullopt;
  return test::text_of(name);
}

ListOptions with_device(const std::string& type) {
  ListOptions options;
  options.device = type;
  return options;
}
std::string runs(std::string_view text, const ListOptions& options = {}) {
  Diagnostics diagnostics;
  const auto list = lists::read_runs(text, "a.csv", options, diagnostics);
  for (const auto& d : diagnostics.all)
    if (d.severity == Severity::error) return d.message;
  return toml_of(*list.document);
}
/// One run of these columns besides its name and ends.
std::string run(const std::string& heads, const std::string& cells,
                const ListOptions& options = with_device("iso-8820-3-c")) {
  return runs("name\tfrom\tto\tlength (m)\t" + heads + "\nr\tbank\tpanel\t2\t" + cells + "\n",
              options);
}
void has(const std::string& text, std::string_view line) {
  CAPTURE(text);
  CAPTURE(line);
  CHECK(text.find(line) != std::string::npos);
}

}  // namespace

TEST_CASE("sizes are read as a schedule writes them, and never without what they count") {
  has(run("Size (mm²)", "2.5"), "conductor = \"2.5 mm2\"");
  has(run("Querschnitt [mm2]", "2,5"), "conductor = \"2.5 mm2\"");
  has(run("Size", "16mm²"), "conductor = \"16 mm2\"");
  has(run("AWG", "2/0"), "conductor = \"2/0 awg\"");
  has(run("Wire size", "AWG 10"), "conductor = \"10 awg\"");
  has(run("conductor", "35 mm2 class 2"), "conductor = \"35 mm2 class 2\"");
  CHECK(run("conductor", "6 mm") ==
        "\"6 mm\" alone may be an outside diameter or an area");  // as `check` says of it
  CHECK(run("Size", "16") == "\"16\" does not say what it counts, and neither does its heading");
  has(run("Size (mm²)", "2 x 2.5"), "can be a cable of several cores or several conductors");
}

TEST_CASE("a device is read from one column or two, before or after its rating") {
  for (const auto& one : {std::pair{"Fuse", "class T 60 A"}, std::pair{"Device", "60A class T"},
                          std::pair{"Sicherung\tFuse rating (A)", "class T\t60"}}) {
    CAPTURE(one.first);
    const std::string text = run(one.first, one.second);
    has(text, "type = \"class T\"");
    has(text, "rating = \"60 A\"");
  }
  const std::string alone = run("Fuse (A)", "15");
  has(alone, "type = \"iso-8820-3-c\"");
  has(alone, "rating = \"15 A\"");
  CHECK(run("Fuse (A)", "15", {}) == "is missing");  // its type
  has(run("Fuse\tFuse rating (A)", "class T 60 A\t60"), "is stated by two columns");
  const std::string two =
      run("Fuse\tDevice end\tDevice distance (cm)\tprotection 2 type\t"
          "protection 2 rating (A)\tprotection 2 end\tprotection 2 distance (m)",
          "class T 60 A\tfrom\t15\tmini\t10\tto\t0.1");
  has(two, "distance = \"15 cm\"");
  has(two, "end = \"to\"");
}

TEST_CASE("an end and a distance that no column gives are written, told, and held open") {
  Diagnostics diagnostics;
  const auto list = lists::read_runs("name,from,to,length (m),Fuse\na,bank,p,2,class T 60 A\n"
                                     "b,p,Fridge,2,mini 10 A\n",
                                     "a.csv", {}, diagnostics);
  REQUIRE(list.document);
  REQUIRE(diagnostics.all.size() == 2);  // once for all rows
  for (const auto& d : diagnostics.all) {
    CHECK(d.severity == Severity::warning);
    CHECK(d.place.line == 2);
  }
  const std::string text = toml_of(*list.document);
  has(text, "assumed = [\"distance\"]");
  CHECK(list.meeting == std::vector<std::string>{"p"});
}

TEST_CASE("a schedule of ends, length, size and device is enough: runs are called by their ends") {
  Diagnostics diagnostics;
  const auto list = lists::read_runs("From;To;Length (m);Size (mm²);Device\n"
                                     "bank;panel;2;16;class T 60 A\npanel;Lights;4;2,5;mini 5 A\n"
                                     "panel;Lights;6;2,5;mini 5 A\n",
                                     "a.csv", {}, diagnostics);
  REQUIRE(list.document);
  const std::string text = toml_of(*list.document);
  has(text, "[[run]]\nname = \"bank to panel\"\nfrom = \"bank\"\n");
  has(text, "name = \"panel to Lights\"\n");
  has(text, "name = \"panel to Lights 2\"\n");
  has(text, "protection = [{ type = \"mini\", rating = \"5 A\", ");
  CHECK(runs("To;Length (m);Size (mm²)\npanel;2;16\n") == "no column gives `from`");
}

TEST_CASE("two runs of one name, and what the design would refuse, are told at their cells") {
  Diagnostics diagnostics;
  const auto list = lists::read_runs("name,from,to,length (m),laid\na,bank,p,2,loose\na,p,x,-1,\n",
                                     "a.csv", {}, diagnostics);
  CHECK_FALSE(list.document);
  diagnostics.sort_by_place();
  REQUIRE(diagnostics.all.size() == 3);
  CHECK(diagnostics.all[0].place == Place{"a.csv", 2, 12, 5});
  CHECK(diagnostics.all[1].message == "the name \"a\" is taken already");
  CHECK(diagnostics.all[2].place == Place{"a.csv", 3, 7, 2});
}

std::string in_small_letters(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = char(c - 'A' + 'a');
  return text;
}

TEST_CASE("the runs of every example come back from CSV as they were, in either style") {
  std::vector<std::string> files;
  for (const std::string folder : {"/examples", "/tests/hazards/sound"})
    for (const auto& entry : std::filesystem::directory_iterator(HOUSEPOWER_SOURCE_DIR + folder))
      if (entry.path().extension() == ".toml" && entry.path().filename() != "parts.toml")
        files.push_back(entry.path().string());
  int with_a_plug = 0;
  for (const std::string& file : files) {
    CAPTURE(file);
    Diagnostics diagnostics;
    const auto node = read_document(file, file_on_disk, diagnostics);
    REQUIRE(node);
    const auto digest_of = [&](const Node& with) {
      design::Document document;
      Reading reading{diagnostics, ""};
      CHECK(read_table(with, design::document_fields(), &document, reading));
      std::string all;
      for (const auto& r : document.run) {
        all += r.name + r.from + r.to + r.label.value_or("") +
               in_small_letters(r.conductor.value_or("")) + print_plain(r.length.value(), 12) +
               std::to_string(r.inline_items.size()) + std::to_string(r.sections.size()) +
               std::to_string(r.joints.value_or(-1));
        for (const auto& item : r.inline_items) {
          all += item.connector.value_or("");
          for (const auto& cavities : {item.outgoing, item.return_})
            for (const int cavity : cavities) all += " " + std::to_string(cavity);
          with_a_plug += item.connector.has_value();
        }
        for (const auto& d : r.protection)
          all += d.type + print_plain(d.rating.value(), 12) +
                 print_plain(d.distance.value_or(Length{}).value(), 12) +
                 std::to_string(int(d.end)) + std::to_string(d.enclosed.value_or(false));
        all += "\n";
      }
      return all;
    };
    for (const SheetStyle style : {SheetStyle{}, SheetStyle{';', DecimalSign::comma}}) {
      const auto csv = lists::write_runs(*node, style, diagnostics);
      REQUIRE(csv);
      const auto list = lists::read_runs(*csv, "a.csv", {}, diagnostics);
      CAPTURE(render(diagnostics, [&](auto) { return csv; }));
      REQUIRE(list.document);
      CHECK(diagnostics.all.empty());
      Node other = *node;
      other.find("run")->value = list.document->find("run")->value;
      CHECK(digest_of(other) == digest_of(*node));
    }
  }
  CHECK(files.size() >= 10);
  CHECK(with_a_plug > 0);
}

TEST_CASE("what no column can hold is told where a design is written as a schedule") {
  Diagnostics diagnostics;
  const auto node =
      parse_toml("[[run]]\nname = \"a\"\nfrom = \"bank\"\nto = \"p\"\nlength = \"1 m\"\n"
                 "protection = [{ end = \"from\", type = \"x\", rating = \"5 A\", "
                 "distance = \"0 m\", curve = [[2.0, \"1 s\"]] }]\n",
                 "a.toml", diagnostics);
  REQUIRE(node);
  CHECK(lists::write_runs(*node, {}, diagnostics).has_value());
  REQUIRE(diagnostics.all.size() == 1);
  CHECK(diagnostics.all[0].key == "run/a/protection/0/curve");
}

TEST_CASE("a works' own workbook and a load list become a design that opens") {
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
kind = "panel"
[[device]]
name = "class T"
breaking_capacity = "20 kA"
rated_voltage = "125 V"
[[appliance]]
name = "fridge"
power = "45 W"
per_day = "24 h"
on = "panel"
)";
  const std::string bytes =
      test::text_of(HOUSEPOWER_SOURCE_DIR "/tests/lists/workbooks/schedule.xlsx");
  Diagnostics diagnostics;
  const auto cells = read_workbook(bytes, "schedule.xlsx", {}, diagnostics);
  REQUIRE(cells);
  const auto list = lists::read_runs(*cells, with_device("iso-8820-3-c"), diagnostics);
  REQUIRE(list.document);
  std::string text = base + toml_of(*list.document);
  text.replace(text.find("on = \"panel\"\n"), 13, "");  // its own run leads to it
  const FileReader memory = [&](std::string_view) { return std::optional(text); };
  const auto tables = tables::read_tables(tables::embedded_tables(), {}, diagnostics);
  REQUIRE(tables);
  const auto opened =
      design::open_design("van.toml", memory, {}, *tables, Defaults::ordinary, diagnostics);
  CAPTURE(render(diagnostics, memory));
  REQUIRE(opened);
  REQUIRE(opened->design->runs.size() == 2);
  CHECK(opened->design->runs[1].length == 3.1 * metre);
  CHECK(opened->design->runs[1].conductor->name == "2.5 mm2");
  CHECK(opened->design->runs[1].protection[0].rating == 15.0 * ampere);
}

}  // namespace lists_runs
