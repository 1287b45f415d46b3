// SPDX-License-Identifier: Apache-2.0
// Provenance as a user sees it: what was not read is labelled so wherever it is printed, and the
// page of sources names a test for each source.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "checks/examples.hpp"
#include "housepower/report/results.hpp"
#include "shipped.hpp"

namespace housepower::test::published_provenance {
namespace {

/// Values that no one read. Each must say "from memory" in the printed table.
struct Remembered {
  std::string_view table, row_begins, column;  // every row, or every column, where empty
};
const std::vector<Remembered> remembered = {
    {"iso-10133-a", "", ""},     // ISO 10133:2012 annex A
    {"iso-6722", "", ""},        // ISO 6722-1, ISO 19642
    {"en-50618-air", "70", ""},  // EN 50618, rows from 70 mm²
    {"en-50618-air", "240", ""},
    {"en-50618-surface", "4", ""},  // its other columns, all but 6 mm²
    {"en-50618-surface", "35", ""},
    {"en-50618-touching", "4", ""},
    {"en-50618-touching", "35", ""},
    {"capacity-by-temperature", "10", "capacity"},  // between makers' figures
    {"b&s", "3", "area"},                           // what the trade fills in
    {"b&s", "2", "area"},
    {"b&s", "0", "area"},
    {"b&s", "00", "area"},
};

/// A `Source` as it stands in the code.
struct Written {
  std::string kind, title, where, file;
};

/// The code without its comments; what stands in quotes stays.
std::string without_comments(const std::string& code) {
  std::string out;
  bool quoted = false;
  for (std::size_t i = 0; i < code.size(); ++i) {
    if (code[i] == '\\' && quoted) out += code[i++];
    else if (code[i] == '"') quoted = !quoted;
    else if (!quoted && code.compare(i, 2, "//") == 0)
      i = std::min(code.find('\n', i), code.size());
    if (i < code.size()) out += code[i];
  }
  return out;
}

/// Takes blanks, and one of `sign` where it stands there.
bool take(std::string_view& rest, char sign) {
  while (!rest.empty() && std::string_view(" \n").find(rest.front()) != std::string_view::npos)
    rest.remove_prefix(1);
  if (!rest.starts_with(sign)) return false;
  rest.remove_prefix(1);
  return true;
}

/// A literal and those that follow it, as the compiler joins them.
std::string take_literals(std::string_view& rest) {
  std::string text;
  while (take(rest, '"')) {
    for (; !rest.starts_with('"'); rest.remove_prefix(1)) {
      if (rest.starts_with('\\')) rest.remove_prefix(1);
      text += rest.front();
    }
    rest.remove_prefix(1);
  }
  return text;
}

/// Every source that is written out in the code of library and program.
const std::vector<Written>& written_sources() {
  static const std::vector<Written> all = [] {
    std::vector<Written> found;
    const std::string root = HOUSEPOWER_SOURCE_DIR;
    for (const std::string folder : {"/src", "/include"})
      for (const auto& entry : std::filesystem::recursive_directory_iterator(root + folder)) {
        const auto ending = entry.path().extension();
        if (ending != ".cpp" && ending != ".hpp") continue;
        std::ifstream file(entry.path());
        const std::string raw{std::istreambuf_iterator<char>(file), {}};
        const std::string code = without_comments(raw);
        constexpr std::string_view mark = "SourceKind::";
        for (auto at = code.find(mark); at != code.npos; at = code.find(mark, at + 1)) {
          std::string_view rest = std::string_view(code).substr(at + mark.size());
          const std::string kind(
              rest.substr(0, rest.find_first_not_of("abcdefghijklmnopqrstuvwxyz_")));
          rest.remove_prefix(kind.size());
          if (!take(rest, ',')) continue;  // a kind, no source
          Written one{kind, take_literals(rest), "", entry.path().string().substr(root.size() + 1)};
          if (take(rest, ',')) one.where = take_literals(rest);
          if (!one.title.empty()) found.push_back(one);
        }
      }
    return found;
  }();
  return all;
}

TEST_CASE("a remembered value says so where its table is printed") {
  for (const Remembered& item : remembered) {
    CAPTURE(item.table);
    CAPTURE(item.row_begins);
    const tables::View& table = view(item.table);
    std::size_t checked = 0;
    for (const auto& row : table.rows) {
      if (!item.row_begins.empty() && row.front().text != item.row_begins) continue;
      for (std::size_t i = 1; i < row.size(); ++i) {
        if (!item.column.empty() && table.columns[i].key != item.column) continue;
        if (!row[i].value) continue;
        ++checked;
        CHECK(word_of(row[i].source.kind) == from_memory);
      }
    }
    CHECK(checked > 0);
  }
}

TEST_CASE("every printed cell names a source") {
  for (const tables::View& table : shipped().views) {
    CAPTURE(table.name);
    CHECK_FALSE(table.title.empty());
    CHECK_FALSE(table.source.title.empty());
    for (const auto& row : table.rows)
      for (const auto& cell : row)
        if (cell.source.title.empty()) FAIL_CHECK(cell.text << " names none");
  }
}

std::string text_of(const std::string& path) {
  std::ifstream file(std::string(HOUSEPOWER_SOURCE_DIR) + "/" + path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

TEST_CASE("each source on the page of sources stands in the test that the page names") {
  std::istringstream page(text_of("docs/SOURCES.md"));
  std::string line;
  std::size_t sources = 0;
  while (std::getline(page, line)) {
    const auto file_begins = line.find("| `");
    if (!line.starts_with("| ") || file_begins == std::string::npos) continue;
    const std::string source = line.substr(2, line.find(" |") - 2);
    const std::string file = line.substr(file_begins + 3, line.rfind('`') - file_begins - 3);
    CAPTURE(source);
    CAPTURE(file);
    ++sources;
    CHECK(text_of("tests/published/" + file).find(source) != std::string::npos);
  }
  CHECK(sources > 40);
}

/// The lines of the page on what the code calls published: by source, what was read.
std::map<std::string, std::string> read_for_the_code() {
  std::istringstream page(text_of("docs/SOURCES.md"));
  std::map<std::string, std::string> lines;
  bool here = false;
  for (std::string line; std::getline(page, line);) {
    if (line.starts_with("## ")) here = line == "## What the code itself calls published";
    if (!here || !line.starts_with("| ") || line.starts_with("| source |")) continue;
    const auto first = line.find(" | "), last = line.rfind(" | ");
    REQUIRE_MESSAGE(last > first, line);
    lines[line.substr(2, first - 2)] = line.substr(last + 3, line.size() - last - 5);
  }
  return lines;
}

TEST_CASE("every source that the code calls published says on the page what of it was read") {
  const auto lines = read_for_the_code();
  std::set<std::string> used;
  std::size_t published = 0;
  for (const Written& s : written_sources()) {
    if (s.kind != "published") continue;
    CAPTURE(s.file);
    CAPTURE(s.title);
    ++published;
    const auto line = lines.find(s.title);
    CHECK_MESSAGE(line != lines.end(), "no line on docs/SOURCES.md");
    if (line != lines.end()) CHECK(line->second.size() > 8);
    used.insert(s.title);
    // What is partly remembered is not published.
    CHECK(s.where.find("from memory") == std::string::npos);
    CHECK(s.title.find("from memory") == std::string::npos);
  }
  for (const auto& line : lines) CHECK_MESSAGE(used.count(line.first) == 1, line.first);
  CHECK(published > 60);
  CHECK(written_sources().size() > 180);
}

TEST_CASE("a standard or report that was read in a copy says so beside its name") {
  const auto begins_a_standard = [](const std::string& title) {
    for (const std::string_view of : {"IEC ", "ISO ", "EN ", "BS ", "AS/NZS", "ABYC", "NEC ", "HD ",
                                      "DIN ", "VDE", "UL ", "SAE ", "FAO", "NREL", "ASTM"})
      if (title.starts_with(of)) return true;
    return false;
  };
  std::size_t standards = 0;
  for (const Written& s : written_sources()) {
    if (s.kind != "published" || !begins_a_standard(s.title)) continue;
    ++standards;
    const std::string all = s.title + ", " + s.where;
    bool says = false;
    for (const std::string_view how :
         {"as quoted", "as transcribed", "as summarised", "as read in"})
      says = says || all.find(how) != all.npos;
    CHECK_MESSAGE(says, s.file << ": " << all);
  }
  CHECK(standards > 10);
}

TEST_CASE("what nobody read is not called published by formula or rule") {
  // The numbers of these equations and clauses stand in no text that was read.
  struct Row {
    std::string_view name, word;
  };
  for (const Row& row : {Row{"ampacity", "common practice"}, Row{"ambient-factor", from_memory},
                         Row{"extraterrestrial-fao", from_memory}, Row{"daylight-fao", from_memory},
                         Row{"irradiation-from-sunshine", from_memory}}) {
    CAPTURE(row.name);
    const auto all = answers::all_formulas();
    const auto found = std::find_if(all.begin(), all.end(),
                                    [&](const FormulaEntry& f) { return f.name == row.name; });
    REQUIRE(found != all.end());
    CHECK(word_of(found->about.source.kind) == row.word);
  }
  for (const std::string_view size : {"18 sae", "2 sae", "4/0 sae tinned"})
    CHECK(word_of(conductor(std::string(size)).source.kind) == from_memory);
}

TEST_CASE("formulas, rules and each step of the examples' findings name what they rest on") {
  const auto lines = read_for_the_code();
  std::set<std::string> of_tables;
  const auto take_table = [&](const Source& s) { of_tables.insert(std::string(s.title)); };
  for (const tables::View& table : shipped().views) {
    take_table(table.source);
    for (const auto& row : table.rows)
      for (const auto& cell : row) take_table(cell.source);
  }
  std::set<std::string> met;
  const auto check = [&](const Source& s, const std::string& of) {
    if (s.where == "the table's own lie") return;  // the step beside it names the table
    if (s.kind != SourceKind::published || !met.insert(std::string(s.title)).second) return;
    const std::string title(s.title);
    CHECK_MESSAGE(lines.count(title) + of_tables.count(title) > 0,
                  of << " names \"" << title << "\"");
  };
  for (const auto& f : answers::all_formulas()) check(f.about.source, std::string(f.name));
  for (const auto* rule : checks::rules()) check(rule->source, std::string(rule->name));
  for (const std::string& file : examples::all())
    if (file.find("/packs/") == file.npos && file.find("/sizing/") == file.npos)
      for (const auto& f : examples::checked(file).findings) {
        check(f.source, file + ": " + std::string(f.rule));
        for (const Step& s : f.working)
          check(s.formula.source,
                file + ": " + std::string(f.rule) + ": " + std::string(s.formula.symbol));
      }
  CHECK(met.size() > 30);
}

}  // namespace
}  // namespace housepower::test::published_provenance
