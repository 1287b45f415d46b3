// SPDX-License-Identifier: Apache-2.0
// From numbers to verdicts: one finding, the whole design, and what rests on values nobody stated.
#include "examples.hpp"

namespace housepower::checks::checks_judging {
namespace {

const Rule& drop_rule() { return *rule_named("drop"); }          // not of safety
const Rule& ampacity_rule() { return *rule_named("ampacity"); }  // of safety

Finding judged(double measured, Bound bound, double limit, Verdict beyond = Verdict::fail) {
  return judge(drop_rule(), design::Subject(design::Subject::Kind::run, 0, "x"), measured * volt,
               bound, {limit * volt, {SourceKind::supplier, "a maker", "p. 1"}, beyond}, {});
}

TEST_CASE("what is at its limit passes, what is beyond does not") {
  CHECK(judged(0.5, Bound::at_most, 0.6).verdict == Verdict::pass);
  CHECK(judged(0.6, Bound::at_most, 0.6).verdict == Verdict::pass);
  CHECK(judged(0.601, Bound::at_most, 0.6).verdict == Verdict::fail);
  CHECK(judged(0.601, Bound::at_most, 0.6, Verdict::caution).verdict == Verdict::caution);
  CHECK(judged(11.0, Bound::at_least, 10.5).verdict == Verdict::pass);
  CHECK(judged(10.5, Bound::at_least, 10.5).verdict == Verdict::pass);
  CHECK(judged(10.4, Bound::at_least, 10.5).verdict == Verdict::fail);
}

TEST_CASE("a rounding error of the last digits is no failure, a thousandth is") {
  CHECK(judged(0.6 * (1 + 1e-12), Bound::at_most, 0.6).verdict == Verdict::pass);
  CHECK(judged(0.6 * (1 + 1e-6), Bound::at_most, 0.6).verdict == Verdict::fail);
  CHECK(judged(10.5 * (1 - 1e-12), Bound::at_least, 10.5).verdict == Verdict::pass);
  CHECK(judged(10.5 * (1 - 1e-6), Bound::at_least, 10.5).verdict == Verdict::fail);
  // 0.1 + 0.2 is a hair above 0.3: what passes has no margin below zero.
  CHECK(judged(0.1 + 0.2, Bound::at_most, 0.3).verdict == Verdict::pass);
  CHECK(judged(0.1 + 0.2, Bound::at_most, 0.3).margin.value() == 0.0);
}

TEST_CASE("the margin is the share of the limit that is left") {
  CHECK(judged(0.45, Bound::at_most, 0.6).margin.value() == doctest::Approx(0.25));  // 0.15 of 0.6
  CHECK(judged(0.9, Bound::at_most, 0.6).margin.value() == doctest::Approx(-0.5));   // 0.3 over 0.6
  CHECK(judged(12.0, Bound::at_least, 10.0).margin.value() == doctest::Approx(0.2));  // 2 of 10
  CHECK(judged(9.0, Bound::at_least, 10.0).margin.value() == doctest::Approx(-0.1));
  CHECK(judged(1.0, Bound::at_most, 0.0).margin.value() == -1.0);  // of nothing nothing is left
  CHECK(judged(0.0, Bound::at_most, 0.0).margin.value() == 0.0);
}

TEST_CASE("two findings are the same question by rule, subject and case") {
  const auto of = [](std::string_view rule, int run, std::string in_case) {
    Finding f;
    f.rule = rule;
    f.subject = design::Subject(design::Subject::Kind::run, run, run == 0 ? "x" : "y");
    f.in_case = std::move(in_case);
    return f;
  };
  const std::vector<Finding> list{of("drop", 0, "dinner"), of("drop", 1, "dinner"),
                                  of("ampacity", 0, "dinner")};
  CHECK(same_finding(list, of("drop", 1, "dinner")) == &list[1]);
  CHECK(same_finding(list, of("ampacity", 0, "dinner")) == &list[2]);
  CHECK(same_finding(list, of("drop", 0, "")) == nullptr);
  CHECK(same_finding(list, of("ampacity", 1, "dinner")) == nullptr);
}

TEST_CASE("what starts a fire is printed first, a cause before what it causes") {
  const auto all = rules();
  const auto at = [&](std::string_view name) {
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const Rule* r) { return r->name == name; });
    REQUIRE(found != all.end());
    return found - all.begin();
  };
  CHECK(at("unprotected-source-end") < at("fuse-below-conductor"));
  CHECK(at("breaking-capacity") < at("fuse-below-conductor"));
  CHECK(at("fuse-below-conductor") < at("fault-withstand"));
  CHECK(at("fuse-below-conductor") < at("far-fault-clears"));
  CHECK(at("ampacity") < at("hot-joint"));
  CHECK(at("lithium-outside") < at("drop"));
  CHECK(at("drop") < at("mass"));
  CHECK(at("left-unsaid") + 1 == std::ptrdiff_t(all.size()));
}

