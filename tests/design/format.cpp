// SPDX-License-Identifier: Apache-2.0
// The format itself: every key is read, explained and printed.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "housepower/design/design.hpp"

namespace design_format {

using namespace housepower;
using design::Document;

namespace {

// Every key of the format, but for alternatives of one another; not a sound design.
const std::string whole = R"(schema = 1
[vehicle]
name = "Two-berth tourer"
system_voltage = "12 V"
electrical_mass_allowance = "70 kg"
[rules]
profile = "au-nz-caravan"
ampacity_table = "bs-7671-4f2-90"
sizes = "metric"
inspected = ["box sealed from living space"]
[place]
name = "hobart"
month = "worst"
record_low = "-5 °C"
pitch = "open"
[promise]
autonomy = "3 d"
stay = "7 d"
chance = "90 %"
bank_age = "10 y"
arrive_at = "100 %"
reserve = "10 %"
arrive_time = "16:00"
people = 2
[wiring]
insulation = "90 °C"
insulation_material = "pvc"
laid = "conduit"
ambient = "40 °C"
circuits_together = 3
joints = 5
joint_resistance = "0.1 mΩ"
[[device]]
name = "main fuse type"
breaking_capacity = "20 kA"
rated_voltage = "32 V"
curve = [[1.35, "3600 s"], [2.0, "240 s"], [3.5, "5 s"], [6.0, "0.5 s"]]
curve_fast = [[2.0, "24 s"]]
ratings = ["100 A", "150 A", "200 A"]
[travel]
driving = "3 h"
generator = "1 h"
every = "3 d"
mains_nights = 0
parked = "28 d"
[[appliance]]
name = "Compressor fridge"
power = "45 W"
rated_at = "12 V"
power_factor = 1.0
supply = "dc"
behaves = "constant-power"
quantity = 1
between = ["00:00-24:00"]
per_day = "2 h"
duty = "40 %"
duty_per_kelvin = "4 %"
duty_at = "25 °C"
duty_in_cold = { at = "18 °C", per_kelvin = "4 %" }
used_by = "people"
days_of_seven = 7
while_parked = false
starting = { current = "12 A", time = "1 s" }
starts = 2
lowest_voltage = "10.9 V"
highest_voltage = "15.5 V"
drop_class = "other"
on = "panel"
assembly = "kitchen"
note = "a note stands anywhere"
[appliance.own]
anything = 3
[bank]
chemistry = "lfp"
quantity = 2
in_series = 1
capacity = "100 Ah"
nominal_voltage = "12.8 V"
resistance = { low = "2 mΩ", high = "5 mohm" }
charge_limit = "50 A"
discharge_limit = "100 A"
peak = { current = "200 A", time = "3 s" }
open_circuit_full = "14.1 V"
charge_voltage_highest = "14.6 V"
charge_cut_off_below = "0 degC"
charge_cut_off_above = "55 °C"
mass = "11.5 kg"
size = ["0.33 m", "0.17 m", "0.22 m"]
price = "420 EUR"
own_draw = "20 mA"
storage = { charge = "80 %", temperature = "25 °C" }
cycles_per_year = 100
cycle_depth = "80 %"
terminal = { stud = "M8", largest_conductor = "50 mm2" }
mounted = "outside-sealed"
takeoff_from = [1, 2]
links = { positive = { conductor = "35 mm2", length = "0.2 m" }, negative = { conductor = "35 mm2", length = "0.2 m" } }
[bank.box]
size = ["0.9 m", "0.35 m", "0.3 m"]
heat_transfer = "2.5 W/m2K"
absorptance = 0.3
heater = { power = "30 W", supplied_by = "charge", on_below = "2 °C", off_above = "5 °C" }
[[array]]
name = "roof"
modules = 2
in_series = 1
module = { power = "200 W", voc = "24.3 V", isc = "10.4 A", vmp = "20.4 V", imp = "9.8 A", voc_coefficient = "-0.28 %/K", power_coefficient = "-0.35 %/K", largest_series_fuse = "20 A", size = ["1.3 m", "0.8 m"], mass = "11 kg", price = "110 EUR" }
tilt = "0°"
azimuth = "90°"
mount = "roof-flat"
shade = "0 %"
soiling = "3 %"
covered = ["40 %", "20 %", "0", "0", "0", "0", "0", "0", "0", "0", "10 %", "40 %"]
to = "controller"
[[controller]]
name = "controller"
kind = "step-down"
max_voltage = "100 V"
max_short_circuit_current = "35 A"
max_charge_current = "30 A"
efficiency = "96 %"
own_draw = "0.3 W"
charge_voltage = "14.4 V"
mass = "1.3 kg"
price = "150 EUR"
stud = "M5"
[[charger]]
name = "drive charger"
kind = "dc-dc"
current = "40 A"
efficiency = "90 %"
input_cut_out = "11.5 V"
charge_voltage = "14.6 V"
input_voltage = { low = "12.2 V", normal = "13.5 V" }
mass = "1.8 kg"
price = "240 EUR"
stud = "M6"
[[feed]]
name = "tow vehicle"
kind = "tow-vehicle"
voltage = { low = "12.2 V", high = "14.7 V" }
resistance = { low = "8 mΩ", high = "20 mΩ" }
spare_current = "50 A"
[[inverter]]
name = "inverter"
rating = "2000 W"
surge = { power = "4000 W", time = "3 s" }
no_load = "24 W"
loss = { k = 0.11 }
loads = "listed"
runs = "always"
cut_out = "10.5 V"
ripple = 1.22
mass = "5 kg"
price = "510.50 EUR"
stud = "M8"
[[node]]
name = "panel"
kind = "panel"
largest_device = "150 A"
terminals = "90 °C"
ambient = "45 °C"
rating = "150 A"
slots = 12
sits = "inside"
stud = "M8"
assembly = "kitchen"
[[node]]
name = "post"
kind = "jump-post"
purpose = "wake"
[[assembly]]
name = "kitchen"
station = "furniture 2"
fitted_at = "line 4"
[[assembly]]
name = "floor"
[[connector]]
name = "X3"
between = ["kitchen", "floor"]
cavities = 8
rating = "13 A"
rating_all_loaded = "9 A"
largest_conductor = "2.5 mm2"
resistance = "3 mΩ"
contact = "pin 2.5"
strip = "5 mm"
[[run]]
name = "bank to panel"
from = "bank"
to = "panel"
label = "W07"
length = "2.4 m"
conductor = "70 mm2"
insulation = "90 °C"
insulation_material = "xlpe"
laid = "clipped"
ambient = "45 °C"
circuits_together = 2
sections = [ { length = "0.6 m", ambient = "60 °C", laid = "in-insulation", circuits_together = 3 } ]
parallel = 1
return = { conductor = "70 mm2", length = "2.6 m", to = "bank" }
joints = 4
joint_resistance = "0.05 mΩ"
conductor_temperature = "75 °C"
inline = [ { kind = "isolator", rating = "275 A", largest_device = "250 A", breaks_load = true, resistance = "0.1 mΩ", pole = "outgoing" }, { kind = "plug", connector = "X3", outgoing = [1], return = [2], distance = "1.2 m" } ]
protection = [ { end = "from", type = "ul-248-class-t", rating = "200 A", distance = "0.15 m", enclosed = true, sits = "box-wall", curve = [[1.35, "600 s"]], curve_fast = [[1.35, "60 s"]], breaking_capacity = "20 kA", rated_voltage = "125 V", backed_by = "main fuse type", assumed = ["distance", "sits"] } ]
[[case]]
name = "dinner"
running = ["Compressor fridge"]
charge = "30 %"
temperature = "10 °C"
starting = "Compressor fridge"
charging = []
[chassis]
resistance = "2 mΩ"
bonded_at = "bank"
bond = "16 mm2"
[build]
colours = "dc-red-black"
allowance = "0.1 m"
strip = { "M6" = "9 mm", "M8" = "11 mm" }
torque = { "M8" = "10 N m" }
lug = { "M6" = "ring M6", "35 mm2 M8" = "ring 35-8" }
die = { "35 mm2" = "hex 35" }
[drawing]
number = "E-0417"
revision = "B"
date = "2026-03-14"
drawn_by = "K. Tarn"
checked_by = "M. Oder"
[sizing]
catalogue = "parts.toml"
least = "price"
places = ["hobart", "darwin"]
roof_area = "5.5 m2"
most_batteries = 6
most_modules = 12
keep = ["inverter"]
[[part]]
name = "B100"
is = "battery"
capacity = "100 Ah"
nominal_voltage = "12.8 V"
mass = "11.5 kg"
[[part]]
name = "C30"
is = "controller"
kind = "step-down"
max_voltage = "100 V"
max_charge_current = "30 A"
[[part]]
name = "drum of 6"
is = "conductor"
size = "6 mm2"
price = "2.40 EUR"
in_stock = true
[[part]]
name = "cubes"
is = "device"
type = "main fuse type"
ratings = ["100 A", "150 A"]
price = "14 EUR"
in_stock = true
[own]
free = "ignored"
)";

const std::string between_towns = R"(schema = 1
[vehicle]
name = "Lake"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[place]
latitude = "-42.1°"
longitude = "146.6°"
height = "730 m"
)";

