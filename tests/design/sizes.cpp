// SPDX-License-Identifier: Apache-2.0
// Bare numbers of conductors, and numbers with a decimal comma, in a design.
#include "van.hpp"

namespace design_sizes {

using namespace van;

namespace {

const std::string& conductor_of(const Tried& tried, std::size_t run) {
  REQUIRE(tried.opened);
  return *tried.opened->document.run[run].conductor;
}

}  // namespace

TEST_CASE("a bare conductor is of the series that the profile chooses from, and that is said") {
  for (const std::string written : {"\"35\"", "35"}) {
    CAPTURE(written);
    const Tried tried =
        opened(with(text, "conductor = \"35 mm2\"", "conductor = " + written));  // metric profile
    CHECK(conductor_of(tried, 0) == "35 mm2");
    REQUIRE(tried.diagnostics.all.size() == 1);
    const Diagnostic& told = tried.diagnostics.all.front();
    CHECK(told.severity == Severity::warning);
    CHECK(told.place.line == place_in(text, "\"35 mm2\"").line);
    CHECK(told.message == "\"35\" is read as 35 mm2, for `sizes` is metric");
  }
  CHECK(conductor_of(opened(with(text, "\"6 mm2\"", "2.5")), 1) == "2.5 mm2");
}

TEST_CASE("`sizes` of the file says which series a bare conductor is of") {
  const std::string awg =
      with(text, "profile = \"au-nz-caravan\"", "profile = \"au-nz-caravan\"\nsizes = \"awg\"");
  const Tried tried = opened(with(with(awg, "\"70 mm2\"", "\"2/0\""), "\"6 mm2\"", "\"6\""));
  CHECK(conductor_of(tried, 2) == "2/0 awg");
  CHECK(conductor_of(tried, 1) == "6 awg");
  CHECK(tried.diagnostics.all.size() == 1);  // one warning for both
  CHECK(tried.diagnostics.all.front().message.find("1 more") != std::string::npos);
}

TEST_CASE("a bare conductor that the series does not have is refused with its readings") {
  const Tried tried = opened(with(text, "\"70 mm2\"", "\"2/0\""));  // metric: there is none
  REQUIRE(tried.about("run/to inverter/conductor"));
  const Diagnostic& told = *tried.about("run/to inverter/conductor");
  CHECK(told.message == "\"2/0\" is a number without what it counts");
  // NEC ch. 9 table 8: 2/0 has 67.43 mm² (tables/conductors/nec-8.toml)
  CHECK(told.hint.find("\"2/0 awg\" has 67.4 mm² of copper") != std::string::npos);
  CHECK(told.hint.find("\"2/0 sae\"") != std::string::npos);
  CHECK(told.hint.find("2/0 mm2") == std::string::npos);
}

TEST_CASE("a design may write its decimals with a comma") {
  const Tried tried =
      opened(with(with(text, "\"2.4 m\"", "\"2,4 m\""), "\"0.15 m\"", "\"0,15 m\""));
  REQUIRE(tried.opened);
  CHECK(tried.opened->document.run[0].length == 2.4 * metre);
  CHECK(*tried.opened->document.run[0].protection[0].distance == 0.15 * metre);
}

TEST_CASE(
    "beside decimal commas a point before three figures is refused, for it may part thousands") {
  const std::string commas = with(text, "\"2.4 m\"", "\"2,4 m\"");
  const std::string points = with(text, "\"2000 W\"", "\"2.000 W\"");
  CHECK(opened(points).opened);  // where all decimals have a point it is 2 W
  const Tried tried = opened(with(commas, "\"2000 W\"", "\"2.000 W\""));
  CHECK_FALSE(tried.opened);
  REQUIRE(tried.about("inverter/inverter/rating"));
  const Diagnostic& told = *tried.about("inverter/inverter/rating");
  CHECK(told.place.line == place_in(text, "\"2000 W\"").line);
  CHECK(told.message.find("as 2.0 or as 2000") != std::string::npos);
  CHECK(told.hint == "write \"2.0 W\" or \"2000 W\"");
  CHECK(opened(with(commas, "\"0.15 m\"", "\"0.150 m\"")).opened);  // thousands begin with no 0
}

TEST_CASE("a comma that may part thousands is refused in a design at its place") {
  const Tried tried = opened(with(text, "\"1000 W\"", "\"1,000 W\""));
  REQUIRE(tried.about("appliance/Kettle/power"));
  CHECK(tried.about("appliance/Kettle/power")->place.line == place_in(text, "\"1000 W\"").line);
  CHECK(tried.about("appliance/Kettle/power")->hint == "write \"1.0 W\" or \"1000 W\"");
}

TEST_CASE("what cannot be read hides no name that leads nowhere") {
  const Tried tried =
      opened(with(with(with(text, "\"2.4 m\"", "\"2.4 V\""), "to = \"Fridge\"", "to = \"Frigde\""),
                  "\"au-nz-caravan\"", "\"au-nz-carvan\""));
  CHECK(tried.diagnostics.all.size() == 3);
  CHECK(tried.about("run/main/length"));
  CHECK(tried.about("run/fridge/to"));
  CHECK(tried.about("rules/profile"));
}

TEST_CASE("what follows from a value that cannot be read is not told") {
  // without its name the node "panel" is nowhere, and neither is what hangs on it
  const Tried nameless = opened(with(text, "name = \"panel\"", "name = 5"));
  CHECK(nameless.diagnostics.all.size() == 1);
  CHECK(nameless.about("node/0/name"));
  // the run that is left has a length that nobody stated: its device is not beyond it
  const Tried lengthless = opened(with(with(text, "length = \"2.4 m\"\n", ""), "0.15 m", "40 m"));
  CHECK(lengthless.diagnostics.all.size() == 1);
  CHECK(lengthless.about("run/main/length"));
}

TEST_CASE("lines that are no TOML are told one by one, and the rest is read") {
  const Tried tried = opened(with(with(with(text, "length = \"2.4 m\"", "length = 2.4 m"),
                                       "rating = \"2000 W\"", "rating = \"2000 W"),
                                  "capacity = \"100 Ah\"", "capacity = \"100 A\""));
  CHECK_FALSE(tried.opened);
  std::vector<int> lines;
  for (const auto& d : tried.diagnostics.all) lines.push_back(d.place.line);
  std::sort(lines.begin(), lines.end());
  std::vector<int> wrong;
  for (const auto* part : {"\"100 Ah\"", "\"2000 W\"", "\"2.4 m\""})
    wrong.push_back(place_in(text, part).line);
  CHECK(lines == wrong);
}

TEST_CASE("a line that lacks quotes is told with what to write") {
  const auto hint_of = [](std::string_view from, std::string_view to) {
    const Tried tried = opened(with(text, from, to));
    REQUIRE(tried.diagnostics.all.size() == 1);
    return tried.diagnostics.all.front().hint;
  };
  CHECK(hint_of("length = \"2.4 m\"", "length = 2.4 m # slack included") ==
        "put text and quantities in quotes: length = \"2.4 m\"");
  CHECK(hint_of("rating = \"2000 W\"", "rating = \"2000 W") == "the closing quote is missing");
}

TEST_CASE("a town is meant by the beginning of its name, with or without accents") {
  const auto place_of = [](const std::string& name) {
    return opened(with(text, "[[device]]", "[place]\nname = \"" + name + "\"\n[[device]]"));
  };
  struct Row {
    std::string typed, town;  // no town: refused
  };
  for (const Row& row :
       {Row{"Lyon", "lyon"}, Row{"LYON", "lyon"}, Row{"Málaga", "malaga"}, Row{"Tromsø", "tromso"},
        Row{"launc", "launceston"}, Row{"São", ""}, Row{"mount", ""}, Row{"ly", ""}}) {
    CAPTURE(row.typed);
    const Tried tried = place_of(row.typed);
    CHECK(tried.opened.has_value() == !row.town.empty());
    if (tried.opened) CHECK(tried.opened->design->site.town->name == row.town);
  }
}

}  // namespace design_sizes
