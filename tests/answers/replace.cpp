// SPDX-License-Identifier: Apache-2.0
// A part replaced by another, as a program asks: what then fails, and that what it is said to need
// cures it.
#include "housepower/answers/replace.hpp"

#include "given.hpp"

namespace answers_replace {
namespace {

using namespace housepower;
using answers::ReplaceReport;
using checks::Verdict;

struct Asked {
  design::Opened before, after;
  checks::Checked old_checked, new_checked;
  std::string file;
  Asked(std::string of, const std::vector<std::string>& sets)
      : before(examples::opened(of)), after(examples::opened(of, sets)),
        old_checked(examples::checked(before)), new_checked(examples::checked(after)),
        file(std::move(of)) {}
  [[nodiscard]] ReplaceReport report() const {
    Diagnostics problems;
    auto r = answers::replace({{given_examples::given(before, file), old_checked}, {}},
                              {{given_examples::given(after, file), new_checked}, {}}, problems);
    REQUIRE(r.has_value());
    return *std::move(r);
  }
};

/// The changes as overrides.
std::vector<std::string> sets_of(const std::vector<choice::MendedPart>& changes) {
  std::vector<std::string> sets;
  for (const auto& change : changes) sets.push_back(change.path + "=" + change.to);
  return sets;
}

bool holds(const std::vector<checks::Finding>& findings, std::string_view rule) {
  return std::any_of(findings.begin(), findings.end(),
                     [&](const checks::Finding& f) { return f.rule == rule; });
}

// The cooler draws 48 W down to 11.0 V: 4.4 A, more than a fuse of 3 A carries.
TEST_CASE("a fuse that is too small shows what then fails, and what it needs cures that") {
  const std::string file = examples::faulty("base");
  const std::string small = "run/cooler/protection/0/rating=3 A";
  const Asked asked(file, {small});
  const ReplaceReport r = asked.report();
  CHECK(holds(r.fails, "fuse-above-load"));
  REQUIRE(!r.needs.empty());
  CHECK(r.besides.empty());
  CHECK(r.then.worse() == Verdict::pass);
  std::vector<std::string> sets{small};
  for (auto& set : sets_of(r.needs)) sets.push_back(std::move(set));
  CHECK(examples::checked(file, sets).verdicts.worse() == Verdict::pass);
}

TEST_CASE("a part that changes nothing that is judged needs nothing") {
  const Asked asked(examples::faulty("base"), {"bank/mass=11.2 kg"});
  const ReplaceReport r = asked.report();
  CHECK(r.fails.empty());
  CHECK(r.cautions.empty());
  CHECK(r.needs.empty());
  CHECK(r.changes.design.size() == 1);
}

TEST_CASE("what the van as built needs all the same is told apart from what the new part needs") {
  const Asked asked(examples::faulty("drop"), {"run/pump/protection/0/rating=3 A"});
  const ReplaceReport r = asked.report();
  for (const auto& f : r.fails) CHECK(f.subject.text().find("ooler") == std::string::npos);
  for (const auto& change : r.needs) CHECK(change.path.rfind("run/pump/", 0) == 0);
  REQUIRE(!r.besides.empty());
  for (const auto& change : r.besides) CHECK(change.path.rfind("run/cooler/", 0) == 0);
}

/// More charge than each battery may take is no matter of cables.
TEST_CASE("what no wiring cures is left, with what would") {
  const Asked asked(examples::faulty("base"), {"bank/charge_limit=3 A"});
  const ReplaceReport r = asked.report();
  CHECK(holds(r.fails, "bank-charge"));
  CHECK(std::any_of(r.left.begin(), r.left.end(),
                    [](const choice::Left& one) { return one.finding.rule == "bank-charge"; }));
}

}  // namespace
}  // namespace answers_replace