// The alternatives.
const std::string others = R"(schema = 1
[vehicle]
name = "Other"
system_voltage = "24 V"
[rules]
profile = "au-nz-caravan"
[place]
weather = "file.epw"
[promise]
unlimited = true
[[appliance]]
name = "Lamp"
current = "2 A"
on = "bank"
[bank]
chemistry = "lfp"
quantity = 2
in_series = 2
capacity = "100 Ah"
nominal_voltage = "12.8 V"
no_cold_cut_off = true
each_battery = { lead = { conductor = "35 mm2", length = "0.3 m" }, protection = { type = "terminal-cube", rating = "150 A", breaking_capacity = "10 kA" } }
[[array]]
name = "roof"
modules = 1
module = { power = "200 W" }
shade_by_hour = [0, 0, 0, 0, 0, 0, 0.5, 0.2, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, "50 %", 0, 0, 0, 0, 0]
to = "controller"
[[inverter]]
name = "inverter"
rating = "2000 W"
efficiency = "88 %"
[[run]]
name = "through the chassis"
from = "bank"
to = "inverter"
length = "1 m"
chassis_return = true
)";

Document document(const std::string& text) {
  Diagnostics d;
  const auto node = parse_toml(text, "van.toml", d);
  REQUIRE(node);
  const auto read = design::document_of(*node, d);
  for (const auto& one : d.all)
    FAIL_CHECK(one.place.line << ": " << one.key << ": " << one.message);
  REQUIRE(read);
  return *read;
}

