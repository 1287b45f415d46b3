// SPDX-License-Identifier: Apache-2.0
// One finding as a page asks for it: the same as in the whole check, with its working.
#include "housepower/answers/one_finding.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "checks/examples.hpp"

namespace answers_one_finding {

using namespace housepower;

namespace {

FileContent from_disk(std::string_view path) {
  std::ifstream file{std::string(path), std::ios::binary};
  if (!file) return FileContent::none("there is no such file");
  std::ostringstream text;
  text << file.rdbuf();
  return FileContent(std::optional(text.str()));
}

answers::Opening opened(const std::string& name) {
  answers::Question question;
  question.file = examples::folder + "faulty/" + name + ".toml";
  answers::Shelf shelf;
  Diagnostics problems;
  auto opening = answers::open_checked(question, shelf, from_disk, problems);
  REQUIRE(opening.has_value());
  return *std::move(opening);
}

}  // namespace

TEST_CASE("one finding is that of the whole check, with its working and a cure that was tried") {
  const auto opening = opened("drop");
  Diagnostics problems;
  for (const auto& f : opening.checked.findings) {
    if (f.rule != "drop" && f.rule != "breaking-capacity") continue;
    CAPTURE(f.subject.text());
    const auto one =
        answers::one_finding(opening, {std::string(f.rule), f.subject.text(), f.in_case}, problems);
    REQUIRE(one.has_value());
    CHECK(one->verdict == f.verdict);
    CHECK(one->message == f.message);
    CHECK(one->place.line == f.place.line);
    CHECK(f.working.empty());
    CHECK(!one->working.empty());
    CHECK(one->cure_set.empty() == (f.verdict == Verdict::pass));
  }
}

TEST_CASE("asked for what is not there it tells what is") {
  const auto opening = opened("drop");
  const auto hint = [&](const answers::FindingAsked& asked) {
    Diagnostics problems;
    CHECK(!answers::one_finding(opening, asked, problems));
    REQUIRE(problems.all.size() == 1);
    return problems.all.front().hint;
  };
  CHECK(hint({"drops", "appliance/Cooler"}) == "did you mean \"drop\"?");
  CHECK(hint({"drop", "appliance/Cooller"}) == "did you mean \"appliance/Cooler\"?");
  CHECK(hint({"drop", "x"}).find("appliance/Water pump") != std::string::npos);
  CHECK(hint({"drop", "appliance/Cooler", "no such case"}).find("did you mean") !=
        std::string::npos);
  CHECK(hint({"tow-feed", "charger/x"}) == "it has none in this design");
}

TEST_CASE("in words a rule and its subject part at the first space") {
  const auto asked = answers::asked_in_words("drop appliance/Water pump");
  CHECK(asked.rule == "drop");
  CHECK(asked.subject == "appliance/Water pump");
  CHECK(!asked.in_case);
  CHECK(answers::asked_in_words("drop").subject.empty());
}

}  // namespace answers_one_finding
