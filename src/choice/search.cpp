// SPDX-License-Identifier: Apache-2.0
// States of a choice: written into the design, tried, and what they leave beyond its limit.
#include "search.hpp"

#include <algorithm>

namespace housepower::choice::inside {

Open* open_of(Search& s, std::size_t run) {
  const auto found =
      std::find_if(s.open.begin(), s.open.end(), [&](const Open& o) { return o.run == run; });
  return found == s.open.end() ? nullptr : &*found;
}

design::Document document_of(const Search& s) {
  design::Document document = s.document;
  for (const Open& o : s.open) {
    if (!o.why_none.empty()) continue;
    design::Run& run = document.run[o.run];
    if (o.conductor) run.conductor = s.series[o.size].name;
    for (const WantedDevice& device : o.devices)
      if (device.chosen) run.protection.push_back(written(device, s.document, run));
  }
  return document;
}

namespace {

/// Devices for what the trial shows; true where one changed.
bool fit_devices(Search& s, const Trial& trial) {
  bool changed = false;
  for (Open& o : s.open)
    for (WantedDevice& device : o.devices) {
      if (!o.why_none.empty()) continue;
      const Offer* fit = first_fit(s.offers, device, need_of(trial, o.run, device.end));
      changed = changed || fit != device.chosen;
      device.chosen = fit;
    }
  return changed;
}

}  // namespace

std::optional<Trial> settle(Search& s) {
  std::optional<Trial> trial;
  for (int round = 0; round < 4; ++round) {
    trial = try_out(document_of(s), s.tables, s.energy);
    ++s.checks;
    if (!trial || !fit_devices(s, *trial)) break;
  }
  return trial;
}

const Open* lacking(const Search& s) {
  for (const Open& o : s.open)
    for (const WantedDevice& device : o.devices)
      if (o.why_none.empty() && !device.chosen) return &o;
  return nullptr;
}

std::vector<const Finding*> concerns(Search& s, const Trial& trial) {
  std::vector<const Finding*> list;
  for (const Finding& f : trial.findings) {
    if (f.verdict >= Verdict::caution && checks::is_about(f, checks::About::reserve))
      s.excused.insert({f.rule, f.subject});  // told, but no choice hangs on it
    if (f.verdict < Verdict::caution || s.excused.count({f.rule, f.subject}) > 0) continue;
    bool hangs = false, given_up = false;
    for (const std::size_t run : runs_of(trial, f.subject))
      if (const Open* o = open_of(s, run)) {
        hangs = true;
        given_up = given_up || !o->why_none.empty();
      }
    const bool wants_device = checks::is_about(f, checks::About::missing_device) &&
                              f.subject.is(Subject::Kind::run) && !given_up;
    if ((hangs && !given_up) || wants_device) list.push_back(&f);
  }
  return list;
}

}  // namespace housepower::choice::inside