int line_of(const std::string& text, std::string_view part) {
  const auto at = text.find(part);
  REQUIRE(at != text.npos);
  return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<long>(at), '\n'));
}

void each_key(FieldList list, const std::string& path,
              void (*visit)(const Field&, const std::string&)) {
  for (const Field& field : list) {
    if (field.role != Field::Role::member) continue;
    visit(field, path + std::string(field.key));
    const Shape* shape = field.shape->items ? field.shape->items : field.shape;
    if (shape->inner) each_key(shape->inner(), path + std::string(field.key) + ".", visit);
  }
}

}  // namespace

TEST_CASE("the whole format is read into the document") {
  const Document d = document(whole);
  CHECK(d.vehicle.system_voltage == 12.0 * volt);
  CHECK(d.location->record_low == celsius(-5));
  CHECK(d.promise->bank_age == 10.0 * year);
  CHECK(d.wiring->laid == design::Laid::conduit);
  REQUIRE(d.device.size() == 1);
  REQUIRE(d.device[0].curve.size() == 4);
  CHECK(d.device[0].curve[1].multiple == Ratio(2.0));
  CHECK(d.device[0].curve[1].time == 240.0 * second);
  REQUIRE(d.device[0].ratings.size() == 3);
  CHECK(d.device[0].ratings[2] == 200.0 * ampere);
  CHECK(d.appliance.at(0).starting->current == 12.0 * ampere);
  CHECK(d.appliance[0].place.line == line_of(whole, "[[appliance]]"));
  CHECK(d.bank->resistance->high->value() == doctest::Approx(0.005));
  CHECK(d.bank->takeoff_from == std::vector<int>{1, 2});
  CHECK(d.bank->links->negative->length == 0.2 * metre);
  CHECK(d.bank->box->size.size() == 3);
  CHECK(d.bank->box->heater->supplied_by == design::HeaterSupply::charge);
  CHECK(d.array.at(0).module.voc_coefficient->value() == doctest::Approx(-0.0028));
  CHECK(d.charger.at(0).kind == design::ChargerKind::dc_dc);
  CHECK(d.node.at(1).purpose == design::Purpose::wake);
  REQUIRE(d.run.size() == 1);
  CHECK(d.run[0].insulation_material == design::Insulation::xlpe);
  CHECK(d.run[0].return_->length == 2.6 * metre);
  CHECK(d.run[0].inline_items.at(0).breaks_load == true);
  CHECK(d.run[0].protection.at(0).sits == design::Sits::box_wall);
  CHECK(d.run[0].protection[0].curve.at(0).time == 600.0 * second);
  CHECK(d.load_case.at(0).charging.empty());
  CHECK(d.chassis->resistance->value() == doctest::Approx(0.002));
  CHECK(d.run[0].label == "W07");
  CHECK(d.bank->size.size() == 3);
  CHECK(d.inverter.at(0).price == "510.50 EUR");
  CHECK(d.build->allowance == 0.1 * metre);
  CHECK(d.sizing->least == design::Least::price);
  REQUIRE(d.part.size() == 4);
  CHECK(d.part[0].kind() == design::PartKind::battery);
  CHECK(std::get<design::Bank>(d.part[0].is).capacity == 100.0 * ampere_hour);
  CHECK(d.part[1].name == "C30");
  CHECK(std::get<design::Controller>(d.part[1].is).max_voltage == 100.0 * volt);
  CHECK(std::get<design::StockedConductor>(d.part[2].is).size == "6 mm2");
  CHECK(std::get<design::StockedConductor>(d.part[2].is).in_stock == true);
  CHECK(std::get<design::StockedDevice>(d.part[3].is).ratings.size() == 2);
  CHECK(std::get<design::StockedDevice>(d.part[3].is).price == "14 EUR");
  CHECK(d.sizing->roof_area == 5.5 * square_metre);
  CHECK(d.promise->arrive_time == "16:00");
  CHECK(d.promise->people == 2);
  CHECK(d.appliance.at(0).duty_in_cold->at == celsius(18.0));
  CHECK(d.appliance.at(0).duty_in_cold->per_kelvin == Ratio(0.04));
  CHECK(d.appliance.at(0).used_by == design::UsedBy::people);
  CHECK(d.appliance.at(0).starts == 2);
  CHECK(d.array.at(0).covered.at(1) == Ratio(0.2));
  CHECK(d.assembly.at(0).station == "furniture 2");
  CHECK(d.node.at(0).assembly == "kitchen");
  CHECK(d.appliance[0].assembly == "kitchen");
  CHECK(d.connector.at(0).between == std::vector<std::string>{"kitchen", "floor"});
  CHECK(d.connector[0].rating_all_loaded == 9.0 * ampere);
  CHECK(d.connector[0].strip->value() == doctest::Approx(0.005));
  CHECK(d.run[0].inline_items.at(1).outgoing == std::vector<int>{1});
  CHECK(d.run[0].inline_items[1].return_ == std::vector<int>{2});
  CHECK(d.run[0].inline_items[1].distance == 1.2 * metre);
  CHECK(d.build->strip.at("M8").value() == doctest::Approx(0.011));
  CHECK(d.build->torque.at("M8") == 10.0 * newton_metre);
  CHECK(d.build->lug.size() == 2);
  CHECK(d.build->die.at("35 mm2") == "hex 35");
  CHECK(d.drawing->revision == "B");
  CHECK(d.place.file == "van.toml");
}

