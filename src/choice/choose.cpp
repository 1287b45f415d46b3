// SPDX-License-Identifier: Apache-2.0
// The choice from its start to its answer: lower bounds, climbing, lowering, and why not smaller.
#include "housepower/choice/choose.hpp"

#include <algorithm>

#include "housepower/units/unit.hpp"
#include "search.hpp"
#include "stock.hpp"

namespace housepower::choice {
namespace inside {
namespace {

constexpr std::size_t smaller_shown = 3;

/// Why a state does not do; nothing where it does.
std::optional<TooSmall> objection(Search& s, const Open& o) {
  TooSmall why{s.series[o.size].name, {}, {}, {}, {}, {}};
  const std::size_t run = o.run;
  const auto trial = settle(s);
  if (!trial) return why;
  if (const Open* without = lacking(s)) {
    const auto need = need_of(*trial, without->run, without->devices.front().end);
    why.rule = checks::fuse_below_conductor.name;
    why.subject = subject_of_run(s.document, without->run);
    why.message = "no device that carries " + print(need.least) + " is rated at most " +
                  print(need.most) + " and breaks the fault";
    return why;
  }
  const auto list = concerns(s, *trial);
  if (list.empty()) return std::nullopt;
  // its own trouble rather than another's
  const auto first = std::find_if(list.begin(), list.end(),
                                  [&](const Finding* f) { return own_run(f->subject) == run; });
  const Finding& f = **(first == list.end() ? list.begin() : first);
  why.rule = f.rule;
  why.subject = f.subject;
  why.measured = f.measured;
  why.limit = f.limit;
  why.message = f.message;
  why.unit = f.unit;
  return why;
}

/// The state with one run smaller, and what it says to that; the state comes back.
std::optional<TooSmall> objection_to(Search& s, std::size_t index, std::size_t size) {
  const auto kept = s.open;
  s.open[index].size = size;
  auto why = objection(s, s.open[index]);
  if (why) s.open = kept;
  return why;
}

std::vector<Open> open_runs(const Document& document, const Trial& trial,
                            std::span<const tables::Conductor> series) {
  std::vector<Open> open;
  for (std::size_t i = 0; i < document.run.size(); ++i) {
    if (document.run[i].conductor) continue;
    Open o{.run = i, .end = series.size()};
    const auto& bound = trial.wiring.runs[i].smallest_for_ampacity;
    while (bound && o.size + 1 < series.size() && series[o.size].copper < bound->copper) ++o.size;
    open.push_back(std::move(o));
  }
  return open;
}

/// True where, past a size that fails, a smaller one passes: then that is the state now.
bool add_smaller(Search& s) {
  for (std::size_t i = 0; i < s.open.size(); ++i)
    while (s.open[i].why_none.empty() && s.open[i].smaller.size() < smaller_shown &&
           s.open[i].smaller.size() < s.open[i].size && s.checks < s.limit) {
      auto why = objection_to(s, i, s.open[i].size - s.open[i].smaller.size() - 1);
      if (!why) return true;
      s.open[i].smaller.push_back(*std::move(why));
    }
  return false;
}

Choice choice_of(const Search& s, const Open& o) {
  Choice choice;
  choice.run = s.document.run[o.run].name;
  choice.was_open = o.conductor;
  choice.why_none = o.why_none;
  if (!o.why_none.empty()) return choice;
  choice.conductor = o.conductor ? s.series[o.size].name : *s.document.run[o.run].conductor;
  choice.smaller = o.smaller;
  for (const WantedDevice& device : o.devices)
    if (device.chosen)
      choice.devices.push_back(
          {device.end, device.chosen->type, device.chosen->rating, device.chosen->source});
  return choice;
}

/// Of the state as it would be written: what is still beyond its limit there, or has become a fail
/// anywhere. Then nothing is chosen.
const Finding* objection_to_all(Search& s, const Trial& last) {
  if (const auto list = concerns(s, last); !list.empty()) return list.front();
  const auto turned =
      std::find_if(last.findings.begin(), last.findings.end(), [&](const Finding& f) {
        return f.verdict == Verdict::fail && s.before.is_new(f);
      });
  return turned == last.findings.end() ? nullptr : &*turned;
}

}  // namespace

bool lower(Search& s) {
  for (bool again = true; again;) {
    again = false;
    for (std::size_t i = 0; i < s.open.size(); ++i) {
      Open& o = s.open[i];
      o.smaller.clear();
      while (o.conductor && o.why_none.empty() && o.size > 0) {
        if (s.checks >= s.limit) return false;
        auto why = objection_to(s, i, o.size - 1);
        if (why) {
          o.smaller.push_back(*std::move(why));
          break;
        }
        again = true;
      }
    }
  }
  return true;
}

void spare_devices(Search& s) {
  for (std::size_t i = 0; i < s.open.size(); ++i)
    for (std::size_t n = s.open[i].devices.size(); n-- > 0;) {
      const auto kept = s.open;
      s.open[i].devices.erase(s.open[i].devices.begin() + std::ptrdiff_t(n));
      const auto trial = settle(s);
      if (!trial || lacking(s) || !concerns(s, *trial).empty()) s.open = kept;
    }
}

}  // namespace inside

using namespace inside;

Chosen choose(const design::Document& document, const tables::Tables& tables,
              std::optional<int> most) {
  Chosen chosen{document, {}, {}, 0, true};
  const auto energy = energy_of(document, tables);
  if (!energy) return chosen;  // not a design that was opened
  const auto base = try_out(document, tables, *energy);
  const auto series = conductors_for(document, tables, base->design->sizes);
  if (series.empty()) {
    for (const auto& run : document.run)
      if (!run.conductor)
        chosen.choices.push_back({run.name, true, {}, {}, {}, "no conductor is in stock"});
    chosen.found_all = chosen.choices.empty();
    return chosen;
  }
  Search s{document,
           tables,
           *energy,
           Standing(base->findings),
           series,
           offers_for(document, tables),
           open_runs(document, *base, series)};
  s.limit = 200 + 40 * int(document.run.size());
  if (most) s.limit = std::min(s.limit, *most);
  bool found = climb(s);
  if (found) spare_devices(s);
  do found = found && lower(s);
  while (found && add_smaller(s));
  for (Open& o : s.open)
    if (!found && o.why_none.empty())
      o.why_none = "no choice that passes was found within " + std::to_string(s.limit) + " checks";
  auto last = try_out(document_of(s), tables, *energy);
  if (const Finding* against = last ? objection_to_all(s, *last) : nullptr) {
    const std::string why = std::string(against->rule) + ": " + against->message;
    for (Open& o : s.open)
      if (o.why_none.empty()) o.why_none = why;
    last = try_out(document_of(s), tables, *energy);
  }
  for (const Open& o : s.open) {
    chosen.choices.push_back(choice_of(s, o));
    chosen.found_all = chosen.found_all && o.why_none.empty();
  }
  chosen.document = document_of(s);
  if (last)
    for (const Finding& f : last->findings)
      if (s.before.is_new(f) ||
          (f.verdict >= Verdict::caution && s.excused.count({f.rule, f.subject}) > 0))
        chosen.beyond.push_back(f);
  chosen.checks = s.checks;
  return chosen;
}

}  // namespace housepower::choice
