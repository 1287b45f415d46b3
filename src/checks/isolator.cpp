// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/carried.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

using design::InlineKind;
using design::resolved::InlineItem;

constexpr Source live_source{SourceKind::common_practice, "practice of the trade",
                             "a bank that can be switched off"};

bool switches(const InlineItem& item) {
  return item.kind == InlineKind::isolator || item.kind == InlineKind::contactor;
}

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
  f.message = who + " " + std::string(carries(e)) + " " + print(carried) + "; it is rated for " +
              print(*item.rating);
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

bool breaks_load(const Run& run) {
  return std::any_of(run.inline_items.begin(), run.inline_items.end(), [](const InlineItem& item) {
    return switches(item) && item.breaks_load == true;
  });
}

/// The run itself, or a run that leads on from where it ends.
bool isolated(const Evidence& e, RunId id) {
  const Run& run = e.design[id];
  if (breaks_load(run)) return true;
  const auto far = run.from == e.design->bank->post ? run.to : run.from;
  const auto& onward = e.wiring.plus[far];
  return std::any_of(onward.begin(), onward.end(), [&](const wiring::Neighbour& next) {
    return next.run != id && next.other != e.design->bank->post && breaks_load(e.design[next.run]);
  });
}

/// A bank of which no part can be switched off under load; what stays live is told.
Finding check_bank_isolator(const Rule& rule, const Evidence& e) {
  const auto bank = e.design->bank->post;
  bool any = false;
  std::string live;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) {
    const Run& run = e.design->runs[i];
    if (run.from != bank && run.to != bank) continue;
    any = any || isolated(e, {int(i)});
    if (!breaks_load(run)) live += (live.empty() ? "" : ", ") + quoted(run.name);
  }
  if (any)
    return state(rule, subject_of_bank(), Verdict::pass,
                 live.empty() ? "each run from the bank has an isolator that breaks the load"
                              : "the bank has an isolator that breaks the load; without one, and "
                                "live while it is open: " +
                                    live,
                 live_source);
  Finding f = state(rule, subject_of_bank(), Verdict::caution,
                    "nothing switches the bank off: no run from it has an isolator or contactor "
                    "that is stated to break the load (a plug does not count)",
                    live_source);
  f.cure = "state it as `inline` of the run that leaves the bank, or fit one";
  f.wants = {Subject(Subject::Kind::run).with("inline")};
  return f;
}

std::vector<Finding> check_isolators(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i)
    for (std::size_t n = 0; n < e.design->runs[i].inline_items.size(); ++n) {
      const InlineItem& item = e.design->runs[i].inline_items[n];
      if (!item.connector)  // whose cavities connector-load judges one by one
        findings.push_back(check_isolator_rating(rule, e, {int(i)}, n));
      if (switches(item)) findings.push_back(check_breaks(rule, e, e.design->runs[i], n));
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
