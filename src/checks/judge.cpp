// SPDX-License-Identifier: Apache-2.0
// The only place where numbers become verdicts, one finding or the whole design.
#include <algorithm>
#include <cmath>

#include "common.hpp"
#include "housepower/design/far_place.hpp"

namespace housepower::checks {

Finding::Finding() = default;
Finding::Finding(const Finding&) = default;
Finding::Finding(Finding&&) noexcept = default;
Finding& Finding::operator=(const Finding&) = default;
Finding& Finding::operator=(Finding&&) noexcept = default;
Finding::~Finding() = default;

bool is_same_question(const Finding& a, const Finding& b) {
  return a.rule == b.rule && a.subject == b.subject && a.in_case == b.in_case;
}

const Finding* same_finding(std::span<const Finding> findings, const Finding& as) {
  for (const Finding& one : findings)
    if (is_same_question(one, as)) return &one;
  return nullptr;
}

std::string_view word_of(Bound bound) { return bound == Bound::at_most ? "at most" : "at least"; }

Finding judge(const Rule& rule, Subject subject, Number measured, Bound bound, const Limit& limit,
              Working working) {
  Finding f;
  f.rule = rule.name;
  f.of_safety = rule.concern == Concern::safety;
  f.subject = std::move(subject);
  f.bound = bound;
  f.measured = measured;
  f.limit = limit.value;
  const double room =
      bound == Bound::at_most ? limit.value.si - measured.si : measured.si - limit.value.si;
  const double scale = std::abs(limit.value.si);
  f.margin = scale > 0.0 ? room / scale : room >= 0.0 ? 0.0 : -1.0;
  // A hair of rounding is no failure: the limits are printed with four digits at most.
  f.verdict = room >= -1e-9 * std::max(scale, std::abs(measured.si)) ? Verdict::pass : limit.beyond;
  if (f.verdict == Verdict::pass) f.margin = std::max(f.margin, Ratio(0.0));  // as the verdict says
  f.source = limit.source;
  f.working = std::move(working);
  return f;
}

Finding state(const Rule& rule, Subject subject, Verdict verdict, std::string message,
              const Source& source) {
  Finding f;
  f.rule = rule.name;
  f.of_safety = rule.concern == Concern::safety;
  f.subject = std::move(subject);
  f.verdict = verdict;
  f.message = std::move(message);
  f.source = source;
  return f;
}

Finding not_checked(const Rule& rule, Subject subject, std::string why,
                    std::vector<Subject> wants) {
  if (wants.empty() && !subject.key().empty()) wants.push_back(subject);
  Finding f = state(rule, std::move(subject), Verdict::not_checked, std::move(why), rule.source);
  f.wants = std::move(wants);
  return f;
}

Verdicts worst(std::span<const Finding> findings) {
  Verdicts all;
  for (const Finding& f : findings) {
    Verdict& of_its_kind = f.of_safety ? all.safety : all.service;
    const Verdict counts = f.verdict != Verdict::not_checked ? f.verdict
                           : f.of_safety                     ? Verdict::caution
                                                             : Verdict::pass;
    of_its_kind = std::max(of_its_kind, counts);
  }
  return all;
}

Figures apart(Number measured, Number limit, int least_digits) {
  const auto both = [&](int digits) {
    return Figures{print(measured, digits), print(limit, digits)};
  };
  for (int digits = least_digits; digits <= 5; ++digits)
    if (Figures as = both(digits); as.measured != as.limit) return as;
  return both(least_digits);
}
Figures figures(const Finding& f, int least_digits) {
  return apart(*f.measured, *f.limit, least_digits);
}

void rest_on_climate(Finding& f, const Evidence& e) {
  const std::string far = design::far_climate(e.design);
  if (far.empty() || f.verdict == Verdict::not_checked) return;
  f.message += "; " + far;
  if (f.verdict == Verdict::pass) {
    f.verdict = Verdict::caution;
    f.cure = "an hourly weather file of the place";
    f.wants = {Subject(Subject::Kind::place).with("weather")};
  }
}

void hold_back(Finding& f, const std::string& why_unknown, std::vector<Subject> wants) {
  if (f.verdict != Verdict::pass || why_unknown.empty()) return;
  f.verdict = Verdict::not_checked;
  f.wants = std::move(wants);
  f.message += "; this cannot be relied on: " + why_unknown;
}

void hold_back(Finding& f, const std::string& why_unknown, const Evidence& e) {
  if (f.verdict == Verdict::pass && !why_unknown.empty())
    hold_back(f, why_unknown, unstated_of_network(e));
}

std::vector<Subject> unstated_of_network(const Evidence& e) {
  const auto& d = *e.design;
  std::vector<Subject> list;
  bool by_chassis = false;
  for (const Run& run : d.runs) {
    if (!run.conductor) list.push_back(subject_of(e.design, run).with("conductor"));
    else if (!run.back.chassis && !run.back.conductor)
      list.push_back(subject_of(e.design, run).with("return/conductor"));
    by_chassis = by_chassis || run.back.chassis;
  }
  for (const auto& feed : d.feeds)
    if (!feed.resistance_low || !feed.resistance_high)
      list.push_back(subject_of(e.design, feed).with("resistance"));
  for (const auto& array : d.arrays)
    if (!array.module.isc) list.push_back(subject_of(e.design, array).with("module/isc"));
  if (by_chassis && !d.chassis)
    list.push_back(Subject(Subject::Kind::design).with("chassis/resistance"));
  return list;
}

std::vector<Subject> unstated_of_cold(const Evidence& e) {
  std::vector<Subject> list;
  for (const auto& array : e.design->arrays) {
    const Subject module = subject_of(e.design, array);
    if (!array.module.voc) list.push_back(module.with("module/voc"));
    if (!array.module.voc_coefficient) list.push_back(module.with("module/voc_coefficient"));
  }
  if (!e.design->site.record_low) list.push_back(Subject(Subject::Kind::place).with("record_low"));
  return list;
}

std::vector<WorstCase> worst_cases(const wiring::Assessment& wired,
                                   double (*bad)(const wiring::ConsumerInCase&)) {
  std::vector<WorstCase> list;
  for (const auto& stated : wired.cases) {
    const wiring::CaseResult* borne = stated.borne();
    if (!stated.load_case.judged || !borne) continue;
    const wiring::CaseResult& in = *borne;
    for (const auto& at : in.consumers) {
      const auto same = std::find_if(list.begin(), list.end(), [&](const WorstCase& w) {
        return w.at->subject == at.subject;
      });
      if (same == list.end()) list.push_back({&in, &at});
      else if (bad(at) > bad(*same->at)) *same = {&in, &at};
    }
  }
  return list;
}

std::string days_without_charge(Ratio share) {
  const double days = 30.0 * double(share);
  if (!(days > 0.0)) return "every day brings some charge";
  return (days < 1.0 ? std::string("less than one day in thirty brings")
                     : print_plain(days, 2) + (days < 1.05 ? " day" : " days") +
                           " in thirty bring" + (days < 1.05 ? "s" : "")) +
         " no charge at all";
}

std::string no_conductor(const Run& run, const wiring::RunFacts& facts) {
  return "run " + quoted(run.name) + " has no conductor; " +
         (facts.smallest
              ? tables::shown_name(*facts.smallest) + " is the smallest that suffices for it alone"
              : std::string("no size of the series suffices for it"));
}

namespace {

/// What a run of which no conductor is stated would lose less at least with the largest of the series:
/// cold copper alone, out and back.
Voltage saved_by_largest(const Evidence& e, design::resolved::RunId id, Current current) {
  const Run& run = e.design[id];
  const auto series = tables::series_named(*e.design->tables, e.design->sizes);
  if (series.empty()) return {};
  const auto& taken = e.wiring.runs[id].outgoing.conductor;
  const Length copper = run.length + (run.back.chassis ? Length{} : run.back.length);
  return current * ((taken.resistance_at_20 - series.back().resistance_at_20) * copper) /
         double(std::max(1, run.parallel));
}

/// Beyond its limit also if so much less were lost.
bool fails_without(const Finding& f, Voltage saved) {
  if (!f.measured || !f.limit) return true;
  return f.bound == Bound::at_most ? f.measured->si - saved.value() > f.limit->si
                                   : f.measured->si + saved.value() < f.limit->si;
}

}  // namespace

void rest_on_open(Finding& f, const Evidence& e, const wiring::Way& way,
                  const wiring::CaseResult& in) {
  if (f.verdict < Verdict::caution) return;
  std::vector<Subject> open;
  std::string names;
  Voltage saved{};
  bool one_suffices = true;
  for (const auto* parts : {&way.outgoing, &way.back})
    for (const auto& part : *parts) {
      const Run& run = e.design[part.run];
      const Subject key = subject_of(e.design, run).with("conductor");
      if (run.conductor || std::find(open.begin(), open.end(), key) != open.end()) continue;
      open.push_back(key);
      names += (names.empty() ? "" : ", ") + quoted(run.name);
      saved += saved_by_largest(e, part.run, in.runs[part.run].current);
      one_suffices = one_suffices && e.wiring.runs[part.run].smallest.has_value();
    }
  if (open.empty() || !one_suffices) return;
  if (fails_without(f, saved)) return;
  f.verdict = Verdict::caution;
  f.message += "; this is with a size that the program took for run " + names +
               ", whose conductor is not stated";
  f.cure = "state the conductor of run " + names;
  f.wants = std::move(open);
}

bool has_no_operating_point(const wiring::Assessment& wired) {
  return std::any_of(wired.cases.begin(), wired.cases.end(), [](const wiring::CaseResult& in) {
    return in.load_case.judged && std::holds_alternative<wiring::Collapse>(in.solution);
  });
}
std::string_view carries(const Evidence& e) {
  return has_no_operating_point(e.wiring) ? "would carry" : "carries";
}

double rounded_outward(double value, Outward way, int digits) {
  if (!(std::abs(value) > 0.0) || !std::isfinite(value)) return value;
  constexpr double hair = 1e-9;  // of what is round already
  const double place = std::pow(10.0, std::floor(std::log10(std::abs(value))) - digits + 1.0);
  const double places = value / place;
  return place * (way == Outward::up ? std::ceil(places * (1.0 - hair))
                                     : std::floor(places * (1.0 + hair)));
}

void rest_on(Finding& f, const Evidence& e, const std::vector<Subject>& assumed) {
  if (f.verdict < Verdict::caution || assumed.empty()) return;
  f.verdict = Verdict::caution;
  std::string list;
  for (const auto& a : e.design->assumptions)
    for (const Subject& key : assumed)
      if (a.path == key.text())
        list += (list.empty() ? "" : ", ") + a.path + " (" + a.value + " is assumed)";
  f.message += "; this rests on values that the design does not state";
  f.cure = "state the real " + list + (f.cure.empty() ? "" : "; else: " + f.cure);
  f.wants = assumed;
}

std::string device_between(Current load, Current most) {
  if (load > most) return {};
  return "a device of at most " + print_at_most(most) +
         (load > Current{} ? ", not below its load of " + print_at_least(load) : std::string());
}

std::string larger_conductor(const wiring::RunFacts& facts) {
  return facts.smallest_for_ampacity
             ? tables::shown_name(*facts.smallest_for_ampacity) + " or larger"
             : "conductors in parallel, a cooler run or less load: no size "
               "of the series carries it";
}

Current bounded_by_devices(const Run& run, Current load, Working* working) {
  std::vector<Term<Current>> terms{{"load", load}};
  for (const Protection& device : run.protection) terms.push_back({"device", device.rating});
  return terms.size() == 1
             ? load
             : smallest(working, "I_B",
                        "what the run carries: its load, or what its device lets through", terms);
}

}  // namespace housepower::checks
