// SPDX-License-Identifier: Apache-2.0
// From lower bounds to a state in which every rule holds. What may help a finding is read from its
// rule's sign table: more copper or less of it, a larger device or another type.
#include <algorithm>
#include <cmath>

#include "housepower/checks/run_end.hpp"
#include "search.hpp"

namespace housepower::choice::inside {
namespace {

using checks::Effect;
using checks::Parameter;

bool may_grow(const Open& o) { return o.conductor && o.why_none.empty() && o.size + 1 < o.end; }
bool may_shrink(const Open& o) { return o.conductor && o.why_none.empty() && o.size > 0; }

/// Volts that the next size saves in the finding's case, for the copper that it takes.
double saving(const Search& s, const Trial& trial, const Finding& f, const Open& o) {
  const auto& cases = trial.wiring.cases;
  const auto in = std::find_if(cases.begin(), cases.end(), [&](const wiring::CaseResult& c) {
    return c.load_case.name == f.in_case;
  });
  const wiring::CaseResult* borne = in == cases.end() ? nullptr : in->borne();
  const wiring::CaseResult& here = borne ? *borne : cases.front();
  const double drop = o.run < here.runs.size() ? here.runs[o.run].drop.value() : 0.0;
  const double now = s.series[o.size].copper.value(), next = s.series[o.size + 1].copper.value();
  const auto& run = trial.design->runs[o.run];
  return (std::abs(drop) + 1e-9) * (1.0 - now / next) /
         ((next - now) * run.length.value() * run.parallel);
}

/// Ohms that the size below adds: what holds a fault back.
double hindrance(const Search& s, const Trial& trial, const Open& o) {
  return trial.design->runs[o.run].length.value() *
         (s.series[o.size - 1].resistance_at_20 - s.series[o.size].resistance_at_20).value();
}

/// Leaves a run as it is, with all that hang behind it: nothing can be said of them without it.
void give_up(Search& s, const Trial& trial, std::size_t run, const std::string& why) {
  for (Open& o : s.open) {
    if (!o.why_none.empty()) continue;
    const auto way = runs_of(trial, subject_of_run(s.document, o.run));
    const auto far = runs_of(trial, subject_of_run(s.document, run));
    const bool behind = std::find(way.begin(), way.end(), run) != way.end() &&
                        std::find(far.begin(), far.end(), o.run) == far.end();
    if (o.run == run) o.why_none = why;
    else if (behind)
      o.why_none = "none is found for \"" + s.document.run[run].name + "\" before it";
  }
}

/// The open runs that more copper (or, `less`, less of it) could help, nearest first.
std::vector<Open*> helpers(Search& s, const Trial& trial, const Finding& f, bool less) {
  std::vector<Open*> list;
  const auto own = own_run(f.subject);
  for (const std::size_t run : runs_of(trial, f.subject)) {
    Open* o = open_of(s, run);
    if (!o || !(less ? may_shrink(*o) : may_grow(*o))) continue;
    list.push_back(o);
    if (own == run && !less) break;  // its own size first
  }
  return list;
}

/// An end without a device: it gets one. False where it has got one already.
bool want_device(Search& s, const Finding& f) {
  const auto run = own_run(f.subject);
  if (!run) return false;
  Open* o = open_of(s, *run);
  if (!o) o = &s.open.emplace_back(Open{.run = *run, .conductor = false});
  for (const design::RunEnd end : {design::RunEnd::from, design::RunEnd::to}) {
    if (f.in_case != checks::case_of(end)) continue;
    for (const WantedDevice& device : o->devices)
      if (device.end == end) return false;
    o->devices.push_back({.end = end});
    return true;
  }
  return false;
}

/// A chosen device that a rule does not take: another rating where that matters, else another type.
bool reject_device(Search& s, const Finding& f) {
  const auto run = own_run(f.subject);
  Open* o = run ? open_of(s, *run) : nullptr;
  const auto device_at = device_number(f.subject);
  if (!o || !device_at) return false;
  std::size_t number = *device_at;
  const std::size_t stated = s.document.run[*run].protection.size();
  for (WantedDevice& device : o->devices) {
    if (!device.chosen || number-- != stated) continue;
    const bool by_rating = effect_of(f.rule, Parameter::device_rating).has_value();
    if (by_rating) device.rejected.push_back(device.chosen);
    else device.rejected_types.push_back(device.chosen->type);
    return true;
  }
  return false;
}

/// Where no device fits the conductor grows, and all ratings are open again.
void grow_for_device(Search& s, const Trial& trial, Open& o) {
  if (may_grow(o)) {
    ++o.size;
    for (WantedDevice& device : o.devices) device.rejected.clear();
    return;
  }
  give_up(s, trial, o.run,
          "no device that can be bought carries the load, protects the conductor and breaks the "
          "fault there");
}

/// The moves of one round; growth is spent where it helps most findings for the least copper.
void grow_where_it_helps(Search& s, const Trial& trial, std::vector<const Finding*> slack) {
  while (!slack.empty()) {
    std::map<Open*, double> worth;
    for (const Finding* f : slack)
      for (Open* o : helpers(s, trial, *f, false)) worth[o] += saving(s, trial, *f, *o);
    const auto best =
        std::max_element(worth.begin(), worth.end(),
                         [](const auto& a, const auto& b) { return a.second < b.second; });
    if (best == worth.end()) return;
    Open* const chosen = best->first;
    std::erase_if(slack, [&](const Finding* f) {
      const auto list = helpers(s, trial, *f, false);
      return list.empty() || std::find(list.begin(), list.end(), chosen) != list.end();
    });
    ++chosen->size;
  }
}

bool shrink_where_it_helps(Search& s, const Trial& trial, const Finding& f) {
  const auto list = helpers(s, trial, f, true);
  const auto best = std::max_element(list.begin(), list.end(), [&](const Open* a, const Open* b) {
    return hindrance(s, trial, *a) < hindrance(s, trial, *b);
  });
  if (best == list.end()) return false;
  (*best)->end = (*best)->size--;
  return true;
}

/// What no size cures: a fault of the place itself is excused where it stood before; else the
/// nearest open run is given up.
void set_aside(Search& s, const Trial& trial, const Finding& f) {
  const auto runs = runs_of(trial, f.subject);
  const bool own_is_open = !runs.empty() && open_of(s, runs.front());
  if (!own_is_open && !s.before.is_new(f)) {
    s.excused.insert({f.rule, f.subject});
    return;
  }
  for (const std::size_t run : runs)
    if (open_of(s, run)) return give_up(s, trial, run, std::string(f.rule) + ": " + f.message);
}

/// More copper did not move it the last time.
bool has_not_moved(Search& s, const Finding& f) {
  const auto [last, first_time] = s.last_margin.try_emplace({f.rule, f.subject}, 2.0);
  const bool unmoved =
      !first_time && std::abs(last->second - double(f.margin)) <= 1e-9 * std::abs(last->second);
  last->second = double(f.margin);
  return unmoved;
}

void move(Search& s, const Trial& trial, const std::vector<const Finding*>& list) {
  std::vector<const Finding*> slack;
  for (const Finding* f : list) {
    const bool handled =
        (checks::is_about(*f, checks::About::missing_device) && want_device(s, *f)) ||
        reject_device(s, *f);
    if (handled) continue;
    if (effect_of(f->rule, Parameter::area) == Effect::worse) {
      if (!shrink_where_it_helps(s, trial, *f)) set_aside(s, trial, *f);
    } else if (helpers(s, trial, *f, false).empty()) {
      set_aside(s, trial, *f);
    } else if (has_not_moved(s, *f)) {
      // of two numbers that no size moves: told, and left
      if (f->measured) s.excused.insert({f->rule, f->subject});
      else set_aside(s, trial, *f);
    } else {
      slack.push_back(f);
    }
  }
  grow_where_it_helps(s, trial, std::move(slack));
}

}  // namespace

bool climb(Search& s) {
  while (s.checks < s.limit) {
    const auto trial = settle(s);
    if (!trial) return false;
    if (const Open* o = lacking(s)) {
      grow_for_device(s, *trial, *open_of(s, o->run));
      continue;
    }
    const auto list = concerns(s, *trial);
    if (list.empty()) return true;
    move(s, *trial, list);
  }
  return false;
}

}  // namespace housepower::choice::inside
