// SPDX-License-Identifier: Apache-2.0
// Conductors and devices for a changed pack: as they were where every rule still holds, chosen anew
// where not.
#include <algorithm>

#include "judge.hpp"

namespace housepower::pack::inside {
namespace {

using checks::Parameter;

std::string told(const Finding& f) { return std::string(f.rule) + ": " + f.message; }

/// What is beyond its limit, or has become a caution that it was not.
std::vector<const Finding*> troubles(const std::vector<Finding>& findings, const Standing& before) {
  std::vector<const Finding*> list;
  for (const Finding& f : findings)
    if (!checks::is_about(f,
                          checks::About::promise) &&  // asked of each place, with the wiring chosen
        (f.verdict == Verdict::fail || (f.verdict == Verdict::caution && before.is_new(f))))
      list.push_back(&f);
  return list;
}

Fitted against(Fitted w, std::string why) {
  w.against = std::move(why);
  return w;
}

Fitted against(Fitted w, const Finding& f) {
  w.against_rule = f.rule;
  return against(std::move(w), told(f));
}

bool ends_at_an_appliance(const Document& d, const design::Run& run) {
  return std::any_of(d.appliance.begin(), d.appliance.end(), [&](const design::Appliance& a) {
    return a.name == run.to || a.name == run.from;
  });
}

/// The runs on whose size a trouble hangs: the ways between bank, equipment and panels; a branch to
/// an appliance only where nothing else is left.
std::vector<std::size_t> to_open(const Trial& trial, const Document& d,
                                 const std::vector<const Finding*>& list) {
  std::vector<std::size_t> runs, branches;
  for (const Finding* f : list) {
    if (!helped_by_wiring(f->rule)) continue;
    for (const std::size_t run : runs_of(trial, f->subject)) {
      auto& to = ends_at_an_appliance(d, d.run[run]) ? branches : runs;
      if (std::find(to.begin(), to.end(), run) == to.end()) to.push_back(run);
    }
  }
  return runs.empty() ? branches : runs;
}

/// A chosen device goes where the one before it sat, if every rule holds there too.
void put_back_in_place(Document& d, const Document& before, const std::vector<std::size_t>& runs) {
  for (const std::size_t r : runs)
    for (auto& device : d.run[r].protection)
      for (const auto& old : before.run[r].protection)
        if (old.end == device.end) {
          device.distance = old.distance;
          device.enclosed = old.enclosed;
          device.sits = old.sits;
          device.assumed = old.assumed;
        }
}

}  // namespace

bool helped_by_wiring(std::string_view rule) {
  const checks::Rule* known = checks::rule_named(rule);
  return known && std::any_of(known->signs.begin(), known->signs.end(), [](const auto& sign) {
           return sign.parameter == Parameter::area || sign.parameter == Parameter::device_rating;
         });
}

Fitted fitted(Document document, const tables::Tables& tables, const Standing& before) {
  Fitted result{std::move(document), {}, {}};
  const auto energy = energy_of(result.document, tables);
  if (!energy) return against(std::move(result), "it fails other checks");
  const auto trial = try_out(result.document, tables, *energy);
  const auto list = troubles(trial->findings, before);
  for (const Finding* f : list)
    if (!helped_by_wiring(f->rule)) return against(std::move(result), *f);
  const bool open = std::any_of(result.document.run.begin(), result.document.run.end(),
                                [](const design::Run& run) { return !run.conductor; });
  if (list.empty() && !open) return result;

  Document opened = result.document;
  const auto runs = to_open(*trial, opened, list);
  for (const std::size_t r : runs) {
    opened.run[r].conductor.reset();
    opened.run[r].return_.reset();
    if (result.document.run[r].return_) {
      opened.run[r].return_ = result.document.run[r].return_;
      opened.run[r].return_->conductor.reset();
    }
    opened.run[r].protection.clear();
  }
  Chosen chosen = choose(opened, tables);
  for (const Choice& c : chosen.choices)
    if (!c.why_none.empty()) {
      result.against_run = c.run;
      return against(std::move(result), "no conductor for run \"" + c.run + "\": " + c.why_none);
    }
  Document in_place = chosen.document;
  put_back_in_place(in_place, result.document, runs);
  const auto there = try_out(in_place, tables, *energy);
  const bool holds = there && troubles(there->findings, before).empty();
  const auto last = holds ? there : try_out(chosen.document, tables, *energy);
  if (const auto left = troubles(last->findings, before); !left.empty())
    return against(std::move(result), *left.front());
  result.document = holds ? std::move(in_place) : std::move(chosen.document);
  result.choices = std::move(chosen.choices);
  return result;
}

}  // namespace housepower::pack::inside
