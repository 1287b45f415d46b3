// SPDX-License-Identifier: Apache-2.0
#include "housepower/checks/as_found.hpp"

#include <algorithm>
#include <cmath>

#include "as_found.hpp"
#include "housepower/units/phrases.hpp"

namespace housepower::checks {

extern const Rule hot_joint, drop, appliance_undervoltage, voltage_collapse, starting_current,
    far_fault_clears, ampacity, return_ampacity, fuse_below_conductor, fault_withstand;

namespace {

using wiring::Suspect;
using Is = Suspect::Is;

constexpr Source estimated{SourceKind::common_practice, "the readings", "as estimated from them"};

/// By so much the resistances of two sizes differ that are taken for each other: two standard
/// deviations of the range of wrong conductors (from judgement).
constexpr double taken_for = 1.6 * 1.6;

bool is_resistance(const Suspect& s) {
  return s.is == Is::joint || s.is == Is::conductor || s.is == Is::device || s.is == Is::item ||
         s.is == Is::link;
}
bool is_on_run(const Suspect& s) { return is_resistance(s) && s.run.index >= 0; }
/// Ohms more than the design has; less than nothing counts nothing.
Resistance excess_of(const Suspect& s) {
  return Resistance::from_value(std::max(s.value.si - (s.expected ? s.expected->si : 0.0), 0.0));
}
/// Of a reading or of the way it was read, not of the van.
bool is_of_reading(const Suspect& s) { return s.is == Is::reading || s.is == Is::reversed; }

/// Suspects that would all be true at once.
using Together = std::vector<Suspect>;

/// Every way in which the van may be wrong by these readings: each cause that is told and all that it
/// may be instead, beside the others where they are true together.
std::vector<Together> ways_of(const wiring::Diagnosis& d) {
  const auto others_than = [&](const wiring::Cause& one) {
    Together all;
    for (const wiring::Cause& c : d.causes)
      if (d.together && &c != &one && !is_of_reading(c.it)) all.push_back(c.it);
    return all;
  };
  std::vector<Together> ways;
  for (const wiring::Cause& c : d.causes) {
    const auto add = [&](const Suspect& one) {
      Together way = others_than(c);
      way.push_back(one);
      ways.push_back(std::move(way));
    };
    if (!is_of_reading(c.it)) add(c.it);
    for (const Suspect& other : c.instead) add(other);
  }
  return ways;
}

/// Nothing else is told than what is wrong for sure.
bool is_only_one(const wiring::Diagnosis& d) {
  std::size_t parts = 0, others = 0;
  for (const wiring::Cause& c : d.causes) {
    parts += is_of_reading(c.it) ? 0U : 1U;
    others += c.instead.size();
  }
  return others == 0 && (d.together || parts == 1);
}

/// The document with what was found as items in line.
design::Document as_found(design::Document document, const Together& way) {
  for (const Suspect& s : way) {
    if (!is_on_run(s)) continue;
    auto& item = document.run.at(std::size_t(s.run.index)).inline_items.emplace_back();
    item.kind = design::InlineKind::plug;
    item.resistance = excess_of(s);
    item.pole = s.pole;
  }
  return document;
}

/// The row of its own series, thinner than the design has it, whose resistance is nearest to what was
/// found; nothing where that is the design's.
std::optional<std::string> thinner_by(const design::Design& d, const Suspect& s) {
  if (s.is != Is::conductor || s.run.index < 0 || !s.expected || s.value.si <= s.expected->si)
    return std::nullopt;
  const auto& run = d[s.run];
  const auto& has = s.pole == design::Pole::outgoing ? run.conductor : run.back.conductor;
  if (!has || !(s.expected->si > 0.0)) return std::nullopt;
  const double found = std::log(s.value.si / s.expected->si);
  const auto apart = [&](const tables::Conductor& row) {
    return std::abs(std::log(row.resistance_at_20 / has->resistance_at_20) - found);
  };
  const std::string series = std::string(has->series) + (has->tinned ? " tinned" : "");
  const tables::Conductor* nearest = &*has;
  for (const auto& row : tables::series_named(*d->tables, series))
    if (row.resistance_at_20 > has->resistance_at_20 && apart(row) < apart(*nearest))
      nearest = &row;
  return nearest == &*has ? std::nullopt : std::optional(nearest->name);
}

/// The document with the conductor of that pole thinner.
design::Document with_thinner(design::Document document, const Suspect& s,
                              const std::string& size) {
  design::Run& run = document.run.at(std::size_t(s.run.index));
  const bool comes_back = !run.chassis_return.value_or(false);
  if (comes_back && !run.return_) run.return_.emplace();
  if (s.pole == design::Pole::return_) {
    run.return_->conductor = size;
    return document;
  }
  if (comes_back && !run.return_->conductor) run.return_->conductor = run.conductor;
  run.conductor = size;
  return document;
}

bool is_worse(const Finding& f, const std::vector<Finding>& before) {
  const Finding* old = same_finding(before, f);
  return old ? f.verdict > old->verdict : f.verdict >= Verdict::caution;
}

/// What a run's pole would have too much; of two ways alike here, one need be judged.
struct TooMuch {
  int run;
  design::Pole pole;
  double ohms;
};
std::vector<TooMuch> network_of(const Together& way) {
  std::vector<TooMuch> all;
  for (const Suspect& s : way)
    if (is_on_run(s)) all.push_back({s.run.index, s.pole, excess_of(s).value()});
  std::sort(all.begin(), all.end(), [](const TooMuch& x, const TooMuch& y) {
    return std::pair(x.run, x.pole) < std::pair(y.run, y.pole);
  });
  return all;
}
/// All that it has too much, added up.
double ohms_of(const Together& way) {
  double ohms = 0;
  for (const TooMuch& one : network_of(way)) ohms += one.ohms;
  return ohms;
}
/// Each at the same pole and no larger.
bool is_covered(const std::vector<TooMuch>& way, const std::vector<TooMuch>& judged) {
  return std::equal(way.begin(), way.end(), judged.begin(), judged.end(),
                    [](const TooMuch& x, const TooMuch& y) {
                      return x.run == y.run && x.pole == y.pole && x.ohms <= y.ohms;
                    });
}

class Judging {
public:
  Judging(const design::Document& document, const design::Design& design, const Checked& checked,
          const wiring::Diagnosis& diagnosis)
      : document_(document), design_(design), checked_(checked), diagnosis_(diagnosis) {}

