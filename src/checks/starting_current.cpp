// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/starting.hpp"

namespace housepower::checks {
namespace {

using design::resolved::Appliance;

struct LowestAtStart {
  Voltage value;
  bool stated;
};
LowestAtStart lowest_at_start(const Evidence& e, const wiring::ConsumerInCase& at) {
  for (const auto& a : e.design->appliances)
    if (a.name == at.name)
      return {a.lowest, !is_assumed(e.design, subject_of(e.design, a).with("lowest_voltage"))};
  for (const auto& i : e.design->inverters)
    if (i.name == at.name)
      return {i.cut_out, !is_assumed(e.design, subject_of(e.design, i).with("cut_out"))};
  return {0.0 * volt, false};
}

/// One start: who, in which case, and what its way is.
struct Start {
  const Rule& rule;
  const Evidence& e;
  const Appliance& who;
  const wiring::CaseResult& in;
  std::vector<Finding>& findings;

  [[nodiscard]] Subject path() const { return subject_of(e.design, who).with("starting"); }
  [[nodiscard]] Duration lasts() const { return who.starting->time; }
  void add(Finding f) const {
    f.in_case = in.load_case.name;
    findings.push_back(std::move(f));
  }
  /// What rests on the solution; before a collapse it is kinder than what comes.
  void add_solved(Finding f) const {
    if (!in.collapsed.empty()) hold_back(f, "this start has no operating point");
    add(std::move(f));
  }

  /// The voltage of one consumer while it starts.
  void voltage(const Subject& subject, const wiring::ConsumerInCase& at) const {
    const LowestAtStart least = lowest_at_start(e, at);
    Working working;
    given(e.kept(working), "U", "voltage at its terminals, from the solution of the network",
          at.voltage, our_method);
    (void)wiring::path_drop_of(e.design, e.wiring, in, at, e.kept(working));
    Finding f = judge(rule, subject, at.voltage, Bound::at_least,
                      {least.value, least.stated ? as_stated : our_method,
                       least.stated ? Verdict::fail : Verdict::caution},
                      std::move(working));
    const auto [gets, needs] = figures(f);
    f.message = "while " + quoted(who.name) + " starts, " + quoted(at.name) + " gets " + gets +
                " and needs " + needs +
                (least.stated ? "" : " (assumed: its own limit is not stated)");
    if (f.verdict != Verdict::pass)
      f.cure = "a larger conductor or a shorter run where both run, a soft start, or starting it "
               "from a fuller bank";
    hold_back(f, at.unknown, e);
    rest_on_open(f, e, e.wiring.ways[at.post], in);
    add_solved(std::move(f));
  }

  void voltages() const {
    const std::string own = who.inverter ? e.design[*who.inverter].name : who.name;
    const wiring::ConsumerInCase* tightest = nullptr;
    const auto room = [&](const wiring::ConsumerInCase& at) {
      return at.voltage / lowest_at_start(e, at).value;
    };
    for (const auto& at : in.consumers) {
      if (!at.unknown.empty() && at.voltage <= 0.0 * volt) continue;
      if (at.name == own) {
        if (in.collapsed.empty()) voltage(path(), at);
      } else if (!tightest || room(at) < room(*tightest)) tightest = &at;
    }
    if (tightest) voltage(path().with("current"), *tightest);
  }

  /// The devices on its way must hold while it starts.
  void devices() const {
    const auto& way = e.wiring.ways[who.post];
    for (const auto& part : way.outgoing) {
      const Run& run = e.design[part.run];
      const Current through = in.runs[part.run].current;
      for (std::size_t n = 0; n < run.protection.size(); ++n)
        device(run, n, part.along ? through : -through);
    }
  }
  void device(const Run& run, std::size_t n, Current through) const {
    const Protection& p = run.protection[n];
    Working working;
    given(e.kept(working), "I", "through the device meanwhile, from the solution of the network",
          through, our_method);
    given(e.kept(working), "t_s", "the start lasts", lasts(), as_stated);
    const auto holds = wiring::holds_for(p, through, e.kept(working));
    const std::string what = "the " + print(p.rating) + " device of run " + quoted(run.name);
    if (!holds) {
      add(not_checked(rule, subject_of(e.design, run).protection(n),
                      what + " carries " + print(through) + " while " + quoted(who.name) +
                          " starts; no time-current curve of it is known: state its `curve`",
                      {subject_of(e.design, run).protection(n).with("curve")}));
      return;
    }
    if (!holds->time) return;  // within its rating
    const bool surely = holds->source.kind != SourceKind::from_memory;
    Finding f = judge(rule, subject_of(e.design, run).protection(n), lasts(), Bound::at_most,
                      {*holds->time, holds->source, surely ? Verdict::fail : Verdict::caution},
                      std::move(working));
    f.message = what + " carries " + print(through) + " for " + print(lasts()) + " while " +
                quoted(who.name) + " starts; it may open after " + print(*holds->time);
    if (f.verdict != Verdict::pass)
      f.cure =
          "a slower device or the next rating up, if the conductor carries it, or a soft start";
    add_solved(std::move(f));
  }

