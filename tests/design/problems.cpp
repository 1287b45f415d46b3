// SPDX-License-Identifier: Apache-2.0
// What resolving refuses: each problem with its key, its place in the text and the next step.
#include "van.hpp"

namespace design_problems {

using namespace van;

namespace {

struct Row {
  std::string_view from, to;  // the change of the sound van
  std::string_view key;       // what the complaint is about
  std::string_view at;        // the text at its place
  std::string_view says;      // part of the message or of the hint
};

void check(const Row& row) {
  CAPTURE(std::string(row.to));
  const std::string whole = with(text, row.from, row.to);
  const Tried tried = opened(whole);
  CHECK_FALSE(tried.opened);
  CHECK(tried.diagnostics.all.size() == 1);
  for (const auto& d : tried.diagnostics.all) CAPTURE(d.key + ": " + d.message);
  const auto* said = tried.about(row.key);
  REQUIRE(said);
  const Place place = place_in(whole, row.at);
  CHECK(said->place.file == place.file);
  CHECK(said->place.line == place.line);
  CHECK(said->place.column == place.column);
  const std::string told = said->message + " — " + said->hint;
  CHECK_MESSAGE(told.find(row.says) != std::string::npos, told);
}

}  // namespace

TEST_CASE("names that cannot be used are refused where they stand") {
  for (const Row& row : {
           Row{"name = \"tow vehicle\"", "name = \"tow/car\"", "feed/0/name", "\"tow/car\"",
               "\"/\""},
           Row{"name = \"tow vehicle\"", "name = \"car.in\"", "feed/0/name", "\"car.in\"",
               "leave out the dot"},
           Row{"name = \"tow vehicle\"", "name = \"car.out\"", "feed/0/name", "\"car.out\"",
               "leave out the dot"},
           Row{"name = \"tow vehicle\"", "name = \"chassis\"", "feed/0/name", "\"chassis\"",
               "meaning of its own"},
           Row{"name = \"tow vehicle\"", "name = \"Fridge\"", "feed/0/name", "\"Fridge\"",
               "the first is at van.toml:43"},
           Row{"name = \"fridge\"", "name = \"main\"", "run/1/name", "\"main\"\nfrom = \"panel\"",
               "the first is at van.toml:54"},
           Row{"name = \"dinner\"", "name = \"everything-on\"", "case/0/name", "\"everything-on\"",
               "meaning of its own"},
           Row{"[bank]", "[[device]]\nname = \"ul-248-class-t\"\n[bank]",
               "device/ul-248-class-t/name", "\"ul-248-class-t\"", "fuse type"},
       })
    check(row);
}

TEST_CASE("a run and a case may bear the name of a node") {
  const Tried tried = opened(with(with(text, "name = \"fridge\"", "name = \"panel\""),
                                  "name = \"dinner\"", "name = \"panel\""));
  CHECK(tried.opened);
}

TEST_CASE("names that lead nowhere are refused with the nearest") {
  for (const Row& row : {
           Row{"from = \"panel\"", "from = \"pannel\"", "run/fridge/from", "\"pannel\"",
               "did you mean \"panel\"?"},
           Row{"on = \"panel\"", "on = \"panell\"", "appliance/Lights/on", "\"panell\"",
               "did you mean \"panel\"?"},
           Row{"on = \"panel\"", "on = \"controller\"", "appliance/Lights/on",
               "\"controller\"\n[[appliance]]", "\"controller.out\" or \"controller.in\""},
           Row{"on = \"panel\"", "on = \"drive charger\"", "appliance/Lights/on",
               "\"drive charger\"\n[[appliance]]", "\"drive charger.out\""},
           Row{"on = \"panel\"", "on = \"shore charger.in\"", "appliance/Lights/on",
               "\"shore charger.in\"", "no d.c. input"},
           Row{"on = \"panel\"", "on = \"Kettle\"", "appliance/Lights/on",
               "\"Kettle\"\n[[appliance]]", "supplied by \"inverter\""},
           Row{"on = \"panel\"", "on = \"chassis\"", "appliance/Lights/on", "\"chassis\"",
               "chassis_return"},
           Row{"on = \"panel\"\n", "", "appliance/Lights/on", "[[appliance]]\nname = \"Lights\"",
               "nothing feeds it"},
           Row{"supply = \"inverter\"", "supply = \"invertor\"", "appliance/Kettle/supply",
               "\"invertor\"", "did you mean \"inverter\"?"},
           Row{"to = \"controller\"", "to = \"controler\"", "array/roof/to", "\"controler\"",
               "did you mean \"controller\"?"},
           Row{"\"Fridge\", \"Kettle\"", "\"Fridge\", \"Kettel\"", "case/dinner/running/1",
               "\"Kettel\"", "did you mean \"Kettle\"?"},
           Row{"\"Fridge\", \"Kettle\"]", "\"Fridge\"]\nstarting = \"pannel\"",
               "case/dinner/starting", "\"pannel\"\n", "not an appliance"},
           Row{"\"Fridge\", \"Kettle\"]", "\"Fridge\"]\ncharging = [\"roof\"]",
               "case/dinner/charging/0", "\"roof\"]", "not a charger or controller"},
           Row{"\"Fridge\", \"Kettle\"", "\"Fridge\", \"Fridge\"", "case/dinner/running/1",
               "\"Fridge\"]", "runs already"},
           Row{"[[device]]", "[chassis]\nbonded_at = \"pannel\"\n[[device]]", "chassis/bonded_at",
               "\"pannel\"", "did you mean \"panel\"?"},
           Row{"[[device]]", "[chassis]\nbond = \"16 mm2\"\n[[device]]", "chassis/bond",
               "\"16 mm2\"", "bonded_at"},
           Row{"type = \"house fuse\"", "type = \"house fuze\"", "run/main/protection/0/type",
               "\"house fuze\"", "did you mean \"house fuse\"?"},
           Row{"type = \"house fuse\"", "type = \"ul-248-clas-t\"", "run/main/protection/0/type",
               "\"ul-248-clas-t\"", "did you mean \"ul-248-class-t\"?"},
           Row{"\"au-nz-caravan\"", "\"au-nz-carvan\"", "rules/profile", "\"au-nz-carvan\"",
               "did you mean \"au-nz-caravan\"?"},
           Row{"\"au-nz-caravan\"", "\"au-nz-caravan\"\nampacity_table = \"bs-7671-4f2-9\"",
               "rules/ampacity_table", "\"bs-7671-4f2-9\"", "did you mean \"bs-7671-4f2-90\"?"},
           Row{"\"au-nz-caravan\"", "\"au-nz-caravan\"\ninspected = [\"battery securd\"]",
               "rules/inspected/0", "\"battery securd\"", "did you mean \"battery secured\"?"},
           Row{"[[device]]", "[place]\nname = \"hobrat\"\n[[device]]", "place/name", "\"hobrat\"",
               "did you mean \"hobart\"?"},
           Row{"[[device]]", "[place]\nname = \"hobart\"\nmonth = \"jule\"\n[[device]]",
               "place/month", "\"jule\"", "not a month"},
           Row{"power = \"45 W\"", "power = \"45 W\"\ndrop_class = \"othr\"",
               "appliance/Fridge/drop_class", "\"othr\"", "\"other\""},
           Row{"conductor = \"35 mm2\"\n", "conductor = \"6 mm\"\n", "run/main/conductor",
               "\"6 mm\"", ""},
           Row{"conductor = \"6 mm2\"", "return = { conductor = \"6 mm\" }",
               "run/fridge/return/conductor", "\"6 mm\"", ""},
           Row{"conductor = \"6 mm2\"", "return = { to = \"nowhere\" }", "run/fridge/return/to",
               "\"nowhere\"", "not a node"},
       })
    check(row);
}

TEST_CASE("a run that misses its appliance leaves it unfed, and both are said") {
  const Tried tried = opened(with(text, "to = \"Fridge\"", "to = \"Frigde\""));
  CHECK(tried.diagnostics.all.size() == 2);
  REQUIRE(tried.about("run/fridge/to"));
  CHECK(tried.about("run/fridge/to")->hint == "did you mean \"Fridge\"?");
  CHECK(tried.about("appliance/Fridge/on"));
}

TEST_CASE("the bank is refused where it is named and not described") {
  const auto from = text.find("[bank]"), to = text.find("[[array]]");
  const Tried tried = opened(text.substr(0, from) + text.substr(to));
  REQUIRE(tried.about("run/main/from"));
  CHECK(tried.about("run/main/from")->hint == "describe it in a table [bank]");
  CHECK(tried.about("run/to inverter/from"));
}

TEST_CASE("values that contradict one another are refused") {
  for (const Row& row : {
           Row{"rating = \"100 A\"", "rating = \"120 A\"", "run/main/protection/0/rating",
               "\"120 A\"", "its ratings are 100 A, 150 A"},
           Row{"distance = \"0.15 m\"", "distance = \"2.5 m\"", "run/main/protection/0/distance",
               "\"2.5 m\"", "beyond the run"},
           Row{"distance = \"0.15 m\"", "distance = \"0.15 m\", backed_by = \"strip\"",
               "run/main/protection/0/backed_by", "\"strip\"", "is between a source"},
           Row{"distance = \"0.15 m\"",
               "distance = \"0.15 m\", curve = [[2, \"1 s\"], [1.5, \"2 s\"]]",
               "run/main/protection/0/curve/1", "[1.5, ", "no more current"},
           // A device carries its rating for good (definition of a rated current, from memory).
           Row{"distance = \"0.15 m\"", "distance = \"0.15 m\", curve = [[0.9, \"600 s\"]]",
               "run/main/protection/0/curve/0", "[0.9, ", "carries for good"},
           Row{"curve = [[1.35, ", "curve = [[1.0, ", "device/house fuse/curve/0", "[1.0, ",
               "above 1"},
           // Of 600 s at 1.35 and 0.5 s at 6 there are 32.1 s at 2.5, on a line of logarithms:
           // 600 · (0.5 / 600)^(ln(2.5 / 1.35) / ln(6 / 1.35)).
           Row{"curve = [[1.35, ", "curve_fast = [[2.5, \"35 s\"]]\ncurve = [[1.35, ",
               "device/house fuse/curve_fast", "[[2.5, ", "at 2.5 times"},
           Row{"distance = \"0.15 m\"",
               "distance = \"0.15 m\", curve_fast = [[1.2, \"900 s\"], "
               "[7.0, \"1 s\"]]",
               "run/main/protection/0/curve_fast", "[[1.2, ", "opens later than `curve`"},
           Row{"[6.0, \"0.5 s\"]", "[6.0, \"700 s\"]", "device/house fuse/curve/1",
               "[6.0, \"700 s\"]", "takes longer"},
           Row{"length = \"4 m\"",
               "length = \"4 m\"\nsections = [{ length = \"3 m\" }, { length = \"2 m\" }]",
               "run/fridge/sections", "[{ length = \"3 m\" }", "5 m long in all"},
           Row{"[[case]]",
               "[[run]]\nname = \"idle\"\nfrom = \"bank\"\nto = \"bank\"\nlength = \"1 "
               "m\"\n[[case]]",
               "run/idle/to", "\"bank\"\nlength = \"1 m\"\n[[case]]", "where the run begins"},
           Row{"name = \"panel\"", "name = \"panel\"\npurpose = \"wake\"", "node/panel/purpose",
               "\"wake\"", "jump posts"},
           Row{"quantity = 2", "quantity = 2\ntakeoff_from = [1, 3]", "bank/takeoff_from/1", "3]",
               "no battery 3"},
           Row{"quantity = 2", "quantity = 2\ntakeoff_from = [1]", "bank/takeoff_from", "[1]",
               "two numbers"},
           Row{"quantity = 2", "quantity = 2\nin_series = 2", "bank/nominal_voltage", "\"12.8 V\"",
               "25.6 V"},
           Row{"quantity = 2", "quantity = 2\nresistance = { low = \"5 mΩ\", high = \"2 mΩ\" }",
               "bank/resistance/low", "\"5 mΩ\"", "more than the high"},
           Row{"quantity = 2", "quantity = 2\nbox = { size = [\"1 m\", \"2 m\"] }", "bank/box/size",
               "[\"1 m\"", "three lengths"},
           Row{"modules = 2", "modules = 3\nin_series = 2", "array/roof/in_series",
               "2\nmodule =", "no whole strings"},
           Row{"modules = 2", "modules = 2\nshade_by_hour = [0.5]", "array/roof/shade_by_hour",
               "[0.5]", "24 hours"},
           Row{"power = \"200 W\"", "power = \"200 W\", size = [\"1 m\"]", "array/roof/module/size",
               "[\"1 m\"]", "two lengths"},
           Row{"name = \"tow vehicle\"",
               "name = \"tow vehicle\"\nvoltage = { low = \"14 V\", high = \"12 V\" }",
               "feed/tow vehicle/voltage/low", "\"14 V\"", "more than the high"},
           Row{"power = \"45 W\"", "power = \"45 W\"\nbetween = [\"25:00-26:00\"]",
               "appliance/Fridge/between/0", "\"25:00-26:00\"", "not a time of the day"},
           Row{"power = \"45 W\"", "power = \"45 W\"\nbetween = [\"8:00-9:00\"]",
               "appliance/Fridge/between/0", "\"8:00-9:00\"", "for example"},
           Row{"power = \"45 W\"", "power = \"45 W\"\nbetween = [\"08:00-08:00\"]",
               "appliance/Fridge/between/0", "\"08:00-08:00\"", "not a time of the day"},
           Row{"power = \"45 W\"", "power = \"45 W\"\nbetween = [\"08:00-10:00\", \"09:00-11:00\"]",
               "appliance/Fridge/between", "[\"08:00-10:00\"", "overlap"},
           Row{"power = \"45 W\"",
               "power = \"45 W\"\nbetween = [\"22:00-00:30\"]\nper_day = \"3 h\"",
               "appliance/Fridge/per_day", "\"3 h\"", "do not fit"},
           Row{"power = \"45 W\"", "power = \"45 W\"\nlowest_voltage = \"16 V\"",
               "appliance/Fridge/lowest_voltage", "\"16 V\"", "leaves no voltage"},
           Row{"power = \"45 W\"", "power = \"45 W\"\npower_factor = 0.9",
               "appliance/Fridge/power_factor", "0.9", "a.c. appliances only"},
           Row{"power = \"1000 W\"", "power = \"1000 W\"\nrated_at = \"11 V\"",
               "appliance/Kettle/rated_at", "\"11 V\"", "no voltage of an a.c."},
           Row{"power = \"45 W\"", "power = \"45 W\"\nrated_at = \"230 V\"",
               "appliance/Fridge/rated_at", "\"230 V\"", "not a voltage of a d.c."},
           Row{"power = \"45 W\"", "power = \"45 W\"\nrated_at = \"24 V\"",
               "appliance/Fridge/rated_at", "\"24 V\"", "from 10.5 V to 15 V"},
           Row{"power = \"45 W\"", "power = \"45 W\"\nrated_at = \"9 V\"",
               "appliance/Fridge/rated_at", "\"9 V\"", "another voltage than its supply's"},
           Row{"power = \"1000 W\"", "current = \"5 A\"", "appliance/Kettle/current", "\"5 A\"",
               "rated_at"},
           Row{"supply = \"inverter\"", "supply = \"inverter\"\non = \"panel\"",
               "appliance/Kettle/on", "\"panel\"\n[[run]]", "not connected to anything else"},
           Row{"power = \"45 W\"", "power = \"45 W\"\non = \"bank\"", "appliance/Fridge/on",
               "\"bank\"", "does not come from"},
           Row{"[bank]", "[promise]\nreserve = \"100 %\"\n[bank]", "promise/reserve", "\"100 %\"",
               "is no less than the charge on arrival"},
       })
    check(row);
}

TEST_CASE("a voltage beyond house systems resolves where a program asks, not from a file") {
  Diagnostics d;
  const auto node = parse_toml(text, "van.toml", d);
  REQUIRE(node);
  auto document = design::document_of(*node, d);
  REQUIRE(document);
  document->bank.reset();
  document->vehicle.system_voltage = 400.0 * volt;
  document->appliance.resize(1);
  document->appliance[0].rated_at = 400.0 * volt;
  document->appliance[0].lowest_voltage = 380.0 * volt;
  document->appliance[0].highest_voltage = 420.0 * volt;
  document->run.resize(2);
  document->run[0].from = "tow vehicle";
  document->inverter.clear();
  document->load_case.clear();
  document->feed[0].voltage = design::VoltageRange{400.0 * volt, 390.0 * volt};
  const auto design = design::resolve(*document, shipped(), Defaults::ordinary, d);
  for (const auto& one : d.all) FAIL_CHECK(one.key << ": " << one.message);
  CHECK(design);
}

TEST_CASE("what no source reaches is named") {
  for (const Row& row : {
           Row{"from = \"bank\"\nto = \"panel\"",
               "from = \"tow vehicle\"\nto = \"drive charger.in\"", "appliance/Fridge",
               "[[appliance]]\nname = \"Fridge\"", "no run leads from a source to \"Fridge\""},
           Row{"from = \"bank\"\nto = \"inverter\"", "from = \"roof\"\nto = \"inverter\"",
               "inverter/inverter", "[[inverter]]", "no run leads"},
           Row{"conductor = \"6 mm2\"", "return = { to = \"tow vehicle\" }", "appliance/Fridge",
               "[[appliance]]\nname = \"Fridge\"", "no return leads back"},
       }) {
    CAPTURE(std::string(row.to));
    const std::string whole = with(text, row.from, row.to);
    const Tried tried = opened(whole);
    CHECK_FALSE(tried.opened);
    const auto* said = tried.about(row.key);
    REQUIRE(said);
    CHECK(said->place.line == place_in(whole, row.at).line);
    CHECK(said->message.find(row.says) != std::string::npos);
  }
}

TEST_CASE("all problems are reported in one go, each with a line") {
  std::string whole = with(text, "profile = \"au-nz-caravan\"", "profile = \"none\"");
  whole = with(whole, "quantity = 2", "quantity = 2\ntakeoff_from = [0, 3]");
  whole = with(whole, "to = \"controller\"", "to = \"x\"");
  whole = with(whole, "on = \"panel\"", "on = \"x\"");
  whole = with(whole, "conductor = \"6 mm2\"", "conductor = \"6\"");
  whole = with(whole, "\"Kettle\"]", "\"x\"]");
  const Tried tried = opened(whole);
  CHECK_FALSE(tried.opened);
  CHECK(tried.diagnostics.all.size() == 7);
  for (const auto& d : tried.diagnostics.all) {
    CAPTURE(d.key);
    CHECK(d.place.line > 1);
    CHECK(d.place.column > 0);
    CHECK(d.place.file == "van.toml");
  }
}

TEST_CASE("a second thing of the same name is told apart from the first") {
  const std::string whole = with(with(text, "name = \"fridge\"", "name = \"main\""),
                                 "to = \"Fridge\"", "to = \"nowhere\"");
  const Tried tried = opened(whole);
  REQUIRE(tried.about("run/1/to"));
  CHECK(tried.about("run/1/to")->place.line == place_in(whole, "\"nowhere\"").line);
}

TEST_CASE("without a tree a problem stands at its table") {
  Diagnostics d;
  const std::string whole = with(text, "from = \"panel\"", "from = \"pannel\"");
  const auto node = parse_toml(whole, "van.toml", d);
  REQUIRE(node);
  const auto document = design::document_of(*node, d);
  REQUIRE(document);
  CHECK_FALSE(design::resolve(*document, shipped(), Defaults::ordinary, d));
  REQUIRE_FALSE(d.all.empty());
  CHECK(d.all[0].place.line == place_in(whole, "[[run]]\nname = \"fridge\"").line);
}

}  // namespace design_problems
