// SPDX-License-Identifier: Apache-2.0
// Tables of one's own: they replace and add, and what is wrong in them is named by its place.
#include <filesystem>
#include <fstream>
#include <sstream>

#include "shipped.hpp"

namespace housepower::tables::tables_reading {
namespace {
using test::shipped;
using test::with;

const std::string passport = R"(name = "own"
title = "a table of one's own"
kind = "supplier"
source = "a maker's sheet"
where = "page 2"
sizes = "mm2"
base_ambient = "30 °C"
ambient = "square-root"
grouping = "iec-60364-5-52-b52-17/bunched"
)";  // nine lines

Diagnostic only_problem(const std::string& rows) {
  Diagnostics problems;
  const std::string text = passport + rows;
  CHECK_FALSE(with({"ampacity/own.toml", text}, problems).has_value());
  CAPTURE(problems.all.size());
  REQUIRE(problems.all.size() == 1);
  CHECK(problems.all[0].place.file == "ampacity/own.toml");
  return problems.all[0];
}

TEST_CASE("what is built in is what stands in the folder") {
  const std::filesystem::path folder = std::filesystem::path(HOUSEPOWER_SOURCE_DIR) / "tables";
  std::size_t count = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
    if (!entry.is_regular_file()) continue;
    ++count;
    const std::string name = std::filesystem::relative(entry.path(), folder).generic_string();
    CAPTURE(name);
    std::ostringstream on_disk;
    on_disk << std::ifstream(entry.path(), std::ios::binary).rdbuf();
    bool found = false;
    for (const auto& text : embedded_tables())
      if (text.name == name) {
        found = true;
        CHECK(text.text == on_disk.str());
      }
    CHECK(found);
  }
  CHECK(count == embedded_tables().size());
}

TEST_CASE("a table of one's own is added, each cell with the source of its mark") {
  Diagnostics problems;
  const std::string text = passport + R"(rows = """
size, 70 [A], 90 [A] {c}, mark
4,    30,     40
6,    38 {m}, -
10,   50,     70,         r
"""
[marks.m]
kind = "from memory"
[marks.c]
where = "page 3"
[marks.r]
note = "rounded"
)";
  const auto tables = with({"ampacity/own.toml", text}, problems);
  REQUIRE(tables.has_value());
  const auto* own = tables->ampacity("own");
  REQUIRE(own);
  REQUIRE(own->rows.size() == 3);
  CHECK(*own->rows[0].columns[0] == 30.0 * ampere);
  CHECK(own->rows[0].sources[0] == Source{SourceKind::supplier, "a maker's sheet", "page 2"});
  CHECK(own->rows[0].sources[1] == Source{SourceKind::supplier, "a maker's sheet", "page 3"});
  CHECK(own->rows[1].sources[0] == Source{SourceKind::from_memory, "a maker's sheet", "page 2"});
  CHECK_FALSE(own->rows[1].columns[1].has_value());
  CHECK(own->rows[2].sources[1].where == "page 2");  // the row's mark before the column's
  CHECK(tables->ampacity("nec-310-16") != nullptr);
}

TEST_CASE("a text of the same name replaces what is built in") {
  Diagnostics problems;
  const auto tables = with({"cells/hysteresis.toml", R"(name = "hysteresis"
title = "none"
kind = "supplier"
source = "a maker's word"
rows = """
charge [%], gap [V]
0,          0.01
100,        0.02
"""
)"},
                           problems);
  REQUIRE(tables.has_value());
  CHECK(tables->cells.hysteresis.at(0.5) == doctest::Approx(0.015));
  CHECK(tables->cells.hysteresis.source.kind == SourceKind::supplier);
}

TEST_CASE("a broken cell is named by line and column") {
  // rows = """ is line 10, the heads 11, the first row 12.
  const auto cell = only_problem("rows = \"\"\"\nsize, 70 [A]\n4,    30\n6,    3O\n\"\"\"\n");
  CHECK(cell.place.line == 13);
  CHECK(cell.place.column == 7);
  CHECK(cell.place.width == 2);
  CHECK(cell.message.find("3O") != std::string::npos);

  for (const std::string extreme : {"1e-308", "1e300"}) {
    const auto far =
        only_problem("rows = \"\"\"\nsize, 70 [A]\n4,    30\n6,    " + extreme + "\n\"\"\"\n");
    CHECK(far.place.line == 13);
    CHECK(far.place.column == 7);
    CHECK(far.message.find(extreme + " is too ") != std::string::npos);
  }

  const auto size = only_problem("rows = \"\"\"\nsize, 70 [A]\nbig,  30\n\"\"\"\n");
  CHECK(size.place.line == 12);
  CHECK(size.place.column == 1);

  const auto many = only_problem("rows = \"\"\"\n\nsize, 70 [A]\n4, 30, 40\n\"\"\"\n");
  CHECK(many.place.line == 13);
  CHECK(many.place.column == 8);

  const auto unit = only_problem("rows = \"\"\"\nsize, 70 [V]\n4, 30\n\"\"\"\n");
  CHECK(unit.place.line == 11);
  CHECK(unit.place.column == 7);
  CHECK(unit.message.find("current") != std::string::npos);

  const auto mark = only_problem("rows = \"\"\"\nsize, 70 [A]\n4, 30 {x}\n\"\"\"\n");
  CHECK(mark.place.line == 12);
  CHECK(mark.place.column == 8);
  CHECK(mark.hint.find("[marks.x]") != std::string::npos);
}

