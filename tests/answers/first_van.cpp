// SPDX-License-Identifier: Apache-2.0
// The van to start from works, and each question changes one value and nothing beside it.
#include "housepower/answers/first_van.hpp"

#include <doctest/doctest.h>

#include "checks/examples.hpp"

namespace answers_first_van {

using namespace housepower;

namespace {

design::Opened opened(const std::string& text) {
  Diagnostics problems;
  const FileReader only = [&](std::string_view) -> FileContent { return std::optional(text); };
  auto one =
      design::open_design("van.toml", only, {}, examples::shipped(), Defaults::ordinary, problems);
  REQUIRE(one.has_value());
  return *std::move(one);
}

}  // namespace

TEST_CASE("the first van passes as it stands") {
  const auto van = opened(std::string(answers::first_van()));
  const auto checked = examples::checked(van);
  CHECK(checked.verdicts.safety == checks::Verdict::pass);
  CHECK(checked.verdicts.service == checks::Verdict::pass);
}

TEST_CASE("an answer takes the place of its value, and every comment stays") {
  const std::string before(answers::first_van());
  REQUIRE(answers::first_questions().size() == 8);
  const char* const typed[] = {
      "Our \"first\" van", "munich", "4", "3 d", "300 Ah", "60 W", "12 W", "3.5 m"};
  for (std::size_t i = 0; i < 8; ++i) {
    const auto& question = answers::first_questions()[i];
    CAPTURE(question.path);
    Diagnostics problems;
    // What stands there is what is offered.
    CHECK(answers::with_answer(before, question, question.otherwise, problems) == before);
    const std::string after = answers::with_answer(before, question, typed[i], problems);
    CHECK(problems.all.empty());
    CHECK(after != before);
    CHECK(std::count(after.begin(), after.end(), '\n') ==
          std::count(before.begin(), before.end(), '\n'));
    CHECK(std::count(after.begin(), after.end(), '#') ==
          std::count(before.begin(), before.end(), '#'));
    const auto van = opened(after);
    const Node* value = van.node.at(question.path);
    REQUIRE(value != nullptr);
    const auto* text = std::get_if<std::string>(&value->value);
    CHECK((text ? *text : std::to_string(std::get<std::int64_t>(value->value))) == typed[i]);
  }
}

TEST_CASE("an answer that the format does not take is told and leaves the file as it was") {
  const std::string before(answers::first_van());
  for (const std::size_t i : {1u, 3u, 4u}) {
    Diagnostics problems;
    CHECK(answers::with_answer(before, answers::first_questions()[i], "a good deal", problems) ==
          before);
    CHECK(problems.any_error());
  }
}

}  // namespace answers_first_van
