// SPDX-License-Identifier: Apache-2.0
#include "housepower/checks/as_found.hpp"

#include <algorithm>
#include <cmath>

#include "as_found.hpp"
#include "housepower/units/phrases.hpp"

namespace housepower::checks {

extern const Rule hot_joint, drop, appliance_undervoltage, voltage_collapse;

namespace {

using wiring::Suspect;
using Is = Suspect::Is;

constexpr Source estimated{SourceKind::common_practice, "the readings", "as estimated from them"};

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
/// Each at the same pole and no more than a tenth larger.
bool is_covered(const std::vector<TooMuch>& way, const std::vector<TooMuch>& judged) {
  return std::equal(way.begin(), way.end(), judged.begin(), judged.end(),
                    [](const TooMuch& x, const TooMuch& y) {
                      return x.run == y.run && x.pole == y.pole && x.ohms <= 1.1 * y.ohms;
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
    Diagnostics none;
    const auto changed = as_found(document_, way);
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
      for (const Rule* rule : {&drop, &appliance_undervoltage, &voltage_collapse})
        if (f.rule == rule->name && f.verdict >= Verdict::caution && is_worse(f, checked_.findings))
          worse.push_back(f);
    to.insert(to.end(), worse.begin(), worse.end());
    networks_.emplace_back(network, std::move(worse));
  }

  const design::Document& document_;
  const design::Design& design_;
  const Checked& checked_;
  const wiring::Diagnosis& diagnosis_;
  std::vector<std::pair<std::vector<TooMuch>, std::vector<Finding>>> networks_{};
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
                    const std::vector<wiring::CheckedByHand>& by_hand) {
  Judging judging(document, design, checked, diagnosis);
  const auto ways = ways_of(diagnosis);
  const bool only = is_only_one(diagnosis);
  for (const Together& way : ways) judging.judge(way, only);
  for (const wiring::Cause& c : diagnosis.causes)
    if (c.it.is == Is::reversed) judging.judge_reversed(c);
  AsFound found{std::move(judging.findings), of_readings(diagnosis)};
  std::stable_sort(found.findings.begin(), found.findings.end(),
                   [](const Finding& x, const Finding& y) { return x.verdict > y.verdict; });
  for (const Finding& f : found.findings) found.verdict = std::max(found.verdict, f.verdict);
  for (const auto& one : by_hand)
    if (!one.holds.value_or(true)) found.verdict = Verdict::fail;
  return found;
}

}  // namespace housepower::checks