TEST_CASE("a finding keeps its numbers, its limit's source and its rule") {
  const Finding f = judged(0.5, Bound::at_most, 0.6);
  CHECK(f.rule == "drop");
  CHECK(f.subject == "run/x");
  CHECK(f.source.title == "a maker");
  CHECK(*f.measured == Number(0.5 * volt));
  CHECK(*f.limit == Number(0.6 * volt));
  CHECK(not_checked(drop_rule(), design::Subject(design::Subject::Kind::run, 0, "x"), "why")
            .verdict == Verdict::not_checked);
  CHECK(
      not_checked(drop_rule(), design::Subject(design::Subject::Kind::run, 0, "x"), "why").source ==
      drop_rule().source);
}

Verdicts together(std::initializer_list<std::pair<const Rule*, Verdict>> several) {
  std::vector<Finding> findings;
  for (const auto& [rule, verdict] : several)
    findings.push_back(state(*rule, design::subject_of_bank(), verdict, "", rule->source));
  return worst(findings);
}

TEST_CASE("each verdict is as bad as its worst, and not checked holds back that of safety only") {
  const Rule *safety = &ampacity_rule(), *comfort = &drop_rule();
  const auto is = [](const Verdicts& v, Verdict of_safety, Verdict of_service) {
    return v.safety == of_safety && v.service == of_service;
  };
  using enum Verdict;
  CHECK(is(together({}), pass, pass));
  CHECK(is(together({{safety, pass}, {comfort, pass}}), pass, pass));
  CHECK(is(together({{safety, not_checked}, {comfort, pass}}), caution, pass));
  CHECK(is(together({{safety, pass}, {comfort, not_checked}}), pass, pass));
  CHECK(is(together({{safety, not_checked}, {comfort, fail}}), caution, fail));
  CHECK(is(together({{comfort, caution}}), pass, caution));
  CHECK(is(together({{safety, fail}, {comfort, caution}}), fail, caution));
  CHECK(together({{safety, caution}, {comfort, fail}}).worse() == fail);
  CHECK(together({{safety, caution}, {comfort, pass}}).worse() == caution);
}

TEST_CASE("the rules of safety are those that the project names") {
  for (const auto name :
       {"ampacity", "return-ampacity", "fuse-above-load", "fuse-below-conductor",
        "fuse-near-source", "unprotected-source-end", "breaking-capacity", "device-voltage",
        "far-fault-clears", "fault-withstand", "voltage-collapse", "bank-discharge",
        "lithium-outside", "array-voltage", "array-current", "hot-joint", "isolator"})
    CHECK_MESSAGE(rule_named(name)->concern == Concern::safety, name);
  for (const auto name : {"inspection", "left-unsaid", "drop", "selectivity", "autonomy"})
    CHECK_MESSAGE(rule_named(name)->concern == Concern::service, name);
}

TEST_CASE("not checked of each safety rule, and only of those, holds safety at caution") {
  for (const Rule* rule : rules()) {
    const Verdicts v = together({{rule, Verdict::not_checked}});
    const bool holds = rule->concern == Concern::safety;
    CHECK_MESSAGE(v.safety == (holds ? Verdict::caution : Verdict::pass), rule->name);
    CHECK_MESSAGE(v.service == Verdict::pass, rule->name);
  }
}

TEST_CASE("a promise without charging is judged by the hours; the working shows the mean day too") {
  // A box whose heater the bank feeds, in a Munich January: the mean day does not know the heater.
  const std::string file = examples::folder + "pellibri.toml";
  std::vector<std::string> sets{"place/name=munich", "place/month=january",
                                "bank/box/heater/supplied_by=bank"};
  const auto energy = energy::assess(examples::opened(file, sets).design);
  REQUIRE(energy.autonomy.has_value());
  REQUIRE(energy.autonomy_mean_day.has_value());
  CHECK(*energy.autonomy < 0.9 * *energy.autonomy_mean_day);
  const double between = double((*energy.autonomy + *energy.autonomy_mean_day) / (2.0 * day));
  sets.push_back("promise/autonomy=" + std::to_string(between) + " d");
  const Checked checked = examples::checked(file, sets);
  const auto found = std::find_if(checked.findings.begin(), checked.findings.end(),
                                  [](const Finding& f) { return f.rule == "autonomy"; });
  REQUIRE((found != checked.findings.end()));
  CHECK(found->verdict == Verdict::fail);
  CHECK(found->measured->si == doctest::Approx(energy.autonomy->value()).epsilon(1e-9));
  const auto shown = [&](std::string_view symbol) {
    const auto step = std::find_if(found->working.begin(), found->working.end(),
                                   [&](const Step& s) { return s.formula.symbol == symbol; });
    return step == found->working.end() ? 0.0 : step->value.si;
  };
  CHECK(shown("t_aut") == doctest::Approx(energy.autonomy_mean_day->value()).epsilon(1e-9));
  CHECK(shown("t_sim") == doctest::Approx(energy.autonomy->value()).epsilon(1e-9));
}

