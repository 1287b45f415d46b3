// SPDX-License-Identifier: Apache-2.0
// Answers in US units and in metric ones, whatever the design is written in.
#include <doctest/doctest.h>

#include <algorithm>
#include <regex>
#include <sstream>
#include <vector>

#include "support/json_answer.hpp"

namespace cli_units {
namespace {

using namespace housepower::test;

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

const std::string van = "examples/pellibri.toml";

/// Without the sources of findings, whose titles are as they are printed, and without comments.
std::string without_sources(const std::string& text) {
  std::string out;
  bool in_source = false;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    in_source = line.find("source:") != line.npos || (in_source && !line.empty());
    if (!in_source && line.substr(0, 1) != "#") out += line + "\n";
  }
  return out;
}

/// Answers for people, in text.
const std::vector<std::string>& answers() {
  static const std::vector<std::string> all{
      "check " + van + " --passes",
      "check examples/faulty/drop.toml",
      "energy " + van,
      "wiring " + van,
      "test-sheet " + van,
      "build-list " + van,
      "schedule " + van,
      "cable --current '20 A' --length '4 m'",
      "cable --current '20 A' --length '12 ft' --conductor '10 awg'"};
  return all;
}

}  // namespace

TEST_CASE("no length, mass or temperature of a US answer is metric") {
  // A number and its unit, but for formulas and the names of sizes; heads end in ", m".
  const std::regex metric("[0-9] (m|km|kg|°C)[ ,.;:)\n]|, (m|kg|°C)[ \n]");
  for (const auto& line : answers()) {
    CAPTURE(line);
    const Ran ran = run_program(line + " --units us");
    CHECK(ran.exit <= 1);
    std::smatch found;
    const std::string said = without_sources(ran.out);
    const bool any = std::regex_search(said, found, metric);
    const std::string before = any ? found.prefix().str() : "";
    const std::string where =
        before.substr(before.size() - std::min<std::size_t>(60, before.size())) + found.str();
    CHECK_MESSAGE(!any, where);
  }
}

TEST_CASE("the same figures stand in either units") {
  const std::string line = "cable --current '20 A' --length '4 m' --conductor '16 mm2' --working ";
  const std::string us = run_program(line + "--units us").out,
                    metric = run_program(line + "--units metric").out;
  CHECK(holds(us, "16 mm2 (6–4 AWG)"));  // 13.30 and 21.15 mm², ASTM B258
  CHECK(holds(us, "86 °F"));             // the ambient of 30 °C
  CHECK(holds(us, "75 °C (167 °F)"));    // a working counts as its formula does
  CHECK(holds(metric, "30 °C"));
  CHECK_FALSE(holds(metric, "AWG"));
  CHECK(metric == run_program(line).out);  // a metric answer is so as usual
}

TEST_CASE("a gauge has its area beside it in a metric answer") {
  const std::string line = "cable --current '20 A' --length '12 ft' --conductor '10 awg' ";
  // NEC ch. 9 table 8: 10 AWG has 10,380 cmil, 5.26 mm²
  CHECK(holds(run_program(line + "--units metric").out, "10 awg (5.26 mm²)"));
  CHECK(holds(run_program(line + "--units us").out, "10 awg"));
  CHECK_FALSE(holds(run_program(line).out, "10 awg (5.26 mm²)"));
}

TEST_CASE("what programs read keeps the units that its keys name") {
  for (const std::string& line :
       {"check " + van + " --format json", "energy " + van + " --format json",
        std::string("cable --current '20 A' --length '4 m' --format json"),
        "schedule " + van + " --format csv", "build-list " + van + " --format csv"}) {
    CAPTURE(line);
    CHECK(run_program(line + " --units us").out == run_program(line).out);
  }
}

TEST_CASE("files that are read again are written in no other units") {
  const std::string line = "wiring examples/faulty/smallest-conductor.toml -o - ";
  CHECK(run_program(line + "--units us").out == run_program(line).out);
  const std::string mend = "mend examples/faulty/drop.toml -o - ";
  CHECK(without_sources(run_program(mend + "--units us").out) ==
        without_sources(run_program(mend).out));
}

TEST_CASE("diagram and report follow the units") {
  CHECK(holds(run_program("diagram " + van + " --units us").out, " ft"));
  const std::string report = run_program("report " + van + " --for electrician --units us").out;
  CHECK(holds(report, "°F"));
  CHECK(holds(report, "AWG"));
}

}  // namespace cli_units
