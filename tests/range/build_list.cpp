// SPDX-License-Identifier: Apache-2.0
// The build list against a small van worked out by hand, and laws that hold for every design: each
// conductor, device and item stands in it just once, and no two labels are alike.
#include "housepower/range/build_list.hpp"

#include <doctest/doctest.h>

#include <map>
#include <random>
#include <set>

#include "checks/examples.hpp"
#include "design/van.hpp"

namespace range_build_list {
namespace {

using namespace housepower;
using namespace housepower::range;
using design::Pole;
using On = Landing::On;

const std::string head = R"(schema = 1
[rules]
profile = "au-nz-caravan"
[wiring]
insulation = "90 °C"
insulation_material = "xlpe"
[[device]]
name = "main fuse"
breaking_capacity = "20 kA"
rated_voltage = "32 V"
curve = [[1.35, "600 s"], [6.0, "0.5 s"]]
[[node]]
name = "panel"
kind = "panel"
stud = "M6"
[[appliance]]
name = "Lamp"
power = "12 W"
[[run]]
name = "lamp"
label = "L1"
from = "panel"
to = "Lamp"
length = "3 m"
conductor = "2.5 mm2"
protection = [{ end = "from", type = "iso-8820-3-c", rating = "5 A", distance = "0 m" }]
[bank]
chemistry = "lfp"
capacity = "100 Ah"
nominal_voltage = "12.8 V"
terminal = { stud = "M8" }
)";

const std::string small_van = head + R"(quantity = 2
links = { positive = { conductor = "25 mm2", length = "0.2 m" }, negative = { conductor = "25 mm2", length = "0.2 m" } }
[vehicle]
name = "By hand"
system_voltage = "12 V"
[build]
allowance = "0.1 m"
[chassis]
resistance = "5 mΩ"
[[node]]
name = "bar"
kind = "bus bar"
stud = "M8"
[[inverter]]
name = "inverter"
rating = "1000 W"
stud = "M8"
[[appliance]]
name = "Horn"
power = "24 W"
[[run]]
name = "feed"
from = "bank"
to = "bar"
length = "1.5 m"
conductor = "35 mm2"
protection = [{ end = "from", type = "main fuse", rating = "100 A", distance = "0.2 m" }]
inline = [
  { kind = "isolator", rating = "275 A" },
  { kind = "shunt", rating = "300 A", pole = "return" },
]
[[run]]
name = "panel feed"
from = "bar"
to = "panel"
length = "4 m"
conductor = "10 mm2"
return = { length = "3.5 m" }
protection = [{ end = "from", type = "main fuse", rating = "50 A", distance = "0 m" }]
[[run]]
name = "to inverter"
from = "bank"
to = "inverter"
length = "1 m"
conductor = "50 mm2"
parallel = 2
[[run]]
name = "horn"
from = "panel"
to = "Horn"
length = "5 m"
conductor = "1.5 mm2"
chassis_return = true
protection = [{ end = "from", type = "iso-8820-3-c", rating = "5 A", distance = "0 m" }]
)";

/// No allowance, another colour for the negative pole, its feed still open.
const std::string other_van = head + R"(quantity = 1
[vehicle]
name = "Other"
system_voltage = "12 V"
[build]
colours = "iec-60445"
[[run]]
name = "panel feed"
from = "bank"
to = "panel"
length = "2 m"
)";

struct Listed {
  van::Tried tried;
  BuildList list;
  explicit Listed(const std::string& text)
      : tried(van::opened(text)), list(build_list(tried.design())) {}
  [[nodiscard]] const BuildConductor& at(std::string_view label) const {
    for (const auto& c : list.conductors)
      if (c.label == label) return c;
    FAIL("no conductor " << label);
    return list.conductors.front();
  }
};

