// SPDX-License-Identifier: Apache-2.0
// Designs written as text again, and what was chosen as an option pack: read back, nothing is lost.
#include <doctest/doctest.h>

#include <unistd.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "checks/examples.hpp"
#include "housepower/choice/choose.hpp"
#include "housepower/range/compare.hpp"
#include "housepower/reading/write.hpp"
#include "support/command.hpp"

namespace pack_pack_file {

using namespace housepower;
using namespace examples;
using housepower::test::run_program;
using housepower::test::text_of;

namespace {

design::Document document_of(const Node& node) {
  Diagnostics problems;
  auto d = design::document_of(node, problems);
  REQUIRE(d);
  return *d;
}
Node read_back(const Node& node) {
  Diagnostics problems;
  const auto parsed = parse_toml(toml_of(node), "written.toml", problems);
  REQUIRE(parsed);
  return *parsed;
}
/// Every key that is not the same, as a review would list it.
std::string changes(const Node& a, const Node& b) {
  std::string all;
  for (const auto& c : range::design_changes(a, b, shipped())) all += c.path + "\n";
  return all;
}
Node node_in(const std::string& file) {
  Diagnostics problems;
  const auto node = design::read_design(file, from_disk, {}, problems);
  REQUIRE(node);
  return *node;
}
std::vector<std::string> sized() {
  return {folder + "sizing/pellibri.toml", folder + "sizing/marrowick.toml",
          folder + "sizing/quondelay.toml"};
}

struct Folder {
  std::string path = "/tmp/housepower-packs-" + std::to_string(getpid());
  Folder() { std::filesystem::create_directory(path); }
  ~Folder() { std::filesystem::remove_all(path); }
};

}  // namespace

TEST_CASE("a design written out again states the same, each value to its last digit") {
  for (const auto& file : all()) {
    CAPTURE(file);
    Node typed = node_in(file);
    if (Node::Entry* rules = typed.find("rules"))  // an empty list says no more than none
      std::erase_if(std::get<Node::Table>(rules->value.value), [](const Node::Entry& e) {
        const auto* list = std::get_if<Node::List>(&e.value.value);
        return list && list->empty();
      });
    const Node written = design::node_of(document_of(typed));
    CHECK(changes(typed, written) == "");
    const Node again = read_back(written);
    CHECK(changes(written, again) == "");
    CHECK(toml_of(design::node_of(document_of(again))) == toml_of(written));
  }
}

TEST_CASE("what overlay writes makes any design of any other") {
  std::vector<std::string> files = all();
  for (const auto& file : sized()) files.push_back(file);
  for (const auto& a : files)
    for (const auto& b : files) {
      CAPTURE(a);
      CAPTURE(b);
      const Node base = design::node_of(document_of(node_in(a))),
                 after = design::node_of(document_of(node_in(b)));
      const Node change = overlay(base, after);
      CHECK(changes(merged(base, change), after) == "");
      CHECK(std::get<Node::Table>(change.value).empty() == (a == b));
    }
}

/// The places that a design names for its sizing, as overrides; where it names none, its own.
std::vector<std::string> places_of(const std::string& file) {
  const std::string text = text_of(file);
  const auto begins = text.find("\nplaces = [");
  if (begins == text.npos) return {""};
  std::vector<std::string> sets;
  const auto ends = text.find(']', begins);
  for (auto from = text.find('"', begins); from < ends;) {
    const auto to = text.find('"', from + 1);
    sets.push_back(" --set place/name=" + text.substr(from + 1, to - from - 1));
    from = text.find('"', to + 1);
  }
  return sets;
}

TEST_CASE("size writes a pack that keeps what it said, under every rule") {
  const Folder out;
  for (const auto& file : sized()) {
    CAPTURE(file);
    const std::string pack = out.path + "/pack.toml";
    const auto ran = run_program("size '" + file + "' --format json -o " + pack);
    REQUIRE(ran.exit == 0);
    const auto answer = nlohmann::json::parse(ran.out);
    const auto& best = answer["best"];
    const auto check = run_program("check " + pack + " --format json");
    CHECK(check.exit == 0);
    const auto checked = nlohmann::json::parse(check.out);
    CHECK(checked["verdict"] == best["verdict"]);
    double least = 1e9;  // of the places for which it was sized
    for (const auto& set : places_of(file)) {
      const auto ran_there = run_program("energy " + pack + set + " --format json");
      const auto energy = nlohmann::json::parse(ran_there.out);
      least = std::min(least, energy["autonomy_d"].get<double>());
    }
    CHECK(least == doctest::Approx(best["autonomy_d"].get<double>()).epsilon(1e-12));
    // An option pack like those among the examples: it extends, and does not repeat.
    CHECK(text_of(pack).find("extends = ") != std::string::npos);
    CHECK(text_of(pack).find("[[appliance]]") == std::string::npos);
    CHECK(text_of(pack).starts_with("# The "));
    CHECK(text_of(pack).find("See SAFETY.md.") != std::string::npos);
  }
}

TEST_CASE("no lighter part of the catalogue passes in the place of the one that was chosen") {
  const Folder out;  // the start of the blender counts beside nothing, not beside itself
  const std::string pack = out.path + "/pack.toml";
  REQUIRE(run_program("size examples/sizing/pellibri.toml -o " + pack).exit == 0);
  CHECK(std::get<std::string>(node_in(pack).at("inverter/inverter/mass")->value) == "2.5 kg");
  CHECK(run_program("check " + pack).exit == 0);
}

TEST_CASE("the one place that is asked for is the place of the pack that is written") {
  const Folder out;
  const std::string pack = out.path + "/pack.toml";
  const auto ran = run_program(
      "size examples/sizing/pellibri.toml --place darwin --month july --stay '1 d' --autonomy "
      "'2.1 d' -o " +
      pack);
  REQUIRE(ran.exit == 0);
  CHECK(ran.out.find("judged at Darwin") != std::string::npos);
  CHECK(std::get<std::string>(node_in(pack).at("place/name")->value) == "darwin");
  CHECK(std::get<std::string>(node_in(pack).at("bank/capacity")->value) == "300 Ah");
  CHECK(run_program("check " + pack).exit == 0);
}

TEST_CASE("wiring writes what it chose for what was open") {
  const Folder out;
  const std::string van = "examples/faulty/base.toml", pack = out.path + "/wired.toml";
  const std::string open = out.path + "/open.toml";
  std::ofstream(open) << "schema = 1\nextends = \"" << HOUSEPOWER_SOURCE_DIR << "/" << van
                      << "\"\n[[run]]\nname = \"cooler\"\nremove = [\"conductor\"]\n";
  const auto ran = run_program("wiring " + open + " -o " + pack);
  CHECK(ran.exit == 0);
  CHECK(ran.err == "");
  const Node written = node_in(pack);
  const auto chosen = choice::choose(document_of(node_in(open)), shipped());
  REQUIRE(chosen.found_all);
  CHECK(changes(design::node_of(chosen.document), written) == "");
  CHECK(written.at("run/cooler/conductor") != nullptr);
  CHECK(written.at("run/cooler/conductor")->place.file == pack);
  // What stands in until then is told as such.
  const auto shown = run_program("wiring " + open).out;
  CHECK(shown.find("mm2 (open)") != std::string::npos);
  CHECK(shown.find("(open): the design states no conductor") != std::string::npos);
  CHECK(run_program("wiring " + pack).out.find("(open)") == std::string::npos);
  CHECK(run_program("test-sheet " + open).out.find("STILL TO BE CHOSEN: the conductors of") !=
        std::string::npos);
  // Instead of the answer, where both would go to standard output.
  CHECK(run_program("wiring " + open + " -o -").out.starts_with("# Conductors"));
}

TEST_CASE("wiring writes no pack where nothing was chosen, and says so") {
  const Folder out;
  const std::string pack = out.path + "/wired.toml";
  const auto nothing_open = run_program("wiring examples/faulty/base.toml -o " + pack);
  CHECK(nothing_open.exit == 1);
  CHECK(nothing_open.err.find("leaves nothing open") != std::string::npos);
  CHECK_FALSE(std::filesystem::exists(pack));
  const std::string hopeless = out.path + "/hopeless.toml";
  std::ofstream(hopeless) << "schema = 1\nextends = \"" << HOUSEPOWER_SOURCE_DIR
                          << "/examples/faulty/base.toml\"\n[[run]]\nname = \"cooler\"\nlength = "
                             "\"900 m\"\nremove = [\"conductor\"]\n";
  const auto none = run_program("wiring " + hopeless + " -o " + pack);
  CHECK(none.exit == 1);
  CHECK(none.err.find("no conductor for run \"cooler\": ") != std::string::npos);
  CHECK(none.err.find("no pack is written") != std::string::npos);
  CHECK_FALSE(std::filesystem::exists(pack));
}

TEST_CASE("overrides are among what a pack holds; the design that it extends is not written over") {
  const Folder out;
  const std::string van = "examples/sizing/pellibri.toml", pack = out.path + "/pack.toml";
  CHECK(run_program("size " + van + " --stay '3 d' --set 'appliance/Fans/quantity=2' -o " + pack)
            .exit == 0);
  const Node written = node_in(pack);
  CHECK(written.at("promise/stay")->place.file == pack);
  CHECK(std::get<std::string>(written.at("promise/stay")->value) == "3 d");
  CHECK(std::get<std::int64_t>(written.at("appliance/Fans/quantity")->value) == 2);

  const std::string own = out.path + "/own.toml";
  std::string open = text_of(HOUSEPOWER_SOURCE_DIR "/examples/faulty/base.toml");
  const auto conductor = open.find("conductor = ", open.find("\nname = \"cooler\""));
  open.erase(conductor, open.find('\n', conductor) - conductor);  // something to choose for
  std::ofstream(own) << open;
  const std::string before = text_of(own);
  const auto refused = run_program("wiring " + own + " -o " + own);
  CHECK(refused.exit == 2);
  CHECK(refused.err.find("is read for this answer and would be lost") != std::string::npos);
  CHECK(text_of(own) == before);
  const std::string over = out.path + "/over.toml";  // nor the one below it, nor the catalogue
  std::ofstream(over) << "schema = 1\nextends = \"own.toml\"\n";
  CHECK(run_program("wiring " + over + " -o " + own).exit == 2);
  CHECK(text_of(own) == before);
  const std::string parts = out.path + "/parts.toml";
  std::filesystem::copy_file(HOUSEPOWER_SOURCE_DIR "/examples/parts.toml", parts);
  CHECK(run_program("size " + van + " --catalogue " + parts + " -o " + parts).exit == 2);
  CHECK(text_of(parts).find("[[part]]") != std::string::npos);
}

TEST_CASE("where nothing keeps the promise, no pack is written") {
  const Folder out;
  const std::string pack = out.path + "/pack.toml";
  const auto ran = run_program(
      "size examples/sizing/pellibri.toml --set 'vehicle/electrical_mass_allowance=40 kg' -o " +
      pack);
  CHECK(ran.exit == 1);
  CHECK(ran.err.find("no pack is written") != std::string::npos);
  CHECK(!std::filesystem::exists(pack));
}

TEST_CASE(
    "a weather file is looked for beside the file that names it, also from a pack elsewhere") {
  const Folder out;
  std::filesystem::create_directories(out.path + "/base");
  std::string text = text_of(HOUSEPOWER_SOURCE_DIR "/examples/pellibri.toml");
  const auto at = text.find("[place]\nname = \"hobart\"");
  REQUIRE(at != text.npos);
  text.replace(at, 23, "[place]\nweather = \"none.epw\"");
  std::ofstream(out.path + "/base/van.toml") << text;
  std::ofstream(out.path + "/pack.toml") << "schema = 1\nextends = \"base/van.toml\"\n";
  const auto ran = run_program("check " + out.path + "/pack.toml");
  CHECK(ran.exit == 4);
  CHECK(ran.err.find("base/none.epw\" cannot be read") != std::string::npos);
  CHECK(ran.err.find("beside the file that names it") != std::string::npos);
}

}  // namespace pack_pack_file
