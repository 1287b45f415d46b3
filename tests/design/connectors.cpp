// SPDX-License-Identifier: Apache-2.0
// Assemblies and connectors: what a plug becomes in the design, and each name or number that cannot
// be meant with its place.
#include "van.hpp"

namespace design_connectors {

using namespace van;

namespace {

const std::string plug =
    R"(inline = [{ kind = "plug", connector = "X3", outgoing = [1], return = [2], distance = "1.2 m" }])";

/// The sound van with its fridge in a kitchen that is plugged to the floor.
const std::string& plugged() {
  static const std::string changed = [] {
    std::string whole = with(text, "[bank]\n", R"([[assembly]]
name = "kitchen"
station = "furniture 2"
[[assembly]]
name = "floor"
[[connector]]
name = "X3"
between = ["kitchen", "floor"]
cavities = 4
rating = "13 A"
resistance = "3 mΩ"
[bank]
)");
    whole = with(whole, "power = \"45 W\"\n", "power = \"45 W\"\nassembly = \"kitchen\"\n");
    return with(whole, "length = \"4 m\"\n", "length = \"4 m\"\n" + plug + "\n");
  }();
  return changed;
}

const design::resolved::Run& fridge(const Design& design) { return design->runs[1]; }

struct Row {
  std::string_view from, to;  // the change of the plugged van
  std::string_view key;       // what the complaint is about
  std::string_view at;        // the text at its place
  std::string_view says;      // part of the message or of the hint
};

void check(const Row& row) {
  CAPTURE(std::string(row.to));
  const std::string whole = with(plugged(), row.from, row.to);
  const Tried tried = opened(whole);
  CHECK_FALSE(tried.opened);
  CHECK(tried.diagnostics.all.size() == 1);
  for (const auto& d : tried.diagnostics.all) CAPTURE(d.key + ": " + d.message);
  const auto* said = tried.about(row.key);
  REQUIRE(said);
  const Place place = place_in(whole, row.at);
  CHECK(said->place.line == place.line);
  CHECK(said->place.column == place.column);
  const std::string told = said->message + " — " + said->hint;
  CHECK_MESSAGE(told.find(row.says) != std::string::npos, told);
}

}  // namespace

TEST_CASE("a plug of a connector sits in both poles, with the connector's contact in each") {
  const Tried tried = opened(plugged());
  const Design& design = tried.design();
  const auto& item = fridge(design).inline_items.at(0);
  REQUIRE(item.connector.has_value());
  CHECK(design->connectors[*item.connector].name == "X3");
  CHECK(item.outgoing == std::vector<int>{1});
  CHECK(item.back == std::vector<int>{2});
  CHECK(item.in(design::Pole::outgoing).value() == doctest::Approx(3e-3));
  CHECK(item.in(design::Pole::return_).value() == doctest::Approx(3e-3));
  CHECK(item.rating == 13.0 * ampere);  // of its contacts together
  CHECK(item.distance == 1.2 * metre);
  CHECK(fridge(design).things() == 2);
  CHECK(fridge(design).joints == 4 + 2 * 2);  // four lugs, and two at the plug in each pole
  CHECK(design->assemblies[design[fridge(design).to].assembly].station == "furniture 2");
  CHECK(design[fridge(design).from].assembly.index == -1);
}

TEST_CASE(
    "contacts in parallel share: half the resistance, twice the rating of the pole with fewer") {
  const Tried tried =
      opened(with(plugged(), "outgoing = [1], return = [2]", "outgoing = [1, 3], return = [2, 4]"));
  const auto& item = fridge(tried.design()).inline_items.at(0);
  CHECK(item.in(design::Pole::outgoing).value() == doctest::Approx(1.5e-3));
  CHECK(item.rating == 26.0 * ampere);
  const Tried uneven =
      opened(with(plugged(), "outgoing = [1], return = [2]", "outgoing = [1, 3], return = [2]"));
  CHECK(fridge(uneven.design()).inline_items.at(0).rating == 13.0 * ampere);
}

TEST_CASE("a contact that states no resistance has 5 mΩ, and with the kindest defaults none") {
  const std::string unstated = with(plugged(), "resistance = \"3 mΩ\"\n", "");
  const Tried ordinary = opened(unstated), kindest = opened(unstated, Defaults::kindest);
  CHECK(fridge(ordinary.design()).inline_items.at(0).resistance.value() == doctest::Approx(5e-3));
  CHECK(fridge(kindest.design()).inline_items.at(0).resistance == 0.0 * ohm);
  const auto* told = assumed(ordinary.design(), "run/fridge/inline/0/resistance");
  REQUIRE(told);
  CHECK(told->value == "5 mΩ");
}

TEST_CASE("a plug that passes one pole only breaks the other nowhere") {
  const Tried tried = opened(with(plugged(), ", return = [2]", ""));
  const auto& run = fridge(tried.design());
  CHECK_FALSE(run.inline_items.at(0).sits_in(design::Pole::return_));
  CHECK(run.inline_items[0].in(design::Pole::return_) == 0.0 * ohm);
  CHECK(run.things_in(design::Pole::return_) == 0);
}

TEST_CASE("connectors, cavities and assemblies that are not there are refused where they stand") {
  for (const Row& row : {
           Row{"connector = \"X3\"", "connector = \"X4\"", "run/fridge/inline/0/connector",
               "\"X4\"", "there is \"X3\""},
           Row{"outgoing = [1]", "outgoing = [5]", "run/fridge/inline/0/outgoing/0", "5], return",
               "from 1 to 4"},
           Row{"return = [2]", "return = [1]", "run/fridge/inline/0/return/0", "1], distance",
               "is taken already"},
           Row{"\"kitchen\", \"floor\"]", "\"kitchen\", \"flor\"]", "connector/X3/between/1",
               "\"flor\"", "did you mean \"floor\"?"},
           Row{"\"kitchen\", \"floor\"]", "\"kitchen\", \"kitchen\"]", "connector/X3/between/1",
               "\"kitchen\"]", "the same assembly"},
           Row{"[\"kitchen\", \"floor\"]", "[\"kitchen\"]", "connector/X3/between", "[\"kitchen\"]",
               "wants two assemblies"},
           Row{"assembly = \"kitchen\"\n", "assembly = \"kitchn\"\n", "appliance/Fridge/assembly",
               "\"kitchn\"", "did you mean \"kitchen\"?"},
           Row{"resistance = \"3 mΩ\"\n", "rating_all_loaded = \"14 A\"\n",
               "connector/X3/rating_all_loaded", "\"14 A\"", "is more than the rating"},
           Row{"kind = \"plug\", connector", "kind = \"isolator\", connector",
               "run/fridge/inline/0/connector", "\"X3\", outgoing", "is for plugs only"},
           Row{"connector = \"X3\", outgoing = [1], return = [2]", "outgoing = [1]",
               "run/fridge/inline/0/outgoing", "[1], distance", "name its `connector`"},
           Row{", outgoing = [1], return = [2]", "", "run/fridge/inline/0/outgoing",
               "{ kind = \"plug\"", "which cavities"},
           Row{"distance = \"1.2 m\"", "distance = \"4.2 m\"", "run/fridge/inline/0/distance",
               "\"4.2 m\"", "beyond the run"},
           Row{"name = \"floor\"\n", "name = \"floor\"\n[[assembly]]\nname = \"floor\"\n",
               "assembly/2/name", "\"floor\"\n[[connector]]", "is taken already"},
       })
    check(row);
}

TEST_CASE("two runs cannot use one cavity, and the first is named") {
  const std::string whole = with(plugged(), "length = \"1 m\"\n",
                                 "length = \"1 m\"\ninline = [{ kind = \"plug\", connector = "
                                 "\"X3\", outgoing = [2], return = [4] }]\n");
  const Tried tried = opened(whole);
  CHECK_FALSE(tried.opened);
  const auto* said = tried.about("run/to inverter/inline/0/outgoing/0");
  REQUIRE(said);
  CHECK(said->place.line == place_in(whole, "2], return = [4]").line);
  CHECK(said->place.column == place_in(whole, "2], return = [4]").column);
  CHECK(said->hint == "the first is at van.toml:" + std::to_string(place_in(whole, plug).line));
}

TEST_CASE("both ends of a controller are built into its assembly") {
  const std::string whole = with(plugged(), "max_charge_current = \"30 A\"\n",
                                 "max_charge_current = \"30 A\"\nassembly = \"floor\"\n");
  const Tried tried = opened(whole);
  int ends = 0;
  for (const auto& post : tried.design()->posts)
    if (post.name == "controller.in" || post.name == "controller.out") {
      CHECK(tried.design()->assemblies[post.assembly].name == "floor");
      ++ends;
    }
  CHECK(ends == 2);
}

}  // namespace design_connectors