  void inverter() const {
    if (!who.inverter) return;
    const auto& i = e.design[*who.inverter];
    const Subject subject = subject_of(e.design, i).with("surge");
    Working working;
    const Power asked =
        wiring::asked_at_start(e.design, in.load_case, *who.inverter, e.kept(working));
    if (asked <= i.rating) return;  // it does that for ever
    if (!i.surge) {
      add(not_checked(rule, subject,
                      "the start of " + quoted(who.name) + " draws " + print(asked) + " from " +
                          quoted(i.name) + ", whose `surge` is not stated"));
      return;
    }
    given(e.kept(working), "t_s", "the start lasts", lasts(), as_stated);
    const bool in_time = lasts() <= i.surge->time;
    Finding f = judge(rule, subject, asked, Bound::at_most,
                      {in_time ? i.surge->power : i.rating, as_stated}, std::move(working));
    f.message = "the start of " + quoted(who.name) + " draws " + print(asked) + " from " +
                quoted(i.name) + " for " + print(lasts()) + "; it gives " + print(i.surge->power) +
                " for " + print(i.surge->time) + ", " + print(i.rating) + " for longer";
    if (f.verdict != Verdict::pass)
      f.cure = "a soft start, or an inverter with a larger surge rating";
    add(std::move(f));
  }

  void battery() const {
    if (in.batteries.empty()) return;
    const auto& bank = *e.design->bank;
    std::vector<Term<Current>> terms;
    for (const auto& b : in.batteries)
      terms.push_back({"battery " + std::to_string(b.number), b.current});
    Working working;
    const Current busiest =
        largest(e.kept(working), "I_b",
                "current of the busiest battery, from the solution of the network", terms);
    const bool peaks = bank.peak && lasts() <= bank.peak->time;
    const auto limit = peaks ? std::optional(bank.peak->current) : bank.discharge_limit;
    if (!limit) {
      add(not_checked(rule, subject_of_bank().with("peak"),
                      "the bank states no limit for a start of " + print(lasts())));
      return;
    }
    given(e.kept(working), "t_s", "the start lasts", lasts(), as_stated);
    Finding f = judge(rule, subject_of_bank().with("peak"), busiest, Bound::at_most,
                      {*limit, as_stated}, std::move(working));
    f.message = "while " + quoted(who.name) + " starts, the busiest battery gives " +
                print(busiest) + " for " + print(lasts()) + "; it may give " + print(*limit) +
                (peaks ? " for " + print(bank.peak->time) : std::string(" for that long"));
    if (f.verdict != Verdict::pass) f.cure = "more batteries in parallel, or a soft start";
    add_solved(std::move(f));
  }
};

std::vector<Finding> check_starting(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& in : wiring::starting_cases(e.design, e.wiring)) {
    const auto* borne = in.borne();
    const Start start{rule, e, e.design[*in.load_case.starting], borne ? *borne : in, findings};
    start.inverter();
    if (borne) {
      start.voltages();
      start.devices();
      start.battery();
    }
    if (const auto* c = std::get_if<wiring::Collapse>(&in.solution)) {
      Finding f = state(rule, start.path(), Verdict::fail,
                        "while " + quoted(start.who.name) + " starts, " + quoted(in.collapsed) +
                            " draws " + print(c->asked) + " and its cable can carry " +
                            print(c->most) + ": there is no operating point",
                        our_method);
      f.cure = "a larger conductor or a shorter run, or a soft start";
      start.add(std::move(f));
    } else if (!in.solved()) {
      start.add(not_checked(rule, start.path(), "the network of this start was not solved"));
    }
  }
  return findings;
}

// What hinders a start spares the battery that feeds it.
constexpr Sign starting_current_signs[] = {{Parameter::length, Effect::not_monotone},
                                           {Parameter::area, Effect::better},
                                           {Parameter::load, Effect::worse},
                                           {Parameter::batteries, Effect::better},
                                           {Parameter::joint_resistance, Effect::not_monotone},
                                           {Parameter::discharge_limit, Effect::better}};

}  // namespace

extern const Rule starting_current{
    .name = "starting-current",
    .asks = "Does each motor start without anything else dropping out and without a device or "
            "battery opening?",
    .why = "A motor draws three to ten times its current while it starts: lights go out, fuses "
           "open, and the battery's own protection takes the van dark within a tenth of a second.",
    .cure = "A soft start, more batteries in parallel, a larger inverter, larger conductors.",
    .source = {SourceKind::supplier, "the makers of battery, inverter and appliance",
               "starting current, surge rating and peak as the design states them"},
    .signs = starting_current_signs,
    .concern = Concern::service,
    .check = check_starting};

}  // namespace housepower::checks
