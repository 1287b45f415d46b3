// SPDX-License-Identifier: Apache-2.0
// A design full of names that a spreadsheet could take for something else, and its schedules: those
// read back from the spreadsheet have to equal those of our CSV, cell by cell.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>

#include "housepower/reading/csv.hpp"
#include "housepower/units/unit.hpp"
#include "support/command.hpp"

namespace housepower::test {

/// An empty folder, gone with the test.
struct Folder {
  std::string path;
  Folder() {
    char name[] = "/tmp/housepower-schedule-XXXXXX";
    path = mkdtemp(name);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { std::filesystem::remove_all(path); }
};

/// As TOML writes them.
inline std::vector<std::string> hostile_names() {
  return {"=cmd|' -C calc'!A0",
          "+1+1",
          "-1",
          "@SUM(A1)",
          R"(\ttab)",
          R"(a \"quoted\" 'name')",
          R"(two\nlines)",
          R"(bell\u0007, \u0001 and \uFFFE)",
          "<b>&amp;<br>&",
          R"(\u202Eturned\u202C)",
          R"(\u05D0\u200F\u05D1)",
          "_x0041_",
          "www.example.invalid?b#c",
          "mailto:a@example.invalid",
          "internal:Cables!A1",
          "a;b,c",
          "1e5",
          "1-2",
          "2026-01-02",
          "TRUE",
          "&A&P"};
}

/// Written into the folder: the small example with an appliance and a run of each of these names.
inline std::string hostile_design(const Folder& folder) {
  std::string text = text_of(HOUSEPOWER_SOURCE_DIR "/examples/faulty/base.toml");
  const auto name = text.find("Lanternhouse 4");
  REQUIRE(name != std::string::npos);
  text.replace(name, 14, "=1+2&\\nhttps://example.invalid/ " + std::string(150, 'y'));
  auto names = hostile_names();
  names.push_back(std::string(200, 'x'));
  for (const auto& one : names) {
    text += "\n[[appliance]]\nname = \"" + one + "\"\npower = \"2 W\"\nper_day = \"1 h\"\n";
    text += "[[run]]\nname = \"" + one + "\"\nfrom = \"panel\"\nto = \"" + one +
            "\"\nlength = \"1 m\"\nconductor = \"2.5 mm2\"\nprotection = [{ end = \"from\", type = "
            "\"panel fuse\", rating = \"10 A\", distance = \"0.05 m\" }]\n";
  }
  const std::string file = folder.path + "/hostile.toml";
  std::ofstream(file, std::ios::binary) << text;
  return file;
}

struct SheetName {
  const char *title, *option;
};
inline constexpr SheetName sheets[] = {{"Cable schedule", "cables"},
                                       {"Device schedule", "devices"},
                                       {"Labels", "labels"},
                                       {"Findings", "findings"},
                                       {"Sources", "sources"}};

inline Csv csv_of(const std::string& text, const std::string& name) {
  Diagnostics diagnostics;
  auto read = parse_csv(text, name, ',', diagnostics);
  REQUIRE(read.has_value());
  return *std::move(read);
}

/// A number as a spreadsheet program writes it into CSV: a share in per cent.
inline std::optional<double> number_in(std::string_view text) {
  if (!text.ends_with('%')) return parse_double(text);
  const auto percent = parse_double(text.substr(0, text.size() - 1));
  return percent ? std::optional(*percent / 100.0) : std::nullopt;
}

/// Numbers to 13 digits; spreadsheets keep 15. `back`: as it came back, `ours`: our CSV.
inline void same_cells(const std::string& back, const std::string& ours, const std::string& name) {
  const Csv one = csv_of(back, name), two = csv_of(ours, name);
  CAPTURE(name);
  REQUIRE(two.rows.size() > 1);
  REQUIRE(one.rows.size() == two.rows.size());
  REQUIRE(one.rows[0].size() == two.rows[0].size());  // heads in words there, keys here
  for (std::size_t r = 1; r < two.rows.size(); ++r) {
    REQUIRE(one.rows[r].size() == two.rows[r].size());
    for (std::size_t c = 0; c < two.rows[r].size(); ++c) {
      const std::string &there = one.rows[r][c].text, &here = two.rows[r][c].text;
      const auto number = parse_double(here), came = number_in(there);
      if (number && came && std::abs(*number - *came) <= 1e-13 * std::abs(*number) + 1e-20)
        continue;
      CAPTURE(two.rows[0][c].text);
      std::string expected(without_guard(here));  // U+FFFE is no character of XML
      for (std::size_t at; (at = expected.find("\xEF\xBF\xBE")) != std::string::npos;)
        expected.replace(at, 3, "\xEF\xBF\xBD");
      CHECK(there == expected);
    }
  }
}

}  // namespace housepower::test