TEST_CASE("a passport after a block keeps its lines") {
  const auto key =
      only_problem("rows = \"\"\"\nsize, 70 [A]\n4, 30\n\"\"\"\nsuorce = \"a sheet\"\n");
  CHECK(key.place.line == 14);
  CHECK(key.hint.find("source") != std::string::npos);
}

TEST_CASE("what a passport refers to must be there") {
  Diagnostics problems;
  std::string text = passport + "rows = \"\"\"\nsize, 70 [A]\n4, 30\n\"\"\"\n";
  text.replace(text.find("square-root"), 11, "square-rood");
  CHECK_FALSE(with({"ampacity/own.toml", text}, problems).has_value());
  REQUIRE(problems.all.size() == 1);
  CHECK(problems.all[0].place.line == 8);
  CHECK(problems.all[0].key == "ambient");
}

TEST_CASE("a table of ampacities that does not say how its cables lie is taken as of free ones") {
  const std::string rows = "rows = \"\"\"\nsize, 70 [A]\n4, 30\n\"\"\"\n";
  Diagnostics problems;
  const auto tables = with({"ampacity/own.toml", passport + rows}, problems);
  REQUIRE(tables.has_value());
  CHECK(tables->ampacity("own")->lies == "free");
  const auto wrong = only_problem("lies = \"in the sun\"\n" + rows);
  CHECK(wrong.place.line == 10);
  CHECK(wrong.key == "lies");
}

TEST_CASE("a file without a passport, a block or a known folder is refused") {
  for (const NamedText own :
       {NamedText{"ampacity/x.toml", "rows = 3"}, NamedText{"climate/x.toml", passport},
        NamedText{"amps/x.toml", passport}, NamedText{"rules/x.toml", passport},
        NamedText{"factors/x.toml", passport}, NamedText{"ampacity/x.toml", "name = \""}}) {
    Diagnostics problems;
    std::vector<NamedText> texts(embedded_tables().begin(), embedded_tables().end());
    texts.push_back(own);
    CAPTURE(own.name);
    CHECK_FALSE(read_tables(texts, {}, problems).has_value());
    CHECK(problems.any_error());
  }
}

TEST_CASE("a design's profile brings the ampacity tables that it names, and no others") {
  Diagnostics problems;
  const auto few = read_tables(
      embedded_tables(), {.towns = false, .profile = "small-craft-abyc", .ampacity = "nec-310-16"},
      problems);
  REQUIRE(few.has_value());
  CHECK(few->profiles.size() == 1);
  CHECK(few->ampacities.size() == 2);
  CHECK(few->ampacity("nec-310-16") != nullptr);
  CHECK(few->towns.empty());
  for (const auto& view : few->views) CHECK(view.columns.back().key == "colour");  // these alone

  // A name that is not there: all are read, so that the message can list them.
  const auto all =
      read_tables(embedded_tables(), {.towns = false, .profile = "small-craft-abyk"}, problems);
  REQUIRE(all.has_value());
  CHECK(all->profiles.size() == 4);
  CHECK(all->ampacities.size() == shipped().ampacities.size());
}

TEST_CASE("tables outlive the texts they were read from, and their copies outlive them") {
  std::optional<Tables> copy;
  {
    std::vector<std::string> texts;
    for (const auto& text : embedded_tables()) texts.emplace_back(text.text);
    std::vector<NamedText> named;
    for (std::size_t i = 0; i < texts.size(); ++i)
      named.push_back({embedded_tables()[i].name, texts[i]});
    Diagnostics problems;
    const auto original = read_tables(named, {}, problems);
    REQUIRE(original.has_value());
    copy = *original;
    for (auto& text : texts) text.assign(text.size(), 'x');
  }
  CHECK(copy->ampacity("nec-310-16")->source.title == "NEC table 310.16, copper, 2011 and later");
  CHECK(series_named(*copy, "metric").front().series == "iec-60228-5");
}

TEST_CASE("between the points of a curve runs a straight line, beyond them it stays") {
  const Curve curve{{0.0, 0.5, 1.0}, {3.0, 3.2, 3.4}, {}};
  CHECK(curve.at(-1.0) == doctest::Approx(3.0));
  CHECK(curve.at(0.25) == doctest::Approx(3.1));  // half way from 3.0 to 3.2
  CHECK(curve.at(0.5) == doctest::Approx(3.2));
  CHECK(curve.at(2.0) == doctest::Approx(3.4));
}

}  // namespace
}  // namespace housepower::tables::tables_reading
