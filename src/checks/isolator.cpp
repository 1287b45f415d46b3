// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/carried.hpp"
#include "housepower/wiring/switched_off.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

using design::InlineKind;
using design::resolved::InlineItem;

constexpr Source live_source{SourceKind::common_practice, "practice of the trade",
                             "a bank that can be switched off"};

Finding check_isolator_rating(const Rule& rule, const Evidence& e, RunId id, std::size_t n) {
  const Run& run = e.design[id];
  const InlineItem& item = run.inline_items[n];
  const Subject subject = subject_of(e.design, run).inline_item(n);
  const std::string who = item_of(run, n);
  if (!item.rating) {
    Finding f =
        not_checked(rule, subject, who + ": its `rating` is not stated", {subject.with("rating")});
    f.cure = "state the current that it is rated for";
    return f;
  }
  const auto& facts = e.wiring.runs[id].current;
  Working working;
  const Current carried = wiring::carried_of(e.design, e.wiring, id, item.pole, e.kept(working));
  Finding f =
      judge(rule, subject, carried, Bound::at_most, {*item.rating, as_stated}, std::move(working));
  f.in_case = facts.in_case;
  const auto [passes, bears] = figures(f);
  f.message = who + " " + std::string(carries(e)) + " " + passes + "; it is rated for " + bears;
  hold_back(f, facts.why_unknown, e);
  if (f.verdict >= Verdict::caution)
    f.cure = "one that is rated for at least " + print_at_least(carried);
  return f;
}

Finding check_breaks(const Rule& rule, const Evidence& e, const Run& run, std::size_t n) {
  const InlineItem& item = run.inline_items[n];
  const Subject path = subject_of(e.design, run).inline_item(n).with("breaks_load");
  const std::string who = item_of(run, n);
  Finding f =
      !item.breaks_load
          ? not_checked(rule, path, who + ": whether it may be opened under load is not stated")
      : *item.breaks_load
          ? state(rule, path, Verdict::pass, who + " may be opened under load", as_stated)
          : state(rule, path, Verdict::caution,
                  who + " may not be opened under load, and nothing keeps a hand from it",
                  as_stated);
  if (f.verdict != Verdict::pass)
    f.cure = "one that breaks the load (`breaks_load = true`, as its maker states)";
  return f;
}

bool breaks_load(const Run&, const InlineItem& item) {
  return wiring::is_switch(item) && item.breaks_load == true;
}
bool any_breaks_load(const design::Design& d) {
  return std::any_of(d->runs.begin(), d->runs.end(), [](const Run& run) {
    return std::any_of(run.inline_items.begin(), run.inline_items.end(),
                       [&](const InlineItem& item) { return breaks_load(run, item); });
  });
}

/// A run that leaves the bank, with every isolator open that breaks the load.
struct FromBank {
  const Run& run;
  bool live;                       // its far end still has a way out and a way home
  std::vector<std::string> draws;  // what it leads to, not by way of the bank
  std::vector<std::string> fed;    // of that, what the bank feeds even so
  [[nodiscard]] bool is_off() const { return fed.empty() && (!draws.empty() || !live); }
};

FromBank from_bank(const Evidence& e, const Run& run, const wiring::Reached& fed) {
  const auto bank = e.design->bank->post;
  const auto far = run.from == bank ? run.to : run.from;
  wiring::Reached beyond(e.design->posts.size());
  wiring::walk(e.wiring.plus, far, beyond,
               [&](auto, const wiring::Neighbour& next) { return next.other != bank; });
  FromBank out{run, fed[far], wiring::drawing_at(e.design, beyond), {}};
  for (const auto post : beyond.ids()) beyond[post] = beyond[post] && fed[post];
  out.fed = wiring::drawing_at(e.design, beyond);
  return out;
}

std::vector<FromBank> all_from_bank(const Evidence& e) {
  const auto bank = e.design->bank->post;
  const auto fed = wiring::fed_while_open(e.design, breaks_load);
  std::vector<FromBank> all;
  for (const Run& run : e.design->runs)
    if (run.from == bank || run.to == bank) all.push_back(from_bank(e, run, fed));
  return all;
}