BuildTotals total_of(const BuildList& list) {
  const Model one{list, "one", 1};
  return totals_of({&one, 1});
}
const CableTotal* cable(const BuildTotals& totals, std::string_view size, std::string_view colour) {
  for (const auto& c : totals.cables)
    if ((c.conductor ? c.conductor->name : "") == size && c.colour == colour) return &c;
  return nullptr;
}
int ends(const BuildTotals& totals, std::string_view size, On on, std::string_view what,
         std::string_view at = "") {
  int number = 0;
  for (const auto& e : totals.ends)
    if (e.on.on == on && e.on.what == what && e.on.at == at && e.conductor &&
        e.conductor->name == size)
      number += e.number;
  return number;
}
int all_ends(const BuildTotals& totals, On on) {
  int number = 0;
  for (const auto& e : totals.ends)
    if (e.on.on == on) number += e.number;
  return number;
}
int part_count(const std::vector<PartTotal>& list, std::string_view what, double amperes) {
  for (const auto& p : list)
    if (p.what == what && p.rating && std::abs(*p.rating / ampere - amperes) < 1e-9)
      return p.number;
  return 0;
}
doctest::Approx metres(double value) { return doctest::Approx(value).epsilon(1e-12); }

}  // namespace

TEST_CASE("lengths to cut are those of the run and the allowance of each of its pieces") {
  const Listed v(small_van);
  // The fuse at 0.2 m and the isolator cut the outgoing conductor in three, the shunt the return in
  // two: 1.5 + 3 · 0.1 and 1.5 + 2 · 0.1.
  const auto &out = v.at("W02+"), &back = v.at("W02−");
  CHECK(out.pieces() == 3);
  CHECK(out.to_cut / metre == metres(1.8));
  REQUIRE(out.breaks.size() == 2);
  CHECK(out.breaks[0].on.at == "main fuse 100 A");
  CHECK(*out.breaks[0].at / metre == metres(0.2));
  CHECK(out.breaks[1].on.at == "isolator 275 A");
  CHECK_FALSE(out.breaks[1].at);
  CHECK(back.pieces() == 2);
  CHECK(back.to_cut / metre == metres(1.7));
  CHECK(back.breaks[0].on.at == "shunt 300 A");
  CHECK(v.at("W03−").to_cut / metre == metres(3.6));  // a return of its own length
  CHECK(v.at("L1+").colour == "red");
  CHECK(v.at("L1−").colour == "black");
  CHECK(v.at("W04+1").to_cut / metre == metres(1.1));
  CHECK(v.at("W04−2").to_cut / metre == metres(1.1));
  CHECK(v.at("W05+").to_cut / metre == metres(5.1));
  CHECK(v.at("B1-2−").to_cut / metre == metres(0.3));
  CHECK(v.list.conductors.size() == 2 + 2 + 2 + 4 + 1 + 2);
  REQUIRE(v.list.left_out.size() == 1);  // the horn returns through the chassis
  CHECK(v.list.left_out[0].find("\"horn\"") != std::string::npos);
}

