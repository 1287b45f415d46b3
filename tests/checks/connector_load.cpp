// SPDX-License-Identifier: Apache-2.0
// connector-load on the faulty van: a pump of 60 W that works down to 10.8 V behind cavities 3 and 4,
// a cooler of 48 W that works down to 11.0 V behind 1 and 2, six cavities in all.
#include "examples.hpp"

namespace housepower::checks::checks_connector_load {
namespace {

const std::string file = examples::faulty("connector-load");

std::vector<Finding> of_cavity(const Checked& checked, int cavity) {
  std::vector<Finding> found;
  for (const Finding& f : checked.findings)
    if (f.rule == "connector-load" && f.subject == "connector/X3/" + std::to_string(cavity))
      found.push_back(f);
  return found;
}

/// That of its current.
Finding load_of(const std::vector<std::string>& sets, int cavity) {
  for (Finding& f : of_cavity(examples::checked(file, sets), cavity))
    if (f.measured && f.measured->kind == kind_of<Current>) return std::move(f);
  FAIL("no finding on the current of cavity " << cavity);
  return {};
}

TEST_CASE("a cavity over its rating fails with the run, its current and the rating") {
  const Finding pump = load_of({}, 3);
  CHECK(pump.verdict == Verdict::fail);
  CHECK(pump.of_safety);
  CHECK(pump.measured->si == doctest::Approx(60.0 / 10.8));
  CHECK(pump.limit->si == doctest::Approx(5.0));
  CHECK(pump.label == "W03");
  CHECK(pump.message.find("\"pump\"") != std::string::npos);
  const Finding cooler = load_of({}, 1);
  CHECK(cooler.verdict == Verdict::pass);
  CHECK(cooler.measured->si == doctest::Approx(48.0 / 11.0));
}

TEST_CASE("cavities in parallel share") {
  const Finding pump = load_of({"run/pump/inline/0/outgoing=[3, 5]"}, 5);
  CHECK(pump.verdict == Verdict::pass);
  CHECK(pump.measured->si == doctest::Approx(60.0 / 10.8 / 2.0));
}

TEST_CASE("over the rating with every cavity loaded is a caution where every cavity is") {
  const std::vector<std::string> sets{"connector/X3/rating=8 A",
                                      "connector/X3/rating_all_loaded=5 A"};
  CHECK(load_of(sets, 3).verdict == Verdict::pass);  // four of six
  auto full = sets;
  full.push_back("connector/X3/cavities=4");
  const Finding pump = load_of(full, 3);
  CHECK(pump.verdict == Verdict::caution);
  CHECK(pump.limit->si == doctest::Approx(5.0));
  CHECK(load_of(full, 1).verdict == Verdict::pass);
}

TEST_CASE("with every cavity loaded a rating for that which nobody states is not checked") {
  const auto said = [](const std::vector<std::string>& sets) {
    const Checked checked = examples::checked(file, sets);
    return std::count_if(checked.findings.begin(), checked.findings.end(), [](const Finding& f) {
      return f.verdict == Verdict::not_checked && f.subject == "connector/X3/rating_all_loaded";
    });
  };
  CHECK(said({}) == 0);  // four of six
  CHECK(said({"connector/X3/cavities=4"}) == 1);
  CHECK(said({"connector/X3/cavities=4", "connector/X3/rating_all_loaded=5 A"}) == 0);
}

TEST_CASE("that cavities in parallel share equally is said to be assumed") {
  CHECK(load_of({}, 3).message.find("assumed") == std::string::npos);
  const Finding pump = load_of({"run/pump/inline/0/outgoing=[3, 5]"}, 5);
  CHECK(pump.message.find("2 cavities taken to share equally: assumed") != std::string::npos);
}

TEST_CASE("a plug that is rated for less than its cavities together is held to that") {
  const Finding two = load_of({"run/pump/inline/0/outgoing=[3, 5]",
                               "run/pump/inline/0/return=[4, 6]", "run/pump/inline/0/rating=4 A"},
                              5);
  CHECK(two.verdict == Verdict::fail);
  CHECK(two.limit->si == doctest::Approx(4.0 / 2.0));
  CHECK(two.message.find("the plug's own rating") != std::string::npos);
  // one that is rated for more does not raise what a cavity bears
  CHECK(load_of({"run/pump/inline/0/rating=20 A"}, 3).limit->si == doctest::Approx(5.0));
}

TEST_CASE("a conductor that is larger than the contacts take fails in both its cavities") {
  const Checked checked = examples::checked(file, {"connector/X3/largest_conductor=4 mm2"});
  for (const int cavity : {1, 2}) {
    const auto found = of_cavity(checked, cavity);
    CHECK(std::any_of(found.begin(), found.end(), [](const Finding& f) {
      return f.verdict == Verdict::fail && f.limit->si == doctest::Approx(4e-6) &&
             f.measured->si == doctest::Approx(6e-6);
    }));
  }
  for (const Finding& f : of_cavity(examples::checked(file), 1)) CHECK(f.verdict == Verdict::pass);
}

TEST_CASE("two conductors in one cavity need room for both") {
  const auto found = of_cavity(
      examples::checked(file, {"run/cooler/conductor=4 mm2", "run/cooler/parallel=2"}), 1);
  CHECK(std::any_of(found.begin(), found.end(), [](const Finding& f) {
    return f.verdict == Verdict::fail && f.measured->si == doctest::Approx(2 * 4e-6);
  }));
}

TEST_CASE("what a connector does not state is not checked, and said once") {
  design::Opened one = examples::opened(file);
  one.document.connector.at(0).rating.reset();
  one.document.connector[0].largest_conductor.reset();
  Diagnostics problems;
  const auto design =
      design::resolve(one.document, examples::shipped(), Defaults::ordinary, problems);
  REQUIRE(design.has_value());
  const Checked checked = check(one.document, *design);
  std::vector<std::string> subjects;
  for (const Finding& f : checked.findings)
    if (f.rule == "connector-load") {
      CHECK(f.verdict == Verdict::not_checked);
      subjects.push_back(f.subject.text());
    }
  std::sort(subjects.begin(), subjects.end());
  CHECK(subjects ==
        std::vector<std::string>{"connector/X3/largest_conductor", "connector/X3/rating"});
}

TEST_CASE("a plug is no isolator, whatever is said of it") {
  const auto checked = examples::checked(
      examples::faulty("base"),
      {R"(run/bank to panel/inline=[{ kind = "plug", rating = "100 A", breaks_load = true, resistance = "0.1 mohm" }])"});
  const auto said =
      std::find_if(checked.findings.begin(), checked.findings.end(),
                   [](const Finding& f) { return f.rule == "isolator" && f.subject == "bank"; });
  REQUIRE(said != checked.findings.end());
  CHECK(said->verdict == Verdict::caution);
  CHECK(said->message.find("a plug does not count") != std::string::npos);
}

TEST_CASE("a finding of a cavity stands where its connector does") {
  design::Opened one = examples::opened(file);
  auto findings = examples::checked(one).findings;
  locate(findings, one.node);
  for (const Finding& f : findings)
    if (f.rule == "connector-load") {
      CHECK(f.place.file == file);
      CHECK(f.place.line == 12);  // [[connector]]
    }
}

}  // namespace
}  // namespace housepower::checks::checks_connector_load
