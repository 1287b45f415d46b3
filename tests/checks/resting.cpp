// SPDX-License-Identifier: Apache-2.0
// No pass of safety rests in silence on a value that the program supplied (rulings 3).
#include <map>
#include <tuple>

#include "examples.hpp"

namespace housepower::checks::checks_resting {
namespace {

using examples::faulty;
using examples::folder;

/// A key of each member of a list, or of a table, and what else a file might state there. Not among
/// them: how many there are of what is listed once (`quantity`, `parallel`, `in_series`), the return
/// beside its conductor (a run is a pair), and keys of which the strictest value is the default
/// (`enclosed`, `loads`, `runs`).
struct Key {
  std::string table, key;
  std::vector<std::string> values;
};
const std::vector<Key>& keys() {
  static const std::vector<Key> all{{"run", "insulation", {"90 °C"}},
                                    {"run", "insulation_material", {"xlpe"}},
                                    {"run", "laid", {"free", "conduit"}},
                                    {"run", "ambient", {"30 °C", "58 °C"}},
                                    {"run", "circuits_together", {"1", "9"}},
                                    {"run", "joints", {"14"}},
                                    {"run", "joint_resistance", {"0 mΩ", "0.5 mΩ"}},
                                    {"run", "inline/resistance", {"0 mΩ", "0.4 mΩ"}},
                                    {"bank", "resistance/low", {"1 mΩ", "1.9 mΩ"}},
                                    {"bank", "resistance/high", {"4.5 mΩ", "15 mΩ"}},
                                    {"bank", "links/positive/resistance", {"0 mΩ", "1 mΩ"}},
                                    {"bank", "links/negative/resistance", {"0 mΩ", "1 mΩ"}},
                                    {"bank", "each_battery/lead/resistance", {"0 mΩ", "1 mΩ"}},
                                    {"bank", "cycles_per_year", {"1", "300"}},
                                    {"bank", "cycle_depth", {"20 %"}},
                                    {"bank", "storage/charge", {"30 %"}},
                                    {"bank", "storage/temperature", {"40 °C"}},
                                    {"promise", "bank_age", {"20 y"}},
                                    {"promise", "reserve", {"0 %", "30 %"}},
                                    {"controller", "charge_voltage", {"13.9 V", "14.9 V"}},
                                    {"controller", "efficiency", {"70 %", "100 %"}},
                                    {"charger", "charge_voltage", {"13.9 V", "14.9 V"}},
                                    {"charger", "efficiency", {"70 %", "100 %"}},
                                    {"charger", "input_cut_out", {"10 V", "12.2 V"}},
                                    {"feed", "voltage/low", {"11.5 V"}},
                                    {"feed", "voltage/high", {"15.5 V"}},
                                    {"inverter", "no_load", {"40 W"}},
                                    {"inverter", "loss/k", {"0.3"}},
                                    {"inverter", "cut_out", {"9.5 V", "11.5 V"}},
                                    {"inverter", "ripple", {"1.3"}},
                                    {"appliance", "lowest_voltage", {"9 V"}},
                                    {"appliance", "behaves", {"constant-current"}}};
  return all;
}

/// "inline/0/resistance" of each member that has the table which the key stands in.
void add_paths(const Node& in, const std::string& path, std::string_view key,
               std::vector<std::string>& paths) {
  if (const auto* list = std::get_if<Node::List>(&in.value)) {
    for (std::size_t i = 0; i < list->size(); ++i)
      add_paths((*list)[i], path + "/" + std::to_string(i), key, paths);
    return;
  }
  const auto slash = key.find('/');
  if (slash == key.npos) return paths.push_back(path + "/" + std::string(key));
  const std::string first(key.substr(0, slash));
  if (const auto* inner = in.find(first))
    add_paths(inner->value, path + "/" + first, key.substr(slash + 1), paths);
}
std::vector<std::string> paths_of(const Node& design, const Key& key) {
  std::vector<std::string> paths;
  if (const auto* table = design.find(key.table))
    add_paths(table->value, key.table, key.key, paths);
  return paths;
}

void erase(Node& in, std::string_view path) {
  const auto slash = path.find('/');
  const std::string first(path.substr(0, slash));
  if (auto* list = std::get_if<Node::List>(&in.value))
    return erase((*list)[std::size_t(std::stoi(first))], path.substr(slash + 1));
  if (slash != path.npos) {
    if (auto* inner = in.find(first)) erase(inner->value, path.substr(slash + 1));
    return;
  }
  std::erase_if(std::get<Node::Table>(in.value),
                [&](const Node::Entry& entry) { return entry.key == first; });
}

/// Without the simulation of hours, on which no rule of safety rests.
std::optional<std::vector<Finding>> judged(const Node& node) {
  Diagnostics problems;
  const auto one = design::open_design(node, examples::shipped(), Defaults::ordinary, problems);
  if (!one) return std::nullopt;  // such a van cannot be stated
  const auto energy = energy::assess(one->design);
  const auto wiring = wiring::assess(one->design, load_cases(one->design, energy));
  return evaluate({one->design, energy, wiring, {}, Workings::left_out});
}

using Which = std::tuple<std::string, std::string, std::string>;
std::map<Which, const Finding*> by_which(const std::vector<Finding>& findings) {
  std::map<Which, const Finding*> all;
  for (const Finding& f : findings)
    all.try_emplace({std::string(f.rule), f.subject.text(), f.in_case}, &f);
  return all;
}

bool is_worse(const Finding& was, const Finding& now) {
  if (now.verdict != Verdict::pass) return true;
  return was.measured && now.measured && double(now.margin) < double(was.margin) - 1e-6;
}

std::string said_under(const Finding& f) {
  const auto at = f.message.find("rests on");
  return at == f.message.npos ? std::string() : f.message.substr(at);
}
std::string last_of(const std::string& key) { return key.substr(key.rfind('/') + 1); }

/// What passes without the key and would be worse with one of its values says that it rests on it.
void check_key(const Node& design, const Key& key, int& seen) {
  Node without = design;
  if (key.table == "run" && without.find("wiring")) erase(without, "wiring/" + key.key);
  const auto paths = paths_of(without, key);
  for (const auto& path : paths) erase(without, path);
  const auto silent = paths.empty() ? std::nullopt : judged(without);
  if (!silent) return;
  for (const auto& value : key.values) {
    Node with = without;
    Diagnostics problems;
    for (const auto& path : paths) (void)set(with, path + "=" + value, problems);
    const auto stated = judged(with);
    if (!stated) continue;
    const auto now = by_which(*stated);
    for (const Finding& f : *silent) {
      const auto same = now.find({std::string(f.rule), f.subject.text(), f.in_case});
      if (f.verdict != Verdict::pass || !f.of_safety || same == now.end() ||
          !is_worse(f, *same->second))
        continue;
      ++seen;
      CHECK_MESSAGE(said_under(f).find(last_of(key.key)) != std::string::npos,
                    key.table << "/" << key.key << " = " << value << ": " << f.rule << " "
                              << f.subject.text() << " [" << f.in_case << "] " << f.message);
    }
  }
}

}  // namespace

TEST_CASE("no pass of safety rests in silence on a value that the program supplied") {
  int seen = 0;
  for (const std::string& file :
       {folder + "marrowick.toml", folder + "pellibri.toml", folder + "quondelay.toml",
        folder + "two-berth.toml", faulty("base")}) {
    CAPTURE(file);
    Diagnostics problems;
    const auto node = design::read_design(file, examples::from_disk, {}, problems);
    REQUIRE(node.has_value());
    for (const Key& key : keys()) check_key(*node, key, seen);
  }
  CHECK(seen > 1000);  // it is asked of many
}

TEST_CASE("links pass on a lie that no key states, and on what the bank's runs leave unsaid") {
  const std::string quiet = "insulation = \"90 °C\"\ninsulation_material = \"xlpe\"\n";
  std::string text = *examples::from_disk(faulty("base"));
  text.erase(text.find(quiet), quiet.size());
  int links = 0;
  for (const Finding& f : examples::checked_text(text).findings) {
    if (f.verdict != Verdict::pass || f.rule != "ampacity" ||
        !f.subject.is(design::Subject::Kind::bank))
      continue;
    ++links;
    CAPTURE(f.message);
    CHECK(f.message.find("how they lie, which no key states: free") != std::string::npos);
    CHECK(f.message.find("insulation = 60 °C of 2 runs") != std::string::npos);
  }
  CHECK(links == 2);
}

TEST_CASE("a case that nobody stated and the joints on the way are said where nothing collapses") {
  std::string text = *examples::from_disk(faulty("base"));
  text.erase(text.find("[[case]]"));
  text.erase(text.find("joint_resistance = "),
             std::string("joint_resistance = \"0.1 mΩ\"\n").size());
  int cases = 0;
  for (const Finding& f : examples::checked_text(text).findings) {
    if (f.rule != "voltage-collapse") continue;
    ++cases;
    CAPTURE(f.message);
    CHECK(f.verdict == Verdict::pass);
    CHECK(f.message.find("none is stated: charge = 30 %, temperature = 20 °C") !=
          std::string::npos);
    CHECK(f.message.find("joint_resistance = that of 0.1 m of the conductor of 5 runs") !=
          std::string::npos);
  }
  CHECK(cases > 0);
}

TEST_CASE("a run's pass names only what feeds it and what it feeds") {
  std::string text = *examples::from_disk(faulty("base"));
  for (const std::string line : {"lowest_voltage = \"11.0 V\"\n", "lowest_voltage = \"10.8 V\"\n"})
    text.erase(text.find(line), line.size());
  for (const Finding& f : examples::checked_text(text).findings) {
    if (f.rule != "ampacity" || f.verdict != Verdict::pass) continue;
    CAPTURE(f.message);
    const auto under = said_under(f);
    if (f.subject.text() == "run/cooler") {
      CHECK(under.find("appliance/Cooler/lowest_voltage = 10.5 V") != under.npos);
      CHECK(under.find("Water pump") == under.npos);
    }
    if (f.subject.text() == "run/bank to panel")
      CHECK(under.find("lowest_voltage = 10.5 V of 2 appliances") != under.npos);
    if (f.subject.text() == "run/sun") CHECK(under.empty());
  }
}

TEST_CASE("a size that is a bare number is told as read, and a pass says that it rests on it") {
  const Checked found = examples::checked(faulty("base"), {"run/cooler/conductor=6"});
  int told = 0;
  for (const Finding& f : found.findings)
    if (f.rule == "ampacity" && f.subject.text() == "run/cooler") {
      ++told;
      CHECK(f.message.find("rests on values that the design does not state: conductor = 6 mm2") !=
            std::string::npos);
    }
  CHECK(told == 1);
  const auto one = examples::opened(faulty("base"), {"run/cooler/conductor=6"});
  const auto& all = one.design->assumptions;
  CHECK(std::any_of(all.begin(), all.end(), [](const Assumption& a) {
    return a.path == "run/cooler/conductor" && a.value == "6 mm2";
  }));
  CHECK(std::get<std::string>(one.node.at("run/cooler/conductor")->value) == "6 mm2");
}

}  // namespace housepower::checks::checks_resting