TEST_CASE("cable, copper, lugs and devices of a van worked out by hand") {
  const Listed v(small_van);
  const BuildTotals t = total_of(v.list);
  struct Row {
    const char *size, *colour;
    double length;
    int pieces;
  };
  for (const Row& row : {Row{"1.5 mm2", "red", 5.1, 1}, Row{"2.5 mm2", "red", 3.1, 1},
                         Row{"2.5 mm2", "black", 3.1, 1}, Row{"10 mm2", "red", 4.1, 1},
                         Row{"10 mm2", "black", 3.6, 1}, Row{"25 mm2", "red", 0.3, 1},
                         Row{"25 mm2", "black", 0.3, 1}, Row{"35 mm2", "red", 1.8, 3},
                         Row{"35 mm2", "black", 1.7, 2}, Row{"50 mm2", "red", 2.2, 2},
                         Row{"50 mm2", "black", 2.2, 2}}) {
    CAPTURE(row.size);
    CAPTURE(row.colour);
    const auto* c = cable(t, row.size, row.colour);
    REQUIRE(c != nullptr);
    CHECK(c->to_cut / metre == metres(row.length));
    CHECK(c->number == row.pieces);
  }
  CHECK(t.cables.size() == 11);
  // 1.5 · 5.1 + 2.5 · 6.2 + 10 · 7.7 + 25 · 0.6 + 35 · 3.5 + 50 · 4.4 = 457.65 mm²·m; at 8.96 g/cm³
  // each mm²·m is 8.96 g: 4.100544 kg.
  CHECK(t.copper / kilogram == doctest::Approx(4.100544).epsilon(1e-9));

  // 16 pieces have 32 ends.
  CHECK(ends(t, "35 mm2", On::stud, "M8") == 4);  // bank and bar
  CHECK(ends(t, "10 mm2", On::stud, "M8") == 1);  // the return at the bar; the other is at its fuse
  CHECK(ends(t, "10 mm2", On::stud, "M6") == 2);
  CHECK(ends(t, "50 mm2", On::stud, "M8") == 8);
  CHECK(ends(t, "25 mm2", On::stud, "M8") == 4);
  CHECK(all_ends(t, On::stud) == 19);
  CHECK(ends(t, "35 mm2", On::not_stated, "", "main fuse 100 A") == 2);
  CHECK(ends(t, "35 mm2", On::not_stated, "", "isolator 275 A") == 2);
  CHECK(ends(t, "35 mm2", On::not_stated, "", "shunt 300 A") == 2);
  CHECK(ends(t, "10 mm2", On::not_stated, "", "main fuse 50 A") == 1);
  CHECK(ends(t, "2.5 mm2", On::not_stated, "", "Lamp") == 2);
  CHECK(ends(t, "1.5 mm2", On::not_stated, "", "Horn") == 1);
  CHECK(all_ends(t, On::not_stated) == 10);
  CHECK(ends(t, "2.5 mm2", On::no_lug, "way of a panel") == 2);
  CHECK(ends(t, "1.5 mm2", On::no_lug, "way of a panel") == 1);
  CHECK(all_ends(t, On::no_lug) == 3);

  CHECK(part_count(t.devices, "main fuse", 100) == 1);
  CHECK(part_count(t.devices, "main fuse", 50) == 1);
  CHECK(part_count(t.devices, "iso-8820-3-c", 5) == 2);
  CHECK(t.devices.size() == 3);
  CHECK(part_count(t.items, "isolator", 275) == 1);
  CHECK(part_count(t.items, "shunt", 300) == 1);
  CHECK(t.items.size() == 2);
}

TEST_CASE("a plan adds up six of one model and four of another") {
  const Listed one(small_van), other(other_van);
  const Model models[] = {{one.list, "By hand", 6}, {other.list, "Other", 4}};
  const BuildTotals t = totals_of(models);
  // 6 · 3.1 + 4 · 3.0, of the same size, insulation and colour; the negatives differ in colour.
  const auto* red = cable(t, "2.5 mm2", "red");
  REQUIRE(red != nullptr);
  CHECK(red->to_cut / metre == metres(30.6));
  CHECK(red->number == 10);
  REQUIRE(red->uses.size() == 2);
  CHECK(red->uses[0].model == 0);
  CHECK(red->uses[1].each == 1);
  CHECK(cable(t, "2.5 mm2", "black")->to_cut / metre == metres(18.6));
  CHECK(cable(t, "2.5 mm2", "white")->to_cut / metre == metres(12.0));
  CHECK(cable(t, "50 mm2", "red")->to_cut / metre == metres(13.2));
  // What is still to be chosen is listed, and weighs nothing yet.
  CHECK(cable(t, "", "red")->to_cut / metre == metres(8.0));
  CHECK(t.cables.front().conductor == std::nullopt);
  // 6 · 4.100544 kg + 4 · 2.5 mm² · 6 m · 8.96 g = 24.603264 + 0.5376
  CHECK(t.copper / kilogram == doctest::Approx(25.140864).epsilon(1e-9));
  CHECK(part_count(t.devices, "iso-8820-3-c", 5) == 6 * 2 + 4);
  CHECK(part_count(t.devices, "main fuse", 100) == 6);
  CHECK(ends(t, "50 mm2", On::stud, "M8") == 48);
  CHECK(ends(t, "2.5 mm2", On::not_stated, "", "Lamp") == 20);
}