TEST_CASE("a place between towns is read") {
  const Document d = document(between_towns);
  CHECK(d.location->latitude == -42.1 * degree);
  CHECK(d.location->longitude == 146.6 * degree);
  CHECK(d.location->height == 730.0 * metre);
}

TEST_CASE("the alternatives of the format are read") {
  const Document d = document(others);
  CHECK(d.location->weather == "file.epw");
  CHECK(d.promise->unlimited == true);
  CHECK(d.appliance.at(0).current == 2.0 * ampere);
  CHECK(d.bank->each_battery->protection->rating == 150.0 * ampere);
  CHECK(d.array.at(0).shade_by_hour.at(18) == Ratio(0.5));
  CHECK(d.run.at(0).chassis_return == true);
}

TEST_CASE("the two examples hold every key of the format, and each is explained in a sentence") {
  each_key(design::document_fields(), {}, [](const Field& field, const std::string& path) {
    CAPTURE(path);
    const std::string key(field.key);
    const auto stands = [&](const std::string& text) {
      for (const std::string& form :
           {"\n" + key + " = ", " " + key + " = ", "[" + key + "]", "." + key + "]"})
        if (text.find(form) != text.npos) return true;
      return text.rfind(key + " = ", 0) == 0;
    };
    CHECK((stands(whole) || stands(others) || stands(between_towns)));
    CHECK(field.says.size() > 5);
    CHECK(field.says.back() == '.');
    const Shape& one = field.shape->items ? *field.shape->items : *field.shape;
    if (!one.inner && key != "shade_by_hour" && key != "covered")
      CHECK_FALSE(field.example.empty());
  });
}

