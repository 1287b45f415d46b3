// SPDX-License-Identifier: Apache-2.0
#include "housepower/wiring/dead_tests.hpp"

#include <algorithm>

#include "housepower/reading/text.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"
#include "housepower/wiring/test_plan.hpp"
#include "readings_written.hpp"

namespace housepower::wiring {
namespace {

constexpr Resistance isolated = Resistance::from_value(0.5e6);
constexpr Source isolated_source{
    SourceKind::from_memory, "IEC 60364-6, insulation of extra-low voltage",
    "0.5 MΩ at 250 V d.c.; a hand meter at its own voltage shows a short, not the insulation"};
constexpr Source by_eye{SourceKind::common_practice, "practice of the trade", "before it is live"};

bool is_one_of(const std::string& word, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

DeadTest of_bank(const design::Design& d) {
  const bool bonded =
      std::any_of(d->runs.begin(), d->runs.end(), [](const auto& run) { return run.back.chassis; });
  DeadTest test;
  test.is = DeadTest::Is::resistance;
  test.what = "bank to chassis";
  test.how = bonded ? "the chassis is the return of this van: plus to chassis, all switched off"
                    : "plus and minus to chassis, the bank's isolator open";
  if (!bonded) test.least = isolated;
  test.source = isolated_source;
  return test;
}

/// The device that each battery has at its own post.
void add_batteries(std::vector<DeadTest>& tests, const design::resolved::Bank& bank) {
  if (!bank.each_device) return;
  const auto& device = bank.each_device->device;
  for (int n = 1; n <= bank.parallel; ++n)
    tests.push_back({DeadTest::Is::seated,
                     "device of battery " + std::to_string(n) + " seated",
                     print(device.rating) + ", " + device.plain_name(),
                     {},
                     {},
                     by_eye});
}

void add_run(std::vector<DeadTest>& tests, const design::Design& d, design::resolved::RunId id) {
  const auto& run = d[id];
  tests.push_back({DeadTest::Is::polarity,
                   "polarity " + run.label,
                   d[run.from].name + " to " + d[run.to].name,
                   id,
                   {},
                   by_eye});
  for (std::size_t n = 0; n < run.protection.size(); ++n)
    tests.push_back({DeadTest::Is::seated,
                     label_of_point(d, subject_of(d, run).protection(n)) + " seated",
                     print(run.protection[n].rating) + ", " + run.protection[n].plain_name(),
                     id,
                     {},
                     by_eye});
}

void judge_result(CheckedByHand& one, Diagnostics& diagnostics) {
  const std::string word = detail::in_small_letters(*one.result);
  const bool yes = is_one_of(word, {"yes", "y", "ok", "pass", "passed", "good", "true"});
  const bool no = is_one_of(word, {"no", "n", "fail", "failed", "bad", "false"});
  if (yes || no) one.holds = yes;
  else
    diagnostics.error(one.place, "checked/" + one.what + "/result",
                      "the result of " + quoted(one.what) + " is yes or no, not " +
                          quoted(*one.result));
}

/// A resistance between conductors that should not meet: of megohms and kilohms, which no contact of a
/// design has.
std::optional<Resistance> insulation_of(std::string text, const std::string& key, const Place& at,
                                        Diagnostics& diagnostics) {
  double factor = 1.0;
  for (const auto& [unit, times] :
       {std::pair("MΩ", 1e6), std::pair("Mohm", 1e6), std::pair("kΩ", 1e3), std::pair("kohm", 1e3)})
    if (const auto found = text.find(unit); found != text.npos && factor == 1.0) {
      text.replace(found, std::string_view(unit).size(), "Ω");
      factor = times;
    }
  const auto ohms = inside::quantity_of(text, kind_of<Resistance>, key, at, diagnostics);
  return ohms ? std::optional(Resistance::from_value(factor * ohms->si)) : std::nullopt;
}

std::string_view without_blanks(std::string_view text) {
  const auto from = text.find_first_not_of(" \t"), to = text.find_last_not_of(" \t");
  return from == text.npos ? std::string_view() : text.substr(from, to - from + 1);
}

/// What a meter shows beyond its range, and nothing else: "OL", "open MΩ". A figure beside it is one.
bool is_beyond_range(const std::string& written) {
  std::string_view word = without_blanks(written);
  for (const std::string_view unit : {"MΩ", "kΩ", "Ω", "Mohm", "kohm", "ohm"})
    if (word.ends_with(unit)) {
      word = without_blanks(word.substr(0, word.size() - unit.size()));
      break;
    }
  return is_one_of(detail::in_small_letters(std::string(word)),
                   {"ol", "o.l", "o.l.", "open", "open circuit", "over range", "overrange"});
}

/// What a meter shows beyond its range counts as more than anything.
void judge_value(CheckedByHand& one, const DeadTest& test, Diagnostics& diagnostics) {
  one.limit = "at least " + print(*test.least) + " (" + std::string(test.source.title) + ")";
  std::string value = *one.value;
  if (value.starts_with('>')) value.erase(0, 1);
  bool holds = is_beyond_range(value);
  if (!holds) {
    const auto read = insulation_of(value, "checked/" + one.what, one.place, diagnostics);
    if (!read) return;
    holds = *read >= *test.least;
  }
  one.holds = one.holds.value_or(true) && holds;
}

/// As tests are called, whatever the case of letters and the dash of a minus.
std::string name_of(std::string_view what) {
  return detail::in_small_letters(inside::plain_minus(std::string(without_blanks(what))));
}
/// The last result of that name; nothing where none was judged.
std::optional<bool> result_of(const std::string& what, const std::vector<CheckedByHand>& by_hand) {
  std::optional<bool> holds;
  for (const CheckedByHand& one : by_hand)
    if (one.holds && name_of(one.what) == name_of(what)) holds = one.holds;
  return holds;
}
/// With a result, or with a value where one is measured; without a limit any value will do.
bool was_done(const DeadTest& test, const std::vector<CheckedByHand>& by_hand) {
  const bool measured = test.is == DeadTest::Is::resistance;
  return std::any_of(by_hand.begin(), by_hand.end(), [&](const CheckedByHand& one) {
    return (one.holds || (measured && one.value)) && name_of(one.what) == name_of(test.what);
  });
}

}  // namespace

std::size_t Coverage::open_runs() const {
  return std::size_t(std::count_if(runs.begin(), runs.end(),
                                   [](const NotTested& one) { return !one.is_settled(); }));
}

Coverage coverage_of(const design::Design& d, const Assessment& a, const Diagnosis& diagnosis,
                     const std::vector<CheckedByHand>& by_hand, const TestLoad& state) {
  Coverage out;
  const auto tests = dead_tests(d);
  out.dead_tests = tests.size();
  for (const DeadTest& test : tests)
    if (!was_done(test, by_hand)) out.dead.push_back(test);
  if (diagnosis.idle.empty()) return out;
  const auto never = untestable(d, a, state);
  for (const auto id : diagnosis.idle) {
    NotTested& one = out.runs.emplace_back(NotTested{id});
    for (const Untested& u : never)
      if (u.run == id) one.why = u.why;
    for (const DeadTest& test : tests)
      if (test.is == DeadTest::Is::polarity && test.run == id)
        one.by_hand = result_of(test.what, by_hand) == true;
  }
  return out;
}

std::vector<DeadTest> dead_tests(const design::Design& d) {
  std::vector<DeadTest> tests;
  if (d->bank) {
    tests.push_back(of_bank(d));
    add_batteries(tests, *d->bank);
  }
  for (const auto id : walk_of(d).runs) add_run(tests, d, id);
  if (d->profile)
    for (const auto& item : d->profile->inspection)
      tests.push_back({DeadTest::Is::seen, item.item, "", {}, {}, item.source});
  return tests;
}

void judge_by_hand(CheckedByHand& one, const std::vector<DeadTest>& tests,
                   Diagnostics& diagnostics) {
  if (one.result) judge_result(one, diagnostics);
  if (!one.value) return;
  const std::string what = name_of(one.what);
  bool known = false;
  std::vector<std::string_view> names;
  for (const DeadTest& test : tests) {
    if (!test.least) continue;
    names.push_back(test.what);
    if (name_of(test.what) != what) continue;
    known = true;
    judge_value(one, test, diagnostics);
  }
  const std::string meant = known ? std::string() : did_you_mean(what, names);
  if (!meant.empty())
    diagnostics.error(one.place, "checked", "no test is called \"" + one.what + "\"", meant);
}

}  // namespace housepower::wiring
