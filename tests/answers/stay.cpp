// SPDX-License-Identifier: Apache-2.0
// A stay as a caller of the library asks it: the first figure against the whole answer, in any order
// of the work, and stopped in the midst of it.
#include "housepower/answers/stay.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

#include "answers/given.hpp"

namespace answers_stay {

using namespace housepower;
using given_examples::given;
using given_examples::shipped_file;
using given_examples::three;

namespace {

answers::StayReport whole(const design::Opened& o, const energy::Each& each) {
  Diagnostics problems;
  auto r = answers::stay(given(o, "van.toml"), {}, problems, each);
  REQUIRE(r.has_value());
  return *std::move(r);
}
answers::FirstFigure first(const design::Opened& o, const answers::StayAsked& asked) {
  Diagnostics problems;
  auto f = answers::first_figure_of_a_stay(given(o, "van.toml"), asked, problems);
  REQUIRE(f.has_value());
  return *std::move(f);
}
bool lies_in(Duration d, const std::array<Duration, 2>& between) {
  return d >= between[0] && d <= between[1];
}
void last_first(int count, const std::function<void(int)>& f) {
  for (int i = count; i-- > 0;) f(i);
}

}  // namespace

TEST_CASE("the whole answer of a stay lies where its first figure says") {
  for (const auto name : three) {
    CAPTURE(std::string(name));
    const auto opened = examples::opened(shipped_file(name));
    const auto r = whole(opened, energy::one_after_another);
    const auto f = first(opened, {});
    CHECK(f.coarse);
    CHECK(f.answer.starts < r.answer.starts / 10);
    CHECK(lies_in(r.answer.parked.met, f.parked));
    CHECK(lies_in(r.answer.met, f.met));
    CHECK(lies_in(f.answer.met, f.met));
  }
}

TEST_CASE("it does so in each month that a design can state") {
  for (const auto name : three)
    for (int month = 0; month < 12; month += 3) {
      CAPTURE(std::string(name));
      CAPTURE(month);
      const auto opened = examples::opened(
          shipped_file(name), {"place/month=\"" + std::string(energy::month_name(month)) + "\""});
      const auto& d = opened.design;
      const auto f = first(opened, {});
      CHECK(f.answer.month == month);
      const energy::Surroundings around(d, *energy::weather_of(d, 100, energy::usual_seed), {},
                                        checks::check(opened.document, d).charging);
      energy::StayQuestion q;
      q.month = month;
      const auto answer = energy::stay(d, around, q);
      REQUIRE(answer.has_value());
      CHECK(lies_in(answer->parked.met, f.parked));
      CHECK(lies_in(answer->met, f.met));
    }
}

TEST_CASE("where nearly every stay must last, the first figure is of all years") {
  const auto opened =
      examples::opened(shipped_file("pellibri"), {"promise/chance=0.99", "place/month=\"july\""});
  answers::StayAsked asked;
  asked.years = 25;
  const auto f = first(opened, asked);
  Diagnostics problems;
  const auto r = answers::stay(given(opened, "van.toml"), asked, problems);
  REQUIRE(r.has_value());
  CHECK_FALSE(f.coarse);
  CHECK(f.answer.met == r->answer.met);
  CHECK(f.answer.parked.met == r->answer.parked.met);
}

TEST_CASE("of several months that may be the hardest, the first figure's ends are the least") {
  const auto opened = examples::opened(shipped_file("quondelay"));
  const auto f = first(opened, {});
  for (int month = 0; month < 12; ++month) {
    const auto one =
        first(examples::opened(shipped_file("quondelay"),
                               {"place/month=\"" + std::string(energy::month_name(month)) + "\""}),
              {});
    CHECK(f.met[1] <= one.met[1]);
    CHECK(f.parked[1] <= one.parked[1]);
  }
}

TEST_CASE("years and people beyond what can be asked are refused") {
  const auto opened = examples::opened(shipped_file("pellibri"));
  for (const int years : {0, -1, 2001}) {
    answers::StayAsked asked;
    asked.years = years;
    Diagnostics problems;
    CHECK_FALSE(answers::stay(given(opened, "van.toml"), asked, problems).has_value());
    CHECK(problems.any_error());
    CHECK_FALSE(
        answers::first_figure_of_a_stay(given(opened, "van.toml"), asked, problems).has_value());
  }
}

TEST_CASE("a first figure of as few years as are asked for is the answer itself") {
  const auto opened = examples::opened(shipped_file("pellibri"));
  answers::StayAsked asked;
  asked.years = 5;
  const auto f = first(opened, asked);
  Diagnostics problems;
  const auto r = answers::stay(given(opened, "van.toml"), asked, problems);
  REQUIRE(r.has_value());
  CHECK_FALSE(f.coarse);
  CHECK(f.answer.month == r->answer.month);
  CHECK(f.answer.met == r->answer.met);
  CHECK(f.answer.parked.met == r->answer.parked.met);
}

TEST_CASE("a stay is the same in whatever order its years are simulated") {
  const auto opened = examples::opened(shipped_file("quondelay"));
  const auto a = whole(opened, energy::one_after_another), b = whole(opened, last_first);
  CHECK(a.answer.met == b.answer.met);
  CHECK(a.answer.gathered == b.answer.gathered);
  CHECK(a.seasons->easiest.month == b.seasons->easiest.month);
  REQUIRE(a.levers.all.size() == b.levers.all.size());
  for (std::size_t i = 0; i < a.levers.all.size(); ++i) {
    CHECK(a.levers.all[i].change == b.levers.all[i].change);
    CHECK(a.levers.all[i].met == b.levers.all[i].met);
  }
}

TEST_CASE("what the caller's function throws ends the answer") {
  const auto opened = examples::opened(shipped_file("pellibri"));
  Diagnostics problems;
  int years = 0;
  const energy::Each for_a_while = [&](int count, const std::function<void(int)>& f) {
    for (int i = 0; i < count; ++i) {
      if (++years > 7) throw std::runtime_error("enough");
      f(i);
    }
  };
  CHECK_THROWS_AS((void)answers::stay(given(opened, "van.toml"), {}, problems, for_a_while),
                  std::runtime_error);
  CHECK(years == 8);
}

TEST_CASE("a stay without a bank or a place is refused with a word on what is missing") {
  const std::string text = R"(schema = 1
[vehicle]
name = "empty van"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
)";
  const auto opened =
      examples::opened("sketch.toml", {}, [&](std::string_view) { return std::optional(text); });
  for (const bool soon : {true, false}) {
    Diagnostics problems;
    const auto one = given(opened, "sketch.toml");
    const bool answered = soon ? answers::first_figure_of_a_stay(one, {}, problems).has_value()
                               : answers::stay(one, {}, problems).has_value();
    CHECK_FALSE(answered);
    REQUIRE(problems.all.size() == 1);
    CHECK(problems.all.front().key == "bank");
    CHECK(problems.all.front().place.file == "sketch.toml");
  }
}

}  // namespace answers_stay
