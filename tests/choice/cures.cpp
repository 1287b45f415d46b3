// SPDX-License-Identifier: Apache-2.0
// A cure that is printed holds: each is put into the design as `--set` takes it, and judged again.
#include "housepower/choice/cures.hpp"

#include <map>

#include "checks/examples.hpp"

namespace choice_cures {
namespace {

using namespace examples;

using Key = std::pair<std::string, std::string>;
std::map<Key, Verdict> worst_of(const Checked& checked) {
  std::map<Key, Verdict> worst;
  for (const Finding& f : checked.findings) {
    Verdict& v = worst[{std::string(f.rule), f.subject.text()}];
    v = std::max(v, f.verdict);
  }
  return worst;
}

/// Where a case had no operating point, nothing was known of what hangs on it: it may caution then,
/// and the cure says so.
Verdict most_allowed(const std::map<Key, Verdict>& before, const Key& key,
                     const std::string& cure) {
  const bool told = cure.find("not known before") != cure.npos;
  const auto stood = before.find(key);
  const Verdict was = stood == before.end() ? Verdict::not_checked : stood->second;
  return told && was == Verdict::not_checked ? Verdict::caution : was;
}

Checked with_cures(const std::string& file) {
  const auto one = opened(file);
  Checked checked = checks::check(one.document, one.design, checks::Workings::left_out);
  choice::try_cures(one.document, one.design, checked);
  return checked;
}

}  // namespace

TEST_CASE("each cure that was tried passes as --set, and no other finding gets worse") {
  std::size_t cures = 0;
  for (const checks::Rule* rule : checks::rules()) {
    const std::string file = faulty(rule->name);
    const Checked before = with_cures(file);
    const auto stood = worst_of(before);
    for (const Finding& f : before.findings) {
      if (f.cure_set.empty()) continue;
      CAPTURE(file);
      CAPTURE(f.rule);
      CAPTURE(f.subject.text());
      CAPTURE(f.cure);
      ++cures;
      const auto after = worst_of(checked(file, f.cure_set));
      const auto now = after.find({std::string(f.rule), f.subject.text()});
      const bool of_device = f.rule == "unprotected-source-end";
      CHECK((now == after.end() ? of_device : now->second == Verdict::pass));
      for (const auto& one : after) {
        CAPTURE(one.first.first);
        CAPTURE(one.first.second);
        CHECK(one.second <= most_allowed(stood, one.first, f.cure));
      }
    }
  }
  CHECK(cures >= 15);
}

TEST_CASE("what a value would settle keeps its words, and so does what no wiring cures") {
  for (const std::string name : {"autonomy", "lithium-outside", "array-voltage"}) {
    CAPTURE(name);
    const Checked plain = checked(faulty(name)), tried = with_cures(faulty(name));
    for (std::size_t i = 0; i < plain.findings.size(); ++i)
      if (plain.findings[i].rule == name) CHECK(plain.findings[i].cure == tried.findings[i].cure);
  }
  Finding f;
  f.verdict = Verdict::caution;
  CHECK(!choice::asks_to_state(f));
  f.wants = {design::Subject(design::Subject::Kind::run, 0, "x").with("laid")};
  CHECK(choice::asks_to_state(f));
}

TEST_CASE("a cure says what it is for and sets") {
  const Checked tried = with_cures(faulty("ampacity"));
  const auto f = std::find_if(tried.findings.begin(), tried.findings.end(), [](const Finding& one) {
    return one.rule == "ampacity" && one.verdict == Verdict::fail;
  });
  REQUIRE(f != tried.findings.end());
  REQUIRE(!f->cure_set.empty());
  CHECK(f->cure_set.front().starts_with("run/foot warmer/"));
  CHECK(f->cure.find("foot warmer") != std::string::npos);
}

}  // namespace choice_cures