TEST_CASE("the file of every key parses and knows every key once its signs of comment are gone") {
  std::istringstream lines(every_key(design::document_fields()));
  std::string text, line;
  while (std::getline(lines, line))
    text += (line.rfind("# ", 0) == 0 ? line.substr(2) : line) + "\n";
  Diagnostics problems;
  const auto node = parse_toml(text, "all.toml", problems);
  REQUIRE(node.has_value());
  CHECK(problems.all.empty());
  (void)design::document_of(*node, problems);
  // Keys that exclude each other stand side by side, and a part has those of every kind of part.
  for (const auto& p : problems.all) {
    const bool exclude = p.message.find(" one of ") != p.message.npos;
    const bool of_part = p.key.rfind("part/", 0) == 0 && p.message == "is not a key of this table";
    CHECK_MESSAGE((exclude || of_part), p.key, ": ", p.message);
  }
}

TEST_CASE("docs/FORMAT.md is what the program prints") {
  std::ifstream file(HOUSEPOWER_SOURCE_DIR "/docs/FORMAT.md");
  std::stringstream written;
  written << file.rdbuf();
  const bool same = written.str() == manual(design::document_fields(), "The design file, format 1");
  CHECK_MESSAGE(same, "docs/FORMAT.md differs from the manual of the field list");
}

