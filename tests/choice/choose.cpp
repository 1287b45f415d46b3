// SPDX-License-Identifier: Apache-2.0
// What is chosen is enough, and nothing smaller would be: against every smaller combination.
#include "housepower/choice/choose.hpp"

#include "checks/examples.hpp"
#include "housepower/units/unit.hpp"

namespace choice_choose {
namespace {

using namespace examples;
using housepower::choice::Choice;
using housepower::choice::Chosen;

/// The sound van with a heater at the end of a run of which only the length is known.
std::string with_heater(const std::string& length, const std::string& rest = "") {
  std::string text = *from_disk(faulty("base"));
  const std::string running = "running = [\"Cooler\", \"Water pump\"]";
  text.replace(text.find(running), running.size(),
               "running = [\"Cooler\", \"Water pump\", \"Heater\"]");
  return text +
         "[[appliance]]\nname = \"Heater\"\npower = \"120 W\"\nper_day = \"0.2 h\"\nlowest_voltage "
         "= \"11 V\"\n" +
         "highest_voltage = \"15.5 V\"\n[[run]]\nname = \"heater\"\nfrom = \"panel\"\nto = " +
         "\"Heater\"\nlength = \"" + length + "\"\n" + rest;
}

design::Opened opened_text(const std::string& text) {
  return opened("sketch.toml", {}, [&](std::string_view) { return std::optional(text); });
}
/// With a device of that rating; 0: none, as where the device of the feed holds it.
std::string fused(const std::string& conductor, double rating) {
  if (rating == 0.0) return "conductor = \"" + conductor + "\"\n";
  return "conductor = \"" + conductor +
         "\"\nprotection = [{ end = \"from\", type = \"panel fuse\", " + "rating = \"" +
         print_plain(rating) + " A\", distance = \"0 m\" }]\n";
}
/// Caution or worse anywhere but where the sound van says so too.
bool objects(const Checked& checked) {
  return std::any_of(checked.findings.begin(), checked.findings.end(),
                     [](const Finding& f) { return f.verdict >= Verdict::caution; });
}

constexpr const char* sizes[] = {"0.5 mm2", "0.75 mm2", "1 mm2", "1.5 mm2",
                                 "2.5 mm2", "4 mm2",    "6 mm2", "10 mm2"};
constexpr double ratings[] = {0,  1,  2,  3,  4,  5,  7.5, 10, 15, 20,
                              25, 30, 35, 40, 45, 50, 60,  70, 80};

}  // namespace

TEST_CASE("the conductor that is chosen is the smallest that any device makes sound") {
  for (const std::string length : {"1 m", "3 m", "6 m", "9 m"}) {
    CAPTURE(length);
    const auto open = opened_text(with_heater(length));
    const Chosen chosen = choice::choose(open.document, shipped());
    CHECK(chosen.found_all);
    REQUIRE(chosen.choices.size() == 1);
    const Choice& choice = chosen.choices.front();
    CAPTURE(choice.conductor);
    REQUIRE(choice.devices.size() <= 1);
    if (!choice.devices.empty()) CHECK(choice.devices.front().type == "panel fuse");

    // brute force: with this size some rating of the panel fuse passes, and with none smaller
    bool reached = false;
    for (const std::string size : sizes) {
      bool sound = false;
      for (const double rating : ratings)
        sound = sound || !objects(checked_text(with_heater(length, fused(size, rating))));
      reached = size == choice.conductor;
      CHECK(sound == reached);
      if (reached) break;
    }
    CHECK(reached);
    const double rating = choice.devices.empty() ? 0.0 : choice.devices.front().rating.value();
    CHECK_FALSE(objects(checked_text(with_heater(length, fused(choice.conductor, rating)))));
  }
}

TEST_CASE("a reserve that no size can keep does not hinder the choice; it is told beside") {
  // 674 W at no less than 12.4 V from a cold old bank: no conductor cures that
  const std::string inverter =
      "[[inverter]]\nname = \"inverter\"\nrating = \"600 W\"\nno_load = \"8 W\"\nloss = { k = "
      "0.11 "
      "}\ncut_out = \"12.4 V\"\nruns = \"while-used\"\nmass = \"3 kg\"\n"
      "[[appliance]]\nname = \"Laptop\"\npower = \"60 W\"\nrated_at = \"230 V\"\nsupply = "
      "\"inverter\"\nper_day = \"1 h\"\nbetween = [\"07:00-09:00\"]\n"
      "[[run]]\nname = \"inverter\"\nfrom = \"bank\"\nto = \"inverter\"\nlength = \"1.5 m\"\n";
  const auto open = opened_text(*from_disk(faulty("base")) + inverter);
  const Chosen chosen = choice::choose(open.document, shipped());
  CHECK(chosen.found_all);
  REQUIRE(chosen.choices.size() == 1);
  CAPTURE(chosen.choices.front().why_none);
  CHECK_FALSE(chosen.choices.front().conductor.empty());
  CHECK(std::any_of(chosen.beyond.begin(), chosen.beyond.end(),
                    [](const Finding& f) { return f.rule == "inverter-reserve"; }));
  // the device carries the rating: 600 W + 8 W + 0.11 · 600 W = 674 W at 12.5 V, r.m.s., over 0.75
  REQUIRE_FALSE(chosen.choices.front().devices.empty());
  CHECK(chosen.choices.front().devices.front().rating.value() >= 1.22 * 674.0 / 12.5 / 0.75);
}

TEST_CASE("where a chosen device sits is marked as nobody's word yet") {
  const auto open = opened_text(with_heater("6 m"));
  const Chosen chosen = choice::choose(open.document, shipped());
  int devices = 0;
  for (const auto& run : chosen.document.run)
    for (const auto& device : run.protection) {
      const bool own = run.name == "heater";
      devices += own;
      CHECK(device.assumed ==
            (own ? std::vector<std::string>{"distance", "sits"} : std::vector<std::string>{}));
      if (own) CHECK(device.sits == design::Sits::inside);
    }
  CHECK(devices == 1);
}

TEST_CASE("where no size serves, the rule and how much are told") {
  const auto open = opened_text(with_heater("400 m"));
  const Chosen chosen = choice::choose(open.document, shipped());
  CHECK_FALSE(chosen.found_all);
  REQUIRE(chosen.choices.size() == 1);
  const std::string& why = chosen.choices.front().why_none;
  CAPTURE(why);
  CHECK(chosen.choices.front().conductor.empty());
  CHECK(why.find(": ") != std::string::npos);
  CHECK(checks::rule_named(why.substr(0, why.find(':'))) != nullptr);
  CHECK(std::count_if(why.begin(), why.end(), [](char c) { return c >= '0' && c <= '9'; }) >= 2);
}

TEST_CASE("why a smaller size does not do is the finding that it would bring") {
  const auto open = opened_text(with_heater("6 m"));
  const Chosen chosen = choice::choose(open.document, shipped());
  const auto& smaller = chosen.choices.front().smaller;
  REQUIRE_FALSE(smaller.empty());
  const auto& next = smaller.front();
  CHECK(next.rule == "drop");
  const double rating = chosen.choices.front().devices.front().rating.value();
  const Checked then = checked_text(with_heater("6 m", fused(next.conductor, rating)));
  CHECK(std::any_of(then.findings.begin(), then.findings.end(), [&](const Finding& f) {
    return f.rule == next.rule && f.subject == next.subject && f.verdict >= Verdict::caution;
  }));
}

TEST_CASE("of several open runs none can be one smaller while the others stay") {
  const std::string two =
      with_heater("6 m") +
      "[[appliance]]\nname = \"Fan\"\npower = \"30 W\"\nper_day = \"0.2 h\"\nlowest_voltage = \"11 "
      "V\"\nhighest_voltage "
      "= "
      "\"15.5 V\"\n[[run]]\nname = \"fan\"\nfrom = \"panel\"\nto = \"Fan\"\nlength = \"8 m\"\n";
  const auto open = opened_text(two);
  const Chosen chosen = choice::choose(open.document, shipped());
  REQUIRE(chosen.choices.size() == 2);
  const auto verdict_with = [&](std::size_t which, int down) {
    design::Document document = chosen.document;
    for (std::size_t i = 0; i < 2; ++i)
      for (auto& run : document.run)
        if (run.name == chosen.choices[i].run && i == which && down > 0)
          run.conductor = chosen.choices[i].smaller.front().conductor;
    Diagnostics problems;
    const auto ordinary = design::resolve(document, shipped(), Defaults::ordinary, problems);
    REQUIRE(ordinary);
    return objects(checks::check(document, *ordinary));
  };
  CHECK_FALSE(verdict_with(0, 0));
  for (const std::size_t i : {0u, 1u}) {
    REQUIRE_FALSE(chosen.choices[i].smaller.empty());
    CHECK(verdict_with(i, 1));
  }
}

TEST_CASE("where no size of the series suffices nothing is written, and that is said") {
  const auto open = opened_text(with_heater("900 m"));
  const Chosen chosen = choice::choose(open.document, shipped());
  CHECK_FALSE(chosen.found_all);
  REQUIRE(chosen.choices.size() == 1);
  CHECK(chosen.choices.front().conductor.empty());
  CHECK_FALSE(chosen.choices.front().why_none.empty());
  for (const auto& run : chosen.document.run)
    if (run.name == "heater") CHECK_FALSE(run.conductor);
}

TEST_CASE("a design without open runs is left as it is") {
  const auto base = opened(faulty("base"));
  const Chosen chosen = choice::choose(base.document, shipped());
  CHECK(chosen.choices.empty());
  CHECK(chosen.document.run.size() == base.document.run.size());
}

TEST_CASE("nothing is chosen that turns another finding into a fail") {
  // The heater asks more than the batteries may give: that stands before and after, and no more.
  std::string text = with_heater("3 m");
  const std::string limit = "discharge_limit = \"100 A\"";
  text.replace(text.find(limit), limit.size(), "discharge_limit = \"6 A\"");
  const auto open = opened_text(text);
  const Chosen chosen = choice::choose(open.document, shipped());
  const auto fails = [&](const design::Document& document) {
    Diagnostics problems;
    const auto d = design::resolve(document, shipped(), Defaults::ordinary, problems);
    REQUIRE(d);
    const Checked all = checks::check(document, *d);
    return std::count_if(all.findings.begin(), all.findings.end(),
                         [](const Finding& f) { return f.verdict == Verdict::fail; });
  };
  CHECK(fails(chosen.document) <= fails(open.document));
}

}  // namespace choice_choose