/// One of them is off; of those that lead to anything that draws, where there are such.
bool any_is_off(const std::vector<FromBank>& all) {
  const bool draws =
      std::any_of(all.begin(), all.end(), [](const FromBank& one) { return !one.draws.empty(); });
  return std::any_of(all.begin(), all.end(), [&](const FromBank& one) {
    return one.is_off() && (!draws || !one.draws.empty());
  });
}

/// "Fridge", "Lights", "Pump" and 4 more.
std::string fed_of(const std::vector<FromBank>& all) {
  std::vector<std::string> names;
  for (const FromBank& one : all)
    for (const auto& name : one.fed)
      if (std::find(names.begin(), names.end(), quoted(name)) == names.end())
        names.push_back(quoted(name));
  constexpr std::size_t most = 3;
  const std::size_t more = names.size() > most ? names.size() - most : 0;
  names.resize(names.size() - more);
  return listed(names) + (more > 0 ? " and " + std::to_string(more) + " more" : "");
}

Finding bank_is_switched(const Rule& rule, const std::vector<FromBank>& all) {
  std::vector<std::string> live;
  for (const FromBank& one : all)
    if (one.live) live.push_back(quoted(one.run.name));
  return state(rule, subject_of_bank(), Verdict::pass,
               live.empty() ? "each run from the bank has an isolator that breaks the load"
                            : "the bank has an isolator that breaks the load; without one, and "
                              "live while it is open: " +
                                  listed(live),
               live_source);
}

Finding nothing_switches(const Rule& rule, const Evidence& e, const std::vector<FromBank>& all) {
  const std::string fed = fed_of(all);
  const bool round = any_breaks_load(e.design) && !fed.empty();
  Finding f = state(rule, subject_of_bank(), Verdict::caution,
                    round ? "nothing switches the bank off: with every isolator open that breaks "
                            "the load it still feeds " +
                                fed
                          : "nothing switches the bank off: no run from it has an isolator or "
                            "contactor that is stated to break the load (a plug does not count)",
                    live_source);
  f.cure = round ? "one in the run that leaves the bank, with no other way round it, out or home"
                 : "state it as `inline` of the run that leaves the bank, or fit one";
  f.wants = {Subject(Subject::Kind::run).with("inline")};
  return f;
}

/// A bank of which no part can be switched off under load; what stays live is told.
Finding check_bank_isolator(const Rule& rule, const Evidence& e) {
  const auto all = all_from_bank(e);
  return any_is_off(all) ? bank_is_switched(rule, all) : nothing_switches(rule, e, all);
}

std::vector<Finding> check_isolators(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i)
    for (std::size_t n = 0; n < e.design->runs[i].inline_items.size(); ++n) {
      const InlineItem& item = e.design->runs[i].inline_items[n];
      if (!item.connector)  // whose cavities connector-load judges one by one
        findings.push_back(check_isolator_rating(rule, e, {int(i)}, n));
      if (wiring::is_switch(item)) findings.push_back(check_breaks(rule, e, e.design->runs[i], n));
    }
  if (e.design->bank) findings.push_back(check_bank_isolator(rule, e));
  return findings;
}

constexpr Sign isolator_signs[] = {
    {Parameter::length, Effect::none},         {Parameter::area, Effect::none},
    {Parameter::ambient, Effect::none},        {Parameter::load, Effect::worse},
    {Parameter::device_rating, Effect::worse}, {Parameter::joints, Effect::none}};

constexpr auto isolator_leans_on = lean_on_loads;

}  // namespace

extern const Rule isolator{
    .name = "isolator",
    .asks = "Does each isolator, contactor, shunt and plug carry its current, and can the bank be "
            "switched off under load?",
    .why = "A switch loaded above its rating overheats or welds shut, and one that does not break "
           "the load arcs when it is needed most.",
    .cure = "Items rated for the largest steady current; isolators that break the load.",
    .source = {SourceKind::supplier, "the item's maker", "its rating as the design states it"},
    .signs = isolator_signs,
    .concern = Concern::safety,
    .leans_on = isolator_leans_on,
    .check = check_isolators};

}  // namespace housepower::checks
