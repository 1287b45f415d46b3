// SPDX-License-Identifier: Apache-2.0
// Each rule is complete, and has a small faulty van that raises it; the sound one raises none.
#include "examples.hpp"

namespace housepower::checks::checks_faulty_examples {
namespace {

using examples::checked;
using examples::faulty;

/// "drop fail" of the line "# raises: drop fail".
std::string announced(const std::string& file) {
  const auto text = examples::from_disk(file);
  const std::string mark = "# raises: ";
  const auto at = text ? text->find(mark) : std::string::npos;
  if (at == std::string::npos) return {};
  return text->substr(at + mark.size(), text->find('\n', at) - at - mark.size());
}

TEST_CASE("a rule says what it asks, why, how to cure it, from where, and what moves it") {
  CHECK(rules().size() == 42);
  for (const Rule* rule : rules()) {
    CAPTURE(rule->name);
    CHECK(rule->asks.ends_with("?"));
    CHECK(rule->why.ends_with("."));
    CHECK(rule->cure.ends_with("."));
    CHECK(!rule->source.title.empty());
    CHECK(!rule->signs.empty());
    CHECK((rule->check != nullptr));
    CHECK(rule_named(rule->name) == rule);
    for (const Sign& sign : rule->signs)
      CHECK(std::count_if(rule->signs.begin(), rule->signs.end(), [&](const Sign& other) {
              return other.parameter == sign.parameter;
            }) == 1);
  }
  CHECK(rule_named("no-such-rule") == nullptr);
}

/// The worst of what a rule says of a design and does not say, word for word, of the sound one.
std::optional<Verdict> worst_beside(const Checked& base, const Checked& checked,
                                    std::string_view rule) {
  std::optional<Verdict> worst;
  for (const Finding& f : checked.findings) {
    const bool said =
        std::any_of(base.findings.begin(), base.findings.end(), [&](const Finding& b) {
          return b.rule == f.rule && b.subject == f.subject && b.message == f.message;
        });
    if (f.rule == rule && !said && (!worst || f.verdict > *worst)) worst = f.verdict;
  }
  return worst;
}

TEST_CASE("each rule has its faulty example, which raises it at the verdict that it announces") {
  const Checked base = checked(faulty("base"));
  for (const Rule* rule : rules()) {
    CAPTURE(rule->name);
    const std::string file = faulty(rule->name);
    const std::string promise = announced(file);
    REQUIRE_MESSAGE(!promise.empty(), file << " is missing, or has no `# raises:` line");
    const auto found = worst_beside(base, checked(file), rule->name);
    REQUIRE(found.has_value());
    CHECK(std::string(rule->name) + " " + std::string(word_of(*found)) == promise);
  }
}

TEST_CASE("each faulty example belongs to a rule") {
  for (const auto& entry : std::filesystem::directory_iterator(examples::folder + "faulty"))
    if (const auto name = entry.path().stem().string(); name != "base")
      CHECK_MESSAGE(rule_named(name) != nullptr, name);
}

TEST_CASE("the sound base raises no rule") {
  const Checked base = checked(faulty("base"));
  CHECK(base.verdicts.worse() == Verdict::pass);
  for (const Finding& f : base.findings) {
    CAPTURE(f.message);
    CHECK(f.verdict == Verdict::pass);
  }
  // The profile's text on the smallest conductor was not read.
  REQUIRE(base.silences.size() == 1);
  CHECK(base.silences.front().rule == "smallest-conductor");
}

TEST_CASE("what is beyond a limit names its cure, and every finding what it is about") {
  for (const std::string& file : examples::all())
    for (const Finding& f : checked(file).findings) {
      CAPTURE(file);
      CAPTURE(f.rule);
      CAPTURE(f.message);
      CHECK(!f.message.empty());
      CHECK(!f.subject.text().empty());
      CHECK(!f.source.title.empty());
      if (f.verdict >= Verdict::caution) CHECK(!f.cure.empty());
      if (f.verdict >= Verdict::caution && f.measured) CHECK(f.margin.value() < 0.0);
    }
}

}  // namespace
}  // namespace housepower::checks::checks_faulty_examples
