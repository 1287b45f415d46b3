// SPDX-License-Identifier: Apache-2.0
// loads and parts as a person runs them: what goes where, and that a file is whole or untouched.
#include <doctest/doctest.h>

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "support/command.hpp"

namespace cli_lists {

using namespace housepower::test;

namespace {

struct Folder {
  std::string path = "/tmp/housepower-lists-" + std::to_string(getpid());
  Folder() { std::filesystem::create_directory(path); }
  ~Folder() { std::filesystem::remove_all(path); }
  [[nodiscard]] std::string with(const std::string& name, const std::string& text) const {
    std::ofstream(path + "/" + name, std::ios::binary) << text;
    return path + "/" + name;
  }
};

}  // namespace

TEST_CASE("a wrong row leaves stdout empty and the file that stood there as it was") {
  const Folder folder;
  const auto list = folder.with("a.csv", "name,power (W)\nlamp,4\nfan,lots\n");
  const auto kept = folder.with("a.toml", "kept");
  const auto ran = run_program("loads " + list + " -o " + kept);
  CHECK(ran.exit == 3);
  CHECK(ran.out.empty());
  CHECK(ran.err.find("a.csv:3:5") != std::string::npos);
  CHECK(text_of(kept) == "kept");
  CHECK(std::distance(std::filesystem::directory_iterator(folder.path), {}) == 2);
}

TEST_CASE("a file is written in place of the old one; where it cannot be, that is told") {
  const Folder folder;
  const auto list = folder.with("a.csv", "name,power (W)\nlamp,4\n");
  CHECK(run_program("loads " + list + " -o " + folder.with("a.toml", "old")).exit == 0);
  CHECK(text_of(folder.path + "/a.toml") == "[[appliance]]\nname = \"lamp\"\npower = \"4 W\"\n");
  CHECK(run_program("loads " + list + " -o " + folder.path + "/none/a.toml").exit == 4);
  CHECK(run_program("loads " + list + " -o /dev/full").exit == 4);
  CHECK(run_program("loads " + folder.path + "/none.csv").exit == 4);
}

TEST_CASE(
    "the JSON tells each column, row and problem, and holds the answer only where all is well") {
  const auto good =
      nlohmann::json::parse(run_program("loads examples/loads-marrowick.csv --format json").out);
  CHECK(good["delimiter"] == "comma");
  CHECK(good["decimal"] == "point");
  CHECK(good["columns"][1]["keys"] == nlohmann::json::array({"power"}));
  CHECK(good["rows"].size() == 7);
  CHECK(good["diagnostics"].size() == 2);  // a title above the head, a column of colours
  CHECK(good["toml"].get<std::string>().find("[[appliance]]") == 0);
  const Folder folder;
  const auto ran =
      run_program("loads " + folder.with("a.csv", "name,power\nlamp,4\n") + " --format json");
  CHECK(ran.exit == 3);
  const auto bad = nlohmann::json::parse(ran.out);
  CHECK(bad["toml"].is_null());
  CHECK(bad["diagnostics"][0]["line"] == 2);
}

TEST_CASE("a design's appliances go to CSV and back through the program") {
  const Folder folder;
  const auto csv = folder.path + "/a.csv", toml = folder.path + "/a.toml";
  const std::string style = " --delimiter semicolon --decimal comma";
  CHECK(run_program("loads examples/marrowick.toml" + style + " -o " + csv).exit == 0);
  CHECK(run_program("loads " + csv + " -o " + toml).exit == 0);
  const auto again = run_program("loads " + toml + style);
  CHECK(again.out == text_of(csv));
}

TEST_CASE("a design's runs go to CSV and back through the program") {
  const Folder folder;
  const auto csv = folder.path + "/a.csv", toml = folder.path + "/a.toml";
  const std::string style = " --delimiter semicolon --decimal comma";
  CHECK(run_program("runs examples/marrowick.toml" + style + " -o " + csv).exit == 0);
  CHECK(run_program("runs " + csv + " -o " + toml).exit == 0);
  const auto again = run_program("runs " + toml + style);
  CHECK(again.out == text_of(csv));
}

TEST_CASE("a workbook is read as its name says nothing of it, and its cells are named by row and "
          "column") {
  const Folder folder;
  const auto list =
      folder.with("list", text_of(HOUSEPOWER_SOURCE_DIR "/tests/lists/workbooks/schedule.xlsx"));
  const auto ran = run_program("runs " + list);
  CHECK(ran.exit == 3);
  CHECK(ran.out.empty());
  CHECK(ran.err.find(list + ":3:7") != std::string::npos);  // a device without its type
  CHECK(ran.err.find("PK") == std::string::npos);           // no bytes of the archive are shown
  const auto good = run_program("runs " + list + " --device iso-8820-3-c");
  CHECK(good.exit == 0);
  CHECK(good.out.find("conductor = \"2.5 mm2\"") != std::string::npos);
  const auto two = run_program("loads tests/lists/workbooks/several.xlsx");
  CHECK(two.exit == 3);
  CHECK(two.err.find("--sheet \"Front\"") != std::string::npos);
  CHECK(run_program("loads tests/lists/workbooks/several.xlsx --sheet Rear").exit == 0);
}

TEST_CASE("watt-hours are not taken for hours") {
  const Folder folder;
  const auto ran =
      run_program("loads " + folder.with("a.csv", "name,power (W),Wh/day\nlamp,4,12\n"));
  CHECK(ran.err.find("energy is not read") != std::string::npos);
  CHECK(ran.err.find("h/day\"?") == std::string::npos);
}

TEST_CASE("ampere-hours a day are not taken for hours") {
  const Folder folder;
  const auto ran = run_program("loads " + folder.with("a.csv", "name,Ah per day\nFridge,30\n"));
  CHECK(ran.err.find("charge is not read") != std::string::npos);
  CHECK(ran.err.find("did you mean") == std::string::npos);
}

}  // namespace cli_lists