TEST_CASE("what a profile does not ask is told in a list, and holds nothing back") {
  // Of the profile for Europe nobody has read where a lithium battery may sit.
  const std::vector<std::string> sets{"rules/profile=iec-en-leisure", "rules/inspected=[]",
                                      "bank/mounted=inside"};
  const Checked silent = examples::checked(examples::faulty("base"), sets);
  const auto of_place = [](const auto& list) {
    return std::count_if(list.begin(), list.end(),
                         [](const auto& one) { return one.rule == "lithium-outside"; });
  };
  CHECK(of_place(silent.silences) == 1);
  CHECK(of_place(silent.findings) == 0);
  const Checked asks = examples::checked(examples::faulty("base"), {"bank/mounted=inside"});
  CHECK(of_place(asks.silences) == 0);
  CHECK(of_place(asks.findings) == 1);
}

TEST_CASE("what the kindest values leave unchecked stays a fail") {
  // In 95 °C no insulation of 90 °C carries anything; no value left unsaid can better that.
  const Checked hot = examples::checked(examples::faulty("base"), {"run/cooler/ambient=95 °C"});
  for (const Finding& f : hot.findings)
    if (f.rule == "ampacity" && f.subject == "run/cooler") CHECK(f.verdict == Verdict::fail);
}

/// One battery, one fused run to a cooler of 20 A on 4 mm².
std::string sketch(const std::string& run_states, const std::string& bank_states = "") {
  return R"(schema = 1
[vehicle]
name = "Sketch"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[[device]]
name = "post fuse"
breaking_capacity = "4 kA"
rated_voltage = "32 V"
[[appliance]]
name = "Cooler"
power = "210 W"
[bank]
chemistry = "lfp"
quantity = 1
capacity = "100 Ah"
nominal_voltage = "12.8 V"
discharge_limit = "100 A"
)" + bank_states +
         R"(
[[run]]
name = "cooler"
from = "bank"
to = "Cooler"
length = "1 m"
conductor = "4 mm2"
protection = [{ end = "from", type = "post fuse", rating = "25 A", distance = "0.1 m" }]
)" + run_states;
}

const Finding& of(const Checked& checked, std::string_view rule) {
  for (const Finding& f : checked.findings)
    if (f.rule == rule) return f;
  FAIL("no finding of " << rule);
  return checked.findings.front();
}

TEST_CASE("what fails only by a default becomes a caution that asks for the value") {
  // Left unsaid, the cable lies in insulation with three others and bears 60 °C; at its kindest it
  // lies free at 30 °C, where 4 mm² bears more than 20 A.
  const Checked unsaid = examples::checked_text(sketch(""));
  const Finding& ampacity = of(unsaid, "ampacity");
  CHECK(ampacity.verdict == Verdict::caution);
  CHECK(ampacity.cure.starts_with("state the real "));
  CHECK(ampacity.cure.find("run/cooler/laid (in-insulation is assumed)") != std::string::npos);

  const Checked said =
      examples::checked_text(sketch("insulation = \"60 °C\"\nlaid = \"in-insulation\"\nambient = "
                                    "\"40 °C\"\ncircuits_together = 4\n"));
  CHECK(of(said, "ampacity").verdict == Verdict::fail);
  CHECK(of(said, "ampacity").cure.find("state ") == std::string::npos);
}

TEST_CASE("a fault that rests on an assumed resistance asks for the bank's, not for the run's") {
  // 14.12 V behind an assumed 1.6 mΩ (100 Ah) and 0.1 m of 4 mm², out and back 0.86 mΩ: 5.7 kA
  const std::string lies =
      "insulation = \"90 °C\"\nlaid = \"free\"\nambient = \"30 °C\"\ncircuits_together = 1\n";
  const Checked unsaid = examples::checked_text(sketch(lies));
  const Finding& assumed = of(unsaid, "breaking-capacity");
  CHECK(assumed.verdict == Verdict::caution);
  CHECK(assumed.cure.find("bank/resistance/low") != std::string::npos);
  CHECK(assumed.cure.find("enclosed") == std::string::npos);  // changes nothing in a fault
  const Checked said =
      examples::checked_text(sketch(lies, "resistance = { low = \"2 mΩ\", high = \"5 mΩ\" }"));
  CHECK(of(said, "breaking-capacity").verdict == Verdict::fail);
}

TEST_CASE("findings come in the order fail, caution, not checked, pass") {
  for (const std::string& file : examples::all()) {
    const auto rank = [](Verdict v) {
      return v == Verdict::fail ? 0 : v == Verdict::caution ? 1 : v == Verdict::not_checked ? 2 : 3;
    };
    const Checked one = examples::checked(file);
    for (std::size_t i = 1; i < one.findings.size(); ++i)
      CHECK_MESSAGE(rank(one.findings[i - 1].verdict) <= rank(one.findings[i].verdict), file);
    CHECK(one.verdicts.safety == worst(one.findings).safety);
    CHECK(one.verdicts.service == worst(one.findings).service);
  }
}

}  // namespace
}  // namespace housepower::checks::checks_judging