TEST_CASE("leads and devices of a star are in the list, and their bars have no stud") {
  const std::string star = R"(quantity = 3
each_battery = { lead = { conductor = "50 mm2", length = "0.3 m" }, protection = { type = "main fuse", rating = "150 A" } }
[vehicle]
name = "Star"
system_voltage = "12 V"
[[run]]
name = "panel feed"
from = "bank"
to = "panel"
length = "2 m"
conductor = "16 mm2"
)";
  const Listed v(head + star);
  const BuildTotals t = total_of(v.list);
  CHECK(cable(t, "50 mm2", "red")->number == 6);  // three leads, each cut for its device
  CHECK(cable(t, "50 mm2", "black")->number == 3);
  CHECK(cable(t, "50 mm2", "red")->to_cut / metre == metres(0.9));
  CHECK(ends(t, "50 mm2", On::stud, "M8") == 6);
  CHECK(ends(t, "50 mm2", On::not_stated, "", "common bar of the bank") == 6);
  CHECK(ends(t, "50 mm2", On::not_stated, "", "main fuse 150 A") == 6);
  CHECK(ends(t, "16 mm2", On::not_stated, "", "common bar of the bank") == 2);
  CHECK(part_count(t.devices, "main fuse", 150) == 3);
}

TEST_CASE("what joins the batteries is asked for where it is not stated") {
  const std::string rest = "[vehicle]\nname = \"Asked\"\nsystem_voltage = \"24 V\"\n[[run]]\n"
                           "name = \"f\"\nfrom = \"bank\"\nto = \"panel\"\nlength = \"2 m\"\n";
  const Listed both(head + "quantity = 2\nin_series = 2\n" + rest);
  REQUIRE(both.list.left_out.size() == 2);
  CHECK(both.list.left_out[0].find("in parallel") != std::string::npos);
  CHECK(both.list.left_out[1].find("in series") != std::string::npos);
}