TEST_CASE("two values of one choice are refused") {
  struct Row {
    std::string_view line, more, keys;
  };
  for (const Row& row :
       {Row{"name = \"hobart\"\n", "weather = \"x.epw\"\n", "name, weather, latitude"},
        Row{"power = \"45 W\"\n", "current = \"3 A\"\n", "power, current"},
        Row{"charge_cut_off_below = \"0 degC\"\n", "no_cold_cut_off = true\n",
            "charge_cut_off_below, no_cold_cut_off"},
        Row{"mounted = \"outside-sealed\"\n", "each_battery = {}\n", "links, each_battery"},
        Row{"shade = \"0 %\"\n", "shade_by_hour = [0.5]\n", "shade, shade_by_hour"},
        Row{"no_load = \"24 W\"\n", "efficiency = 0.9\n", "loss, efficiency"},
        Row{"parallel = 1\n", "chassis_return = true\n", "return, chassis_return"},
        Row{", distance = \"1.2 m\"", ", pole = \"return\"", "pole, connector"}}) {
    CAPTURE(row.keys);
    std::string text = whole;
    text.insert(text.find(row.line), row.more);
    Diagnostics d;
    const auto node = parse_toml(text, "van.toml", d);
    REQUIRE(node);
    CHECK_FALSE(design::document_of(*node, d));
    REQUIRE(d.all.size() == 1);
    CHECK(d.all[0].message.find(row.keys) != std::string::npos);
  }
}

TEST_CASE("limits, shapes and formats that the keys refuse, each at its place") {
  struct Row {
    std::string_view from, to, key, at;
  };
  for (const Row& row : {
           Row{"schema = 1", "schema = 2", "schema", "schema"},
           Row{"\"12 V\"\nelectrical", "\"48 V\"\nelectrical", "vehicle/system_voltage",
               "\"48 V\""},
           Row{"\"au-nz-caravan\"", "3", "rules/profile", "profile = 3"},
           Row{"length = \"2.4 m\"", "length = \"0 m\"", "run/bank to panel/length", "\"0 m\""},
           Row{"length = \"2.4 m\"", "length = \"2.4 A\"", "run/bank to panel/length", "\"2.4 A\""},
           Row{"length = \"2.4 m\"", "length = 2.4", "run/bank to panel/length", "length = 2.4\n"},
           Row{"insulation = \"90 °C\"\ninsulation_material = \"xlpe\"", "insulation = \"50 °C\"",
               "run/bank to panel/insulation", "\"50 °C\""},
           Row{", distance = \"0.15 m\"", "", "run/bank to panel/protection/0/distance",
               "protection = "},
           Row{"[[1.35, \"600 s\"]]", "[[1.35]]", "run/bank to panel/protection/0", "[[1.35]]"},
           Row{"[[1.35, \"600 s\"]]", "[[1.35, \"600 V\"]]", "run/bank to panel/protection/0/curve",
               "\"600 V\""},
           Row{"[[1.35, \"600 s\"]]", "[[-1, \"600 s\"]]", "run/bank to panel/protection/0/curve",
               "[[-1, "},
           Row{"chemistry = \"lfp\"", "chemistry = \"lpf\"", "bank/chemistry", "\"lpf\""},
           Row{"chemistry = \"lfp\"\n", "", "bank/chemistry", "[bank]"},
           Row{"modules = 2", "modules = 65", "array/roof/modules", "modules = 65"},
           Row{"\"9 mm\"", "\"7 A\"", "build/strip", "\"7 A\""},
           Row{"\"10 N m\"", "\"10 Wh\"", "build/torque", "\"10 Wh\""},
           Row{"strip = { \"M6\" = \"9 mm\", \"M8\" = \"11 mm\" }", "strip = \"9 mm\"",
               "build/strip", "strip = \"9 mm\""},
           Row{"cavities = 8", "cavities = 0", "connector/X3/cavities", "cavities = 0"},
       }) {
    CAPTURE(row.to);
    std::string text = whole;
    const auto at = text.find(row.from);
    REQUIRE(at != text.npos);
    text.replace(at, row.from.size(), row.to);
    Diagnostics d;
    const auto node = parse_toml(text, "van.toml", d);
    REQUIRE(node);
    CHECK_FALSE(design::document_of(*node, d));
    REQUIRE(d.all.size() == 1);
    CHECK(d.all[0].key == row.key);
    CHECK(d.all[0].place.line == line_of(text, row.at));
    CHECK(d.all[0].place.file == "van.toml");
  }
}

}  // namespace design_format
