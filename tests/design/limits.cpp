// SPDX-License-Identifier: Apache-2.0
// What is beyond our own limit is refused in words, at once.
#include "housepower/design/catalogue.hpp"
#include "van.hpp"

namespace design_limits {

using namespace van;

namespace {

std::string with_runs(std::size_t more) {
  std::string all = text;
  for (std::size_t i = 0; i < more; ++i)
    all += "[[run]]\nname = \"spare " + std::to_string(i) +
           "\"\nfrom = \"bank\"\nto = \"panel\"\nlength = \"2 m\"\n";
  return all;
}
std::string with_lamps(std::size_t more) {
  std::string all = text;
  for (std::size_t i = 0; i < more; ++i)
    all += "[[appliance]]\nname = \"lamp " + std::to_string(i) + "\"\npower = \"5 W\"\n";
  return all;
}

}  // namespace

TEST_CASE(
    "a design of too many runs or places is refused with the limit, its number and a way out") {
  struct Row {
    std::string text, key, says;
  };
  const std::size_t most = design::largest_design;
  for (const Row& row :
       {Row{with_runs(most), "run", " runs; no more than 2500 are calculated"},
        Row{with_lamps(most), "node", " nodes and appliances; no more than 2500"}}) {
    const Tried tried = opened(row.text);
    CHECK_FALSE(tried.opened);
    REQUIRE(tried.diagnostics.all.size() == 1);
    const auto& said = tried.diagnostics.all.front();
    CHECK(said.key == row.key);
    CHECK_MESSAGE(said.message.find(row.says) != std::string::npos, said.message);
    CHECK(said.hint.find("divide it into designs of their own") != std::string::npos);
  }
}

namespace {

/// Each quantity below a list of fields that lacks a limit on one side, by its path.
void without_limits(FieldList list, const std::string& path, std::vector<std::string>& found,
                    int depth = 0) {
  for (const Field& f : list) {
    if (f.role != Field::Role::member) continue;
    const Shape* shape = f.shape;
    while (shape->items) shape = shape->items;
    const std::string own = path + "/" + std::string(f.key);
    if (shape->form == Shape::Form::table && depth < 8)
      without_limits(shape->inner(), own, found, depth + 1);
    if (shape->form == Shape::Form::quantity && (!(f.least || f.above) || !f.most))
      found.push_back(own);
  }
}

}  // namespace

TEST_CASE("every quantity of a design and of a catalogue has a least and a most") {
  std::vector<std::string> found;
  without_limits(design::document_fields(), "", found);
  without_limits(design::catalogue_fields(), "catalogue", found);
  for (const auto& path : found) FAIL_CHECK(path << " has no limit on one side");
}

TEST_CASE("the least of what divides something is what a meter could show, not next to nothing") {
  for (const std::string set :
       {"bank/nominal_voltage=1e-308 V", "bank/nominal_voltage=1e-9 V", "bank/capacity=1e-9 Ah",
        "vehicle/system_voltage=1e-300 V", "run/bank to panel/length=1e-12 m",
        "run/bank to panel/length=1e308 m", "array/roof/module/power=1e-6 W",
        "controller/controller/max_charge_current=1e-9 A", "promise/stay=1e-9 d",
        "place/record_low=-300 °C"}) {
    CAPTURE(set);
    const Tried tried = opened(text, Defaults::ordinary, {set});
    CHECK_FALSE(tried.opened);
    REQUIRE(!tried.diagnostics.all.empty());
    CHECK(tried.diagnostics.all.front().place.line > 0);
    CHECK(tried.diagnostics.all.front().place.column > 0);
  }
}

TEST_CASE("a name longer than an answer holds is refused with place and hint") {
  std::string whole = text;
  const auto at = whole.find("Two-berth tourer");
  REQUIRE(at != whole.npos);
  whole.insert(at, std::string(4000, 'x'));
  const Tried tried = opened(whole);
  CHECK_FALSE(tried.opened);
  const auto* said = tried.about("vehicle/name");
  REQUIRE(said);
  CHECK(said->place == Place{"van.toml", 3, 8, said->place.width});
  CHECK(said->hint.find("at most 200") != said->hint.npos);
}

}  // namespace design_limits
