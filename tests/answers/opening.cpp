// SPDX-License-Identifier: Apache-2.0
// From the text of a question to a checked design, with texts from memory: as the engine itself
// answers, with problems as data, and on tables that are parsed once.
#include "housepower/answers/opening.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <map>
#include <memory>

#include "housepower/answers/named_files.hpp"
#include "housepower/energy/demand.hpp"

namespace answers_opening {
namespace {

using namespace housepower;
using answers::Opening;
using answers::Question;
using answers::Shelf;

std::string example(const std::string& name) {
  std::ifstream file(HOUSEPOWER_SOURCE_DIR "/examples/" + name, std::ios::binary);
  REQUIRE(file);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// Texts under the names that designs use for each other.
FileReader reader_of(std::map<std::string, std::string, std::less<>> files) {
  return [files = std::move(files)](std::string_view name) -> FileContent {
    const auto found = files.find(name);
    return found == files.end() ? FileContent::none("there is no such file")
                                : FileContent(std::optional(found->second));
  };
}

FileReader marrowick() {
  return reader_of(
      {{"van.toml", example("marrowick.toml")}, {"parts.toml", example("parts.toml")}});
}

Question about(const std::string& file) {
  Question question;
  question.file = file;
  return question;
}

const Diagnostic* first_error(const Diagnostics& diagnostics) {
  for (const auto& one : diagnostics.all)
    if (one.severity == Severity::error) return &one;
  return nullptr;
}

TEST_CASE("a question for nobody, or for a crowd, is refused") {
  for (const int people : {0, -2, 21}) {
    Shelf shelf;
    Diagnostics diagnostics;
    auto question = about("van.toml");
    question.people = people;
    CHECK_FALSE(answers::open(question, shelf, marrowick(), diagnostics));
    REQUIRE(first_error(diagnostics) != nullptr);
    CHECK(first_error(diagnostics)->key == "people");
  }
}

TEST_CASE("a question from memory is checked as the engine checks the same design") {
  Shelf shelf;
  Diagnostics diagnostics;
  const auto opening = answers::open_checked(about("van.toml"), shelf, marrowick(), diagnostics);
  REQUIRE(opening);
  CHECK_FALSE(diagnostics.any_error());
  auto engine = checks::check(*opening->document, *opening->design, checks::Workings::left_out);
  checks::locate(engine.findings, opening->node);
  REQUIRE(opening->checked.findings.size() == engine.findings.size());
  for (std::size_t i = 0; i < engine.findings.size(); ++i) {
    const auto& asked = opening->checked.findings[i];
    const auto& direct = engine.findings[i];
    CHECK(asked.rule == direct.rule);
    CHECK(asked.subject == direct.subject);
    CHECK(asked.verdict == direct.verdict);
    CHECK(asked.message == direct.message);
    CHECK(asked.place == direct.place);
  }
  CHECK(opening->checked.verdicts.safety == engine.verdicts.safety);
  CHECK(opening->checked.verdicts.service == engine.verdicts.service);
  CHECK(opening->digest.size() == 16);
}

TEST_CASE("what a question changes is in the design, in what is told and in the digest") {
  Shelf shelf;
  Diagnostics diagnostics;
  const auto plain = answers::open(about("van.toml"), shelf, marrowick(), diagnostics);
  Question more = about("van.toml");
  more.add = {"Air fryer: 1400 W, 0.3 h, inverter"};
  more.at = "-42.1, 146.6, 730 m";
  const auto changed = answers::open(more, shelf, marrowick(), diagnostics);
  REQUIRE(plain);
  REQUIRE(changed);
  CHECK((*changed->design)->appliances.size() == (*plain->design)->appliances.size() + 1);
  CHECK((*changed->design)->appliances.back().name == "Air fryer");
  CHECK((*changed->design)->site.made);
  CHECK(plain->told.empty());
  REQUIRE_FALSE(changed->told.empty());
  CHECK(changed->told.front().starts_with("Added: Air fryer"));
  CHECK(changed->digest != plain->digest);
}

TEST_CASE("habits are of all that so many people would use, and the day ends it only then") {
  // The design is for four. Lights: 20 W in a window of 5 h. Bunk fans: two of 6 W, 6 h in one of 12 h.
  const auto use = [](int people, energy::Use habits, std::string_view of) {
    Shelf shelf;
    Diagnostics diagnostics;
    Question question = about("van.toml");
    question.people = people;
    const auto opened = answers::open(question, shelf, marrowick(), diagnostics);
    REQUIRE(opened);
    energy::Habit habit;
    habit.use = habits;
    for (const auto& c : energy::consumption(
             *opened->design, energy::air_of_day(*opened->design, 6), nullptr, habit))
      if (c.name == of) return double(c.energy / watt_hour);
    return -1.0;
  };
  using energy::Use;
  CHECK(use(8, Use::frugal, "Lights") == doctest::Approx(20.0 * 5.0));  // 0.75 · 2 · 5 h = 7.5 h
  CHECK(use(4, Use::frugal, "Lights") == doctest::Approx(20.0 * 3.75));
  CHECK(use(8, Use::typical, "Lights") == doctest::Approx(20.0 * 5.0));
  CHECK(use(12, Use::frugal, "Bunk fans") == doctest::Approx(12.0 * 12.0));  // 13.5 h
  CHECK(use(8, Use::frugal, "Bunk fans") == doctest::Approx(12.0 * 9.0));
  CHECK(use(12, Use::typical, "Bunk fans") == doctest::Approx(12.0 * 12.0));
  CHECK(use(1, Use::frugal, "Bunk fans") == doctest::Approx(12.0 * 1.125));  // 0.75 · 6 h / 4
}

TEST_CASE("problems of a question come back as data, each at its place") {
  Shelf shelf;
  const auto problem_of = [&](const Question& question) {
    Diagnostics diagnostics;
    CHECK_FALSE(answers::open_checked(question, shelf, marrowick(), diagnostics));
    const auto* error = first_error(diagnostics);
    REQUIRE(error);
    return *error;
  };
  CHECK(problem_of(about("other.toml")).key == answers::unreadable);
  Question wrong = about("van.toml");
  wrong.at = "south";
  CHECK(problem_of(wrong).place.file == "--at");
  Question two_places = about("van.toml");
  two_places.town = "hobart";
  two_places.at = "-42.1, 146.6, 730 m";
  CHECK(problem_of(two_places).key == "place");
  Question no_such = about("van.toml");
  no_such.without = {"Sauna"};
  CHECK(problem_of(no_such).place.file == "--without");
}

TEST_CASE("tables are parsed once for many questions, and whole ones serve each part") {
  Shelf shelf;
  Diagnostics diagnostics;
  const auto whole = shelf.tables({}, diagnostics);
  REQUIRE(whole);
  CHECK(shelf.tables({}, diagnostics) == whole);
  const auto first = answers::open(about("van.toml"), shelf, marrowick(), diagnostics);
  REQUIRE(first);
  CHECK(first->tables == whole);

  Shelf small;
  const auto part = answers::open(about("van.toml"), small, marrowick(), diagnostics);
  const auto again = answers::open(about("van.toml"), small, marrowick(), diagnostics);
  REQUIRE(part);
  REQUIRE(again);
  CHECK(part->tables == again->tables);
  const auto every =
      answers::open(about("van.toml"), small, marrowick(), diagnostics, answers::Towns::every);
  REQUIRE(every);
  CHECK(every->tables != part->tables);
  CHECK(every->tables->towns.size() == whole->towns.size());
  CHECK(part->digest == first->digest);
}

TEST_CASE("a table of one's own that does not read is told at every question") {
  Shelf shelf(std::vector<answers::TableText>{{"ampacity/mine.toml", "this is no table"}});
  for (int i = 0; i < 2; ++i) {
    Diagnostics diagnostics;
    CHECK_FALSE(answers::open(about("van.toml"), shelf, marrowick(), diagnostics));
    CHECK(diagnostics.any_error());
  }
}

TEST_CASE("a shelf keeps what the last questions needed, not what all ever did") {
  Shelf shelf;
  Diagnostics problems;
  std::weak_ptr<const tables::Tables> first = shelf.tables({.town = "hobart"}, problems);
  CHECK_FALSE(first.expired());
  for (const char* town : {"adelaide", "albany", "brisbane", "broome", "cairns", "canberra",
                           "ceduna", "darwin", "perth"})
    (void)shelf.tables({.town = town}, problems);
  CHECK(first.expired());
  CHECK_FALSE(problems.any_error());
}

}  // namespace
}  // namespace answers_opening