namespace {

/// Everything in the design just once, with labels of its own; sums agree with what is summed.
void check_laws(const design::Design& d) {
  const BuildList list = build_list(d);
  std::map<std::pair<std::string, Pole>, int> conductors;
  std::set<std::string> labels, sleeves;
  int pieces = 0;
  Length to_cut{};
  for (const auto& c : list.conductors) {
    CAPTURE(c.label);
    ++conductors[{c.wire, c.pole}];
    CHECK(labels.insert(c.label).second);
    CHECK(c.label_from.starts_with(c.label + " "));
    CHECK(c.label_to.starts_with(c.label + " "));
    CHECK(sleeves.insert(c.label_from).second);
    sleeves.insert(c.label_to);  // two ends of one conductor may bear the same text, no others
    pieces += c.pieces();
    to_cut += c.to_cut;
    CHECK(c.to_cut / metre ==
          metres((c.length + double(c.pieces()) * list.allowance.value_or(Length{})) / metre));
    Length before{};
    for (const Break& b : c.breaks) {
      if (!b.at) continue;
      CHECK(before <= *b.at);
      CHECK(*b.at <= c.length);
      before = *b.at;
    }
  }
  std::size_t devices = 0, items = 0;
  std::set<int> connectors;  // each once, however many runs pass it
  for (const auto& run : d->runs) {
    CAPTURE(run.name);
    CHECK(conductors[{run.label, Pole::outgoing}] == run.parallel);
    CHECK(conductors[{run.label, Pole::return_}] == (run.back.chassis ? 0 : run.parallel));
    devices += run.protection.size();
    for (const auto& item : run.inline_items) {
      items += item.connector ? 0 : 1;
      if (item.connector) connectors.insert(item.connector->index);
    }
  }
  if (d->bank && d->bank->each_device) devices += std::size_t(d->bank->parallel);
  CHECK(list.devices.size() == devices);
  CHECK(list.items.size() == items + connectors.size());

  const BuildTotals t = total_of(list);
  int in_cables = 0, in_ends = 0;
  Length in_all{};
  Mass copper{};
  for (const auto& c : t.cables) in_cables += c.number, in_all += c.to_cut, copper += c.copper;
  for (const auto& e : t.ends) {
    in_ends += e.number;
    CHECK((e.on.on == On::not_stated) == e.on.what.empty());
  }
  CHECK(in_cables == pieces);
  CHECK(in_ends == 2 * pieces);
  CHECK(in_all / metre == metres(to_cut / metre));
  CHECK(copper / kilogram == metres(t.copper / kilogram));
}

/// A van of random runs, with names and labels made to collide.
std::string random_van(std::mt19937& engine) {
  const auto below = [&](unsigned n) { return unsigned(engine() % n); };
  const char* tails[] = {
      "",   "+", "−",  ", with a comma",
      " →", "1", "-2", " of a name so long that it has to be cut on every sleeve ßäöü"};
  std::string text = "schema = 1\n[rules]\nprofile = \"au-nz-caravan\"\n[vehicle]\nname = \"R\"\n"
                     "system_voltage = \"12 V\"\n[chassis]\nresistance = \"5 mΩ\"\n";
  if (below(2) == 0) text += "[build]\nallowance = \"0.07 m\"\n";
  text += "[bank]\nchemistry = \"lfp\"\ncapacity = \"100 Ah\"\nnominal_voltage = \"12.8 V\"\n"
          "quantity = " +
          std::to_string(1 + below(4)) + "\n";
  const char* joined[] = {
      "", "links = { positive = { conductor = \"25 mm2\", length = \"0.2 m\" } }\n",
      "each_battery = { lead = { conductor = \"50 mm2\", length = \"0.3 m\" } }\n",
      R"(each_battery = { lead = { conductor = "50 mm2", length = "0.3 m" }, protection = { type = "strip", rating = "100 A" } }
)"};
  text += joined[below(4)];
  const char* labels[] = {"W02", "W2+", "W2", "B1", "B1-2", "W2+1", "W2−"};
  std::set<std::string> used;
  std::vector<std::string> posts{"bank"};
  for (unsigned i = 0; i < 3 + below(8); ++i) {
    const char* kinds[] = {"panel", "bus bar", "plug", "stud", "point"};
    const std::string name = "n" + std::to_string(i) + tails[below(8)], kind = kinds[below(5)];
    text += "[[node]]\nname = \"" + name + "\"\nkind = \"" + kind + "\"\n";
    if (below(2) == 0) text += "stud = \"M8\"\n";
    text += "[[run]]\nname = \"r" + std::to_string(i) + "\"\nfrom = \"" +
            posts[below(unsigned(posts.size()))] + "\"\nto = \"" + name + "\"\nlength = \"2 m\"\n";
    const std::string label = labels[below(7)];
    if (below(2) == 0 && used.insert(label).second) text += "label = \"" + label + "\"\n";
    if (below(3) != 0) text += "conductor = \"10 mm2\"\n";
    if (below(3) == 0) text += "parallel = " + std::to_string(2 + below(11)) + "\n";
    if (below(5) == 0) text += "chassis_return = true\n";
    const char* devices[] = {
        "",
        "protection = [{ end = \"from\", type = \"strip\", rating = \"60 A\", distance = \"0.3 m\" "
        "}]\n",
        "protection = [{ end = \"to\", type = \"strip\", rating = \"60 A\", distance = \"0 m\" }, "
        "{ end = \"from\", type = \"iso-8820-3-c\", rating = \"20 A\", distance = \"0 m\" }]\n",
        "protection = [{ end = \"to\", type = \"strip\", rating = \"60 A\", distance = \"0.2 m\" "
        "}, "
        "{ end = \"from\", type = \"strip\", rating = \"60 A\", distance = \"0.1 m\" }]\n"};
    text += devices[below(4)];
    if (below(3) == 0)
      text += "inline = [{ kind = \"isolator\", rating = \"100 A\" }, { kind = \"shunt\", pole = "
              "\"return\" }]\n";
    posts.push_back(name);
  }
  return text;
}

}  // namespace

TEST_CASE("everything in a design stands in its list just once, and no two labels are alike") {
  for (const auto& file : examples::all()) {
    if (examples::opened(file).document.run.empty()) continue;
    CAPTURE(file);
    check_laws(examples::opened(file).design);
  }
  std::mt19937 engine(20);
  for (int i = 0; i < 300; ++i) {
    const std::string text = random_van(engine);
    CAPTURE(text);
    check_laws(van::opened(text).design());
  }
}

}  // namespace range_build_list
