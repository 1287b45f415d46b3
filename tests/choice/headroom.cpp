// SPDX-License-Identifier: Apache-2.0
// What is left over bears its test: a little less passes every rule, a little more does not.
#include "housepower/choice/headroom.hpp"

#include "checks/examples.hpp"

namespace choice_headroom {
namespace {

using namespace examples;

/// The worst verdict of each rule of wiring on a subject that the sound van does not have already.
bool objects(const design::Document& document) {
  Diagnostics problems;
  const auto d = design::resolve(document, shipped(), Defaults::ordinary, problems);
  REQUIRE(d);
  const Checked all = checks::check(document, *d);
  return std::any_of(all.findings.begin(), all.findings.end(), [](const Finding& f) {
    return f.verdict >= Verdict::caution && !f.subject.is(design::Subject::Kind::promise);
  });
}

}  // namespace

TEST_CASE("a run bears what is said, and not a tenth more") {
  const auto base = opened(faulty("base"));
  const auto all = choice::headroom(base.document, shipped());
  int tried = 0;
  for (const auto& one : all) {
    CAPTURE(one.of);
    CAPTURE(one.rule);
    const std::string post = one.of == "cooler"          ? "Cooler"
                             : one.of == "pump"          ? "Water pump"
                             : one.of == "bank to panel" ? "panel"
                                                         : "";
    if (post.empty()) continue;
    REQUIRE(one.spare);
    ++tried;
    CHECK_FALSE(objects(choice::with_load(base.document, post, 0.97 * *one.spare)));
    CHECK(objects(choice::with_load(base.document, post, 1.1 * *one.spare)));
  }
  CHECK(tried == 3);
}

TEST_CASE("one more battery may fall short of what it brings, and so may a larger inverter") {
  const auto base = opened(faulty("base"));
  const auto all = choice::what_if(base.document, shipped());
  REQUIRE(all.size() == 1);  // it has no inverter
  CHECK(all.front().change == "one more battery");
  // three in a row without devices of their own: advised against from three up
  CHECK(std::any_of(all.front().findings.begin(), all.front().findings.end(), [](const Finding& f) {
    return f.rule == "unprotected-source-end" && f.subject == "bank/each_battery";
  }));

  const auto van = opened(folder + "pellibri.toml");
  const auto larger = choice::what_if(van.document, shipped());
  REQUIRE(larger.size() == 2);
  CHECK(larger[1].change.find("900 W") != std::string::npos);  // half as large again as 600 W
  CHECK(std::any_of(larger[1].findings.begin(), larger[1].findings.end(), [](const Finding& f) {
    return f.rule == "fuse-above-load" && f.subject == "run/main bar to inverter/protection/0";
  }));
}

}  // namespace choice_headroom
