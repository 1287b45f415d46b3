// SPDX-License-Identifier: Apache-2.0
// report: one page a reader, complete in itself, from the same results as the other commands.
#include <doctest/doctest.h>

#include "support/command.hpp"

namespace cli_report {

using namespace housepower::test;

namespace {

std::size_t times(const std::string& text, std::string_view what) {
  std::size_t n = 0;
  for (auto at = text.find(what); at != text.npos; at = text.find(what, at + 1)) ++n;
  return n;
}

}  // namespace

TEST_CASE("the engineer's report holds every finding of check, the electrician's too") {
  const std::string van = "examples/faulty/drop.toml";
  const Ran check = run_program("check " + van + " --format json");
  const std::size_t findings = times(check.out, "\"rule\": ");
  REQUIRE(findings > 50);
  const std::size_t silences = times(check.out, "\"what\": ");  // they name a rule, too
  const std::size_t passes = times(check.out, "\"verdict\": \"pass\"");
  const std::size_t once_more = findings - silences - passes;
  for (const char* reader : {"engineer", "electrician"}) {
    const Ran report = run_program("report " + van + " --for " + reader);
    CAPTURE(reader);
    CHECK(report.exit == 1);  // it fails, as in check
    CHECK(report.err.empty());
    // What does not pass stands twice: on top, and among all.
    CHECK(times(report.out, "<article class=\"finding") == findings - silences + once_more);
    CHECK(times(report.out, "<article class=\"finding fail\"") == 2);
    CHECK(report.out.find(": 1.65 V (13.7 %)") != report.out.npos);
    CHECK(report.out.find("This result is a calculation, not an approval.") != report.out.npos);
  }
}

TEST_CASE("the showroom's page tells the stay of stay and no verdict, and whether it is released") {
  const std::string van = "examples/pellibri.toml";
  const Ran stay = run_program("stay " + van),
            report = run_program("report " + van + " --for showroom");
  CHECK(report.exit == 0);
  const std::string headline = stay.out.substr(0, stay.out.find('\n'));
  CHECK(report.out.find("<h2 id=\"part-1\">" + headline + "</h2>") != report.out.npos);
  CHECK(report.out.find("romise") == report.out.npos);
  CHECK(report.out.find("does not ask: the smallest conductor") != report.out.npos);
  const Ran unsafe = run_program("report examples/faulty/ampacity.toml --for showroom");
  CHECK(unsafe.out.find("Not released</h2>") != unsafe.out.npos);
  CHECK(unsafe.out.find("promise nothing") != unsafe.out.npos);
  const Ran weak = run_program("report examples/faulty/drop.toml --for showroom");
  CHECK(weak.out.find("Not released") == weak.out.npos);  // it fails in its service only
  CHECK(weak.out.find("1 service check is open") != weak.out.npos);
  for (const auto* page : {&report, &unsafe, &weak})
    for (const char* word : {">pass<", ">fail<", ">caution<", "safety pass", "service pass"})
      CHECK(page->out.find(word) == page->out.npos);
}

TEST_CASE(
    "the showroom's page passes over a caution of service, and claims no chance of one year") {
  const Ran report = run_program(
      "report examples/marrowick.toml --set 'run/main bar to day panel/joints=1' --for showroom");
  CHECK(report.exit == 0);
  CHECK(report.out.find("check is open") == report.out.npos);
  CHECK(report.out.find("9 of 10 stays") != report.out.npos);
  CHECK(report.out.find("of tries") == report.out.npos);
}

TEST_CASE("a report is the same each time, and shows a date only where one is given") {
  const std::string command = "report examples/faulty/base.toml --for electrician";
  const Ran once = run_program(command), again = run_program(command);
  CHECK(once.out == again.out);
  CHECK(once.out.find("26 November") == once.out.npos);
  const Ran dated = run_program(command + " --date '26 November 2026'");
  CHECK(times(dated.out, "26 November 2026") == 2);  // on the page, and in the foot of the paper
}

TEST_CASE("any answer can be asked for as a page, and a bad design is told as ever") {
  const Ran check = run_program("check examples/faulty/drop.toml --format html");
  CHECK(check.exit == 1);
  CHECK(check.out.rfind("<!DOCTYPE html>", 0) == 0);
  CHECK(check.out.find(": 1.65 V (13.7 %)") != check.out.npos);
  const Ran bad = run_program("report examples/faulty/drop.toml --set 'run/cooler/length=13 A'");
  CHECK(bad.exit == 3);
  CHECK(bad.out.empty());
  CHECK(bad.err.find("got a current") != bad.err.npos);
}

TEST_CASE("a case without an operating point is told wherever its figures are missing") {
  const std::string van = "examples/faulty/voltage-collapse.toml";
  const Ran drawn = run_program("diagram " + van + " --case evening");
  CHECK(drawn.out.find("0 V, 0 % lost") == drawn.out.npos);
  const Ran report = run_program("report " + van + " --for electrician");
  CHECK(report.out.find("has no operating point and is in none of these figures") !=
        report.out.npos);
  CHECK(report.out.find("None: the network has no operating point") != report.out.npos);
  const Ran schedule = run_program("schedule " + van + " --format csv");
  CHECK(schedule.out.find("no judged case loads it") == schedule.out.npos);
  CHECK(schedule.out.find("without an operating point is not counted") != schedule.out.npos);
}

}  // namespace cli_report