  /// `only`: it is the one way there is.
  void judge(const Together& way, bool only) {
    std::vector<Finding> found;
    for (const Suspect& s : way) add_suspect(found, s);
    add_network(found, way);
    for (const Suspect& s : way) add_thinner(found, s);
    for (Finding& f : found) {
      if (!only && !way.empty()) f.message = "if it is " + words_of(way) + ": " + f.message;
      keep(std::move(f));
    }
  }
  void judge_reversed(const wiring::Cause& c) {
    const bool drop = c.it.element.is(Subject::Kind::run);
    keep(state(voltage_collapse, c.it.element, drop ? Verdict::caution : Verdict::fail,
               drop ? "reads below zero: probes reversed, or current flows backwards"
                    : "reads reversed: plus and minus are swapped, unless it was the meter's leads",
               estimated));
  }
  std::vector<Finding> findings{};

private:
  /// Of one subject the worst is kept.
  void keep(Finding f) {
    for (Finding& old : findings)
      if (is_same_question(f, old)) {
        if (f.verdict > old.verdict) old = std::move(f);
        return;
      }
    findings.push_back(std::move(f));
  }
  static std::string words_of(const Together& way) {
    std::vector<std::string> names;
    for (const Suspect& s : way) names.push_back(s.element.text());
    return listed(names, " and ");
  }
  void add_suspect(std::vector<Finding>& to, const Suspect& s) const {
    if (is_resistance(s) && s.is != Is::conductor)
      to.push_back(judge_joint(s.element, "what was found at " + s.element.text(),
                               s.most.value_or(Current{}), excess_of(s), estimated));
    if ((s.is == Is::battery || s.is == Is::link) && diagnosis_.batteries.size() > 1)
      to.push_back(judge_shares(diagnosis_.batteries));
  }
  void add_network(std::vector<Finding>& to, const Together& way) {
    const auto network = network_of(way);
    if (network.empty()) return;
    for (const auto& [judged, findings_of_it] : networks_)
      if (is_covered(network, judged)) {
        to.insert(to.end(), findings_of_it.begin(), findings_of_it.end());
        return;
      }
    auto worse =
        worse_of(as_found(document_, way), {&drop, &appliance_undervoltage, &voltage_collapse,
                                            &starting_current, &far_fault_clears});
    to.insert(to.end(), worse.begin(), worse.end());
    networks_.emplace_back(network, std::move(worse));
  }
  /// A conductor that reads too much may be a thinner one: then its device may be too large for it. What
  /// nobody tells, and may only be instead, within the sizes that are taken for each other.
  void add_thinner(std::vector<Finding>& to, const Suspect& s) {
    const auto size = thinner_by(design_, s);
    if (!size || (!is_told(s) && s.value.si > taken_for * s.expected->si)) return;
    const std::string what = "if " + s.element.text() + " is " + *size + ": ";
    if (std::find(thinner_.begin(), thinner_.end(), what) != thinner_.end()) return;
    thinner_.push_back(what);
    for (Finding& f : worse_of(with_thinner(document_, s, *size),
                               {&ampacity, &return_ampacity, &fuse_below_conductor,
                                &fault_withstand, &far_fault_clears})) {
      f.message = what + f.message;
      to.push_back(std::move(f));
    }
  }
  [[nodiscard]] bool is_told(const Suspect& s) const {
    return std::any_of(
        diagnosis_.causes.begin(), diagnosis_.causes.end(),
        [&](const wiring::Cause& c) { return c.it.is == s.is && c.it.element == s.element; });
  }
  /// What those rules say worse of a changed design than of the design itself.
  std::vector<Finding> worse_of(const design::Document& changed,
                                std::initializer_list<const Rule*> asked) const {
    Diagnostics none;
    const auto found = design::resolve(changed, *design_->tables, Defaults::ordinary, none);
    if (!found) throw std::logic_error("a design with one item more has mistakes");
    const Engines without_hours{
        [](const design::Design& d) { return energy::assess(d); },
        [](const design::Design& d, std::span<const wiring::LoadCase> cases, Defaults) {
          return wiring::assess(d, cases);
        },
        [](const design::Design&, const energy::DeliveredList&) { return energy::Outlook{}; }};
    const Checked again = check(changed, *found, without_hours, Workings::left_out);
    std::vector<Finding> worse;
    for (const Finding& f : again.findings)
      for (const Rule* rule : asked)
        if (f.rule == rule->name && f.verdict >= Verdict::caution && is_worse(f, checked_.findings))
          worse.push_back(f);
    return worse;
  }

