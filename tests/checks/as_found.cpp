// SPDX-License-Identifier: Apache-2.0
// What was found in a van, judged by the rules: readings of a van with a planted fault, end to end.
#include "housepower/checks/as_found.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <iterator>

#include "design/van.hpp"
#include "wiring/simulated_van.hpp"

namespace checks_as_found {
namespace {

using namespace housepower;
using checks::Verdict;
using housepower::test::Planted;

struct Line {
  std::optional<design::Opened> opened;
  checks::Checked checked;
  std::optional<housepower::test::SimulatedVan> van;
  std::mt19937_64 random{1};
  wiring::Diagnosis diagnosis;

  Line() {
    Diagnostics problems;
    const FileReader disk = [](std::string_view path) -> FileContent {
      std::ifstream stream(std::string(path), std::ios::binary);
      return std::optional(std::string(std::istreambuf_iterator<char>(stream), {}));
    };
    opened = design::open_design(HOUSEPOWER_SOURCE_DIR "/examples/marrowick.toml", disk, {},
                                 van::shipped(), Defaults::ordinary, problems);
    REQUIRE(opened);
    const checks::Engines without_hours{
        [](const design::Design& d) { return energy::assess(d); },
        [](const design::Design& d, std::span<const wiring::LoadCase> cases, Defaults) {
          return wiring::assess(d, cases);
        },
        [](const design::Design&, const energy::DeliveredList&) { return energy::Outlook{}; }};
    checked =
        checks::check(opened->document, opened->design, without_hours, checks::Workings::left_out);
    wiring::TestLoad load;
    load.name = "dinner";
    load.running = opened->design->cases.front().running;
    load.resting = 13.3 * volt;
    van.emplace(opened->design, checked.wiring, load);
  }
  std::size_t run(std::string_view name) const {
    for (std::size_t i = 0; i < opened->design->runs.size(); ++i)
      if (opened->design->runs[i].name == name) return i;
    FAIL("no run " << name);
    return 0;
  }
  checks::AsFound found(const std::vector<Planted>& faults,
                        const std::vector<wiring::CheckedByHand>& by_hand = {},
                        const wiring::Coverage& coverage = {}) {
    const auto read = van->read(random, {}, faults);
    REQUIRE(read);
    auto answer = wiring::diagnose(opened->design, checked.wiring, {*read});
    REQUIRE(std::holds_alternative<wiring::Diagnosis>(answer));
    diagnosis = std::get<wiring::Diagnosis>(std::move(answer));
    for (auto& r : diagnosis.readings) r.in_band = true;  // only what was found counts here
    return checks::judge_found(opened->document, opened->design, checked, diagnosis, by_hand,
                               coverage);
  }
  Planted joint(double ohms) const {
    return {Planted::Is::joint, run("main bar to night panel"), design::Pole::outgoing, ohms, 1};
  }
};

const checks::Finding* of_rule(const checks::AsFound& found, std::string_view rule) {
  for (const auto& f : found.findings)
    if (f.rule == rule) return &f;
  return nullptr;
}

}  // namespace

TEST_CASE("a sound van passes as it was found") {
  Line line;
  const auto found = line.found({});
  CHECK(found.findings.empty());
  CHECK(found.verdict == Verdict::pass);
}

TEST_CASE("a joint that was found is judged at the largest current of its run") {
  Line line;
  const auto warm = line.found({line.joint(0.010)});
  const auto* f = of_rule(warm, "hot-joint");
  REQUIRE(f);
  CHECK(f->subject == "run/main bar to night panel/outgoing");
  // U = I·R with the run's design current; beyond 30 mV a caution, beyond 200 mV a fail
  const double amperes =
      line.checked.wiring.runs[line.run("main bar to night panel")].current.outgoing.value();
  const double volts = amperes * line.diagnosis.causes.front().it.value.si;
  CHECK(f->measured->si == doctest::Approx(volts));
  REQUIRE(volts > 0.030);
  REQUIRE(volts < 0.200);
  CHECK(f->verdict == Verdict::caution);
  CHECK(warm.verdict == Verdict::caution);

  const auto hot = line.found({line.joint(0.045)});
  const auto* fails = of_rule(hot, "hot-joint");
  REQUIRE(fails);
  CHECK(fails->measured->si > 0.200);
  CHECK(fails->verdict == Verdict::fail);
  CHECK(hot.verdict == Verdict::fail);
}

TEST_CASE("what lies behind a bad joint is judged by its drop") {
  Line line;
  const auto found = line.found({line.joint(0.09)});
  const auto* f = of_rule(found, "drop");
  REQUIRE(f);
  CHECK(f->verdict == Verdict::fail);
  CHECK(f->measured->si > f->limit->si);
}

TEST_CASE("wires the wrong way round fail") {
  Line line;
  const auto found = line.found(
      {{Planted::Is::reversed, line.run("bunk lights"), design::Pole::outgoing, 1.0, 0}});
  REQUIRE(found.findings.size() == 1);
  CHECK(found.findings.front().subject == "appliance/Bunk lights");
  CHECK(found.verdict == Verdict::fail);
}

TEST_CASE("where causes cannot be told apart the worst of them decides") {
  Line line;
  (void)line.found({line.joint(0.010)});
  auto& diagnosis = line.diagnosis;
  REQUIRE(diagnosis.causes.size() == 1);
  const auto judged = [&] {
    return checks::judge_found(line.opened->document, line.opened->design, line.checked, diagnosis,
                               {}, {});
  };
  wiring::Cause& cause = diagnosis.causes.front();
  cause.instead.clear();
  CHECK(judged().verdict == Verdict::caution);
  wiring::Suspect other = cause.it;  // where 45 mΩ would lose over 200 mV
  other.element = subject_of(line.opened->design, line.opened->design[other.run]).back();
  other.pole = design::Pole::return_;
  other.value = {0.045, kind_of<Resistance>};
  cause.instead = {other};
  const auto found = judged();
  CHECK(found.verdict == Verdict::fail);
  const auto* f = of_rule(found, "hot-joint");
  REQUIRE(f);
  CHECK(f->message.starts_with("if it is run/main bar to night panel/return: "));
  // a second cause that is told decides just so
  cause.instead.clear();
  wiring::Cause second = cause;
  second.it = other;
  diagnosis.causes.push_back(second);
  CHECK(judged().verdict == Verdict::fail);
}

TEST_CASE("what was found lies on the run with that place in the file, whatever the names") {
  Line line;
  (void)line.found({line.joint(0.09)});
  // the same causes in a document whose runs bear other names for readers
  auto document = line.opened->document;
  for (auto& run : document.run) run.name += "x";
  const auto found =
      checks::judge_found(document, line.opened->design, line.checked, line.diagnosis, {}, {});
  CHECK(of_rule(found, "drop"));
}

TEST_CASE("a pole that nobody read and a drop the wrong way round are at best a caution") {
  Line line;
  (void)line.found({});
  const auto judged = [&] {
    return checks::judge_found(line.opened->document, line.opened->design, line.checked,
                               line.diagnosis, {}, {});
  };
  CHECK(judged().verdict == Verdict::pass);
  const auto run = subject_of(line.opened->design, line.opened->design->runs[0]);
  line.diagnosis.unread.push_back({run.back(), "dinner"});
  CHECK(judged().verdict == Verdict::caution);
  line.diagnosis.unread.clear();
  wiring::Cause reversed;
  reversed.it.is = wiring::Cause::Is::reversed;
  reversed.it.element = run.outgoing();
  reversed.read = 0;
  line.diagnosis.causes.push_back(reversed);
  CHECK(judged().verdict == Verdict::caution);
}

TEST_CASE("what was seen and does not hold fails, whatever the meter says") {
  Line line;
  wiring::CheckedByHand seen;
  seen.what = "polarity W04";
  seen.holds = true;
  CHECK(line.found({}, {seen}).verdict == Verdict::pass);
  seen.holds = false;
  CHECK(line.found({}, {seen}).verdict == Verdict::fail);
}

TEST_CASE("a run that was not tested makes it at best a caution") {
  Line line;
  wiring::Coverage coverage;
  wiring::NotTested& run = coverage.runs.emplace_back(wiring::NotTested{{3}});
  CHECK(line.found({}, {}, coverage).verdict == Verdict::caution);
  run.by_hand = true;  // a load reaches it: seeing its polarity is no test of it
  CHECK(line.found({}, {}, coverage).verdict == Verdict::caution);
  run.why = wiring::Untested::Why::array;
  CHECK(line.found({}, {}, coverage).verdict == Verdict::pass);
}

TEST_CASE("a dead test that is not recorded makes it at best a caution") {
  Line line;
  wiring::Coverage coverage;
  coverage.dead_tests = 2;
  CHECK(line.found({}, {}, coverage).verdict == Verdict::pass);
  coverage.dead = {wiring::dead_tests(line.opened->design).front()};
  CHECK(line.found({}, {}, coverage).verdict == Verdict::caution);
}

namespace {

/// Judged as if the cause were those, of which readings cannot tell one from the other.
checks::AsFound judged_as(Line& line, const std::vector<wiring::Suspect>& any) {
  auto& diagnosis = line.diagnosis;
  diagnosis.causes.resize(1);
  wiring::Cause& cause = diagnosis.causes.front();
  cause.it = any.front();
  cause.instead.assign(any.begin() + 1, any.end());
  return checks::judge_found(line.opened->document, line.opened->design, line.checked, diagnosis,
                             {}, {});
}
wiring::Suspect with(wiring::Suspect s, double ohms) {
  s.value = {ohms, kind_of<Resistance>};
  return s;
}

}  // namespace

TEST_CASE("of two causes at one place the larger is judged, however little larger") {
  Line line;
  (void)line.found({line.joint(0.045)});
  REQUIRE(line.diagnosis.causes.size() == 1);
  const wiring::Suspect it = line.diagnosis.causes.front().it;
  const auto fails_drop = [&](const std::vector<wiring::Suspect>& any) {
    const auto found = judged_as(line, any);
    for (const auto& f : found.findings)
      if (f.rule == "drop" && f.verdict == Verdict::fail) return true;
    return false;
  };
  double low = 0.001, high = 0.2;  // a drop passes with the first and fails with the other
  REQUIRE_FALSE(fails_drop({with(it, low)}));
  REQUIRE(fails_drop({with(it, high)}));
  while (high / low > 1.04) {
    const double middle = std::sqrt(low * high);
    (fails_drop({with(it, middle)}) ? high : low) = middle;
  }
  CHECK(fails_drop({with(it, low), with(it, high)}));
}

TEST_CASE("with a joint in its way a fault may no longer open its device") {
  Line line;
  (void)line.found({line.joint(0.045)});
  const wiring::Suspect it = line.diagnosis.causes.front().it;
  CHECK(of_rule(judged_as(line, {with(it, 0.005)}), "far-fault-clears") == nullptr);
  // 12.8 V over 0.3 Ω drive 43 A at the most: a fuse of 35 A need not open for it (ISO 8820-3, from
  // memory: it holds 1.1 times its rating for 100 h and opens at 1.35 times)
  CHECK(of_rule(judged_as(line, {with(it, 0.3)}), "far-fault-clears") != nullptr);
}

TEST_CASE("a conductor that reads too much is judged as the thinner one that it may be") {
  Line line;
  (void)line.found({line.joint(0.010)});
  wiring::Suspect it = line.diagnosis.causes.front().it;
  it.is = wiring::Suspect::Is::conductor;
  const auto& run = line.opened->design[it.run];
  REQUIRE(run.conductor);
  const Resistance whole = run.conductor->resistance_at_20 * run.length;
  it.expected = whole;
  const auto thinner = [&](double times) {
    const auto found = judged_as(line, {with(it, times * whole.value())});
    return of_rule(found, "fuse-below-conductor") != nullptr;
  };
  CHECK_FALSE(thinner(1.05));  // longer by a little
  CHECK(thinner(8.0));         // an eighth of the copper behind the same fuse
  // what nobody tells, and would have to be a size that is never taken for it, does not decide
  wiring::Suspect joint = it;
  joint.is = wiring::Suspect::Is::joint;
  joint.expected.reset();
  const auto beside = judged_as(line, {with(joint, 0.010), with(it, 8.0 * whole.value())});
  CHECK(of_rule(beside, "fuse-below-conductor") == nullptr);
}

}  // namespace checks_as_found