  const design::Document& document_;
  const design::Design& design_;
  const Checked& checked_;
  const wiring::Diagnosis& diagnosis_;
  std::vector<std::pair<std::vector<TooMuch>, std::vector<Finding>>> networks_{};
  std::vector<std::string> thinner_{};  // that were judged
};

/// The least that the readings themselves allow.
Verdict of_readings(const wiring::Diagnosis& d) {
  const bool out = std::any_of(d.readings.begin(), d.readings.end(),
                               [](const wiring::ReadPoint& r) { return !r.in_band; });
  return out || !d.causes.empty() || d.unexplained || !d.unread.empty() ? Verdict::caution
                                                                        : Verdict::pass;
}

}  // namespace

AsFound judge_found(const design::Document& document, const design::Design& design,
                    const Checked& checked, const wiring::Diagnosis& diagnosis,
                    const std::vector<wiring::CheckedByHand>& by_hand,
                    const wiring::Coverage& coverage) {
  Judging judging(document, design, checked, diagnosis);
  auto ways = ways_of(diagnosis);  // the largest first: they cover those within them
  std::stable_sort(ways.begin(), ways.end(),
                   [](const Together& x, const Together& y) { return ohms_of(x) > ohms_of(y); });
  const bool only = is_only_one(diagnosis);
  for (const Together& way : ways) judging.judge(way, only);
  for (const wiring::Cause& c : diagnosis.causes)
    if (c.it.is == Is::reversed) judging.judge_reversed(c);
  AsFound found{std::move(judging.findings), of_readings(diagnosis)};
  std::stable_sort(found.findings.begin(), found.findings.end(),
                   [](const Finding& x, const Finding& y) { return x.verdict > y.verdict; });
  for (const Finding& f : found.findings) found.verdict = std::max(found.verdict, f.verdict);
  const bool left_open = coverage.open_runs() > 0 || !coverage.dead.empty();
  if (left_open) found.verdict = std::max(found.verdict, Verdict::caution);
  for (const auto& one : by_hand)
    if (!one.holds.value_or(true)) found.verdict = Verdict::fail;
  return found;
}

}  // namespace housepower::checks
