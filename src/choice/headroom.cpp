// SPDX-License-Identifier: Apache-2.0
// Headroom by trial: a load is drawn at the end of a run and every rule is asked again, until the
// first is beyond its limit. Between two trials the measured values are taken as straight.
#include "housepower/choice/headroom.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/choice/trial.hpp"

namespace housepower::choice {
namespace inside {
namespace {

using design::resolved::PostId;
using design::resolved::PostKind;

constexpr double most_amperes = 10000.0;  // A, as an appliance can have

struct Base {
  const Document& document;
  const tables::Tables& tables;
  energy::Assessment energy;  // what is added drains nothing: headroom is of wiring
  Trial trial;
  Standing standing;
};

double room_of(const Finding& f) {
  return f.bound == checks::Bound::at_most ? f.limit->si - f.measured->si
                                           : f.measured->si - f.limit->si;
}

/// What is added draws nothing from the day's energy: the promise and the mass are not asked.
bool is_of_wiring(const Finding& f) {
  return !f.subject.is(Subject::Kind::promise) && !f.subject.is(Subject::Kind::vehicle);
}

/// A current at a post: what it brings beyond its limit, and where the first of that begins.
struct Probe {
  double at = 0.0;
  std::vector<Finding> findings;
  std::vector<const Finding*> bad;
};
Probe probe(const Base& base, const std::string& post, double current) {
  Probe p;
  p.at = current;
  auto trial = try_out(with_load(base.document, post, current * ampere), base.tables, base.energy);
  if (!trial) return p;
  p.findings = std::move(trial->findings);
  for (const Finding& f : p.findings)
    if (base.standing.is_new(f) && is_of_wiring(f)) p.bad.push_back(&f);
  return p;
}

/// Where the straight line between two probes meets the first limit; the middle where none tells.
double crossing(const Probe& good, const Probe& bad, const Finding*& first) {
  double least = bad.at;
  bool known = false;
  for (const Finding* f : bad.bad) {
    const Finding* before = checks::same_finding(good.findings, *f);
    if (!f->measured || !f->limit || !before || !before->measured || !before->limit) continue;
    const double here = room_of(*before), there = room_of(*f);
    if (here <= there) continue;
    const double x = good.at + (bad.at - good.at) * std::max(0.0, here) / (here - there);
    if (known && x >= least) continue;
    least = x;
    first = f;
    known = true;
  }
  return known ? least : 0.5 * (good.at + bad.at);
}

/// The most that may be drawn at a post, and the rule that is then at its limit.
Headroom headroom_at(const Base& base, const std::string& post, double guess) {
  Headroom answer;
  Probe good, bad = probe(base, post, guess);
  good.findings = base.trial.findings;
  while (bad.bad.empty()) {
    if (bad.at >= most_amperes || bad.findings.empty()) return answer;
    good = std::move(bad);
    bad = probe(base, post, std::min(most_amperes, 4.0 * good.at));
  }
  const auto tolerance = [&] { return std::max(0.02, 5e-3 * bad.at); };
  for (int round = 0; round < 40 && bad.at - good.at > 2.0 * tolerance(); ++round) {
    const Finding* first = nullptr;
    const double x = crossing(good, bad, first), t = tolerance();
    for (const double step : {x + 0.9 * t, x - 0.9 * t}) {
      if (step <= good.at || step >= bad.at) continue;
      Probe p = probe(base, post, step);
      (p.bad.empty() ? good : bad) = std::move(p);
    }
  }
  const Finding* first = bad.bad.front();
  (void)crossing(good, bad, first);
  answer.spare = good.at * ampere;
  answer.rule = std::string(first->rule);
  answer.subject = first->subject.text();
  return answer;
}

/// What the run leaves by itself, all rules leave; a hair less, for the network answers a little.
bool bears(const Base& base, const std::string& post, Current spare) {
  const Probe p = probe(base, post, 0.995 * spare.value());
  return !p.findings.empty() && p.bad.empty();
}

/// What a run's own conductors and devices, or one device, leave above the load they have.
Headroom of_itself(const Base& base, const Subject& subject) {
  Headroom answer;
  for (const Finding& f : base.trial.findings) {
    if (!f.subject.is_within(subject) || !checks::is_about(f, checks::About::load)) continue;
    if (!f.measured || !f.limit) continue;
    const Current left = std::max(0.0, room_of(f)) * ampere;
    if (answer.spare && *answer.spare <= left) continue;
    answer.spare = left;
    answer.rule = std::string(f.rule);
    answer.subject = f.subject.text();
  }
  return answer;
}

const Headroom& lesser(const Headroom& a, const Headroom& b) {
  return !b.spare || (a.spare && *a.spare <= *b.spare) ? a : b;
}

/// The end of a run to which its load flows; nothing for one that only charges, or crosses.
std::optional<PostId> far_end(const Trial& trial, std::size_t run) {
  const auto& r = trial.design->runs[run];
  for (const PostId post : {r.to, r.from}) {
    const auto& way = trial.wiring.ways[post];
    const PostKind kind = trial.design[post].kind;
    if (way.source && !way.outgoing.empty() && way.outgoing.back().run.index == int(run) &&
        kind != PostKind::charger_out && kind != PostKind::controller_out &&
        kind != PostKind::array && kind != PostKind::controller_in)
      return post;
  }
  return std::nullopt;
}

}  // namespace
}  // namespace inside

using namespace inside;

design::Document with_load(design::Document document, const std::string& post, Current current) {
  design::Appliance load;
  load.name = "what is added at " + post;
  load.current = current;
  load.rated_at = document.vehicle.system_voltage;
  load.behaves = design::Behaviour::constant_current;
  load.lowest_voltage = 0.01 * document.vehicle.system_voltage;  // it bears any voltage itself
  load.highest_voltage = 4.0 * document.vehicle.system_voltage;
  load.on = post;
  for (auto& c : document.load_case) c.running.push_back(load.name);
  document.appliance.push_back(std::move(load));
  return document;
}

std::vector<Headroom> headroom(const design::Document& document, const tables::Tables& tables) {
  std::vector<Headroom> answers;
  auto energy = energy_of(document, tables);
  if (!energy) return answers;
  auto trial = try_out(document, tables, *energy);
  const Standing standing(trial->findings);
  const Base base{document, tables, *std::move(energy), *std::move(trial), standing};
  const auto add = [&](const std::string& of, Headroom h) {
    h.of = of;
    answers.push_back(std::move(h));
  };
  const auto& d = base.trial.design;
  if (d->bank) add("bank", headroom_at(base, "bank", 50.0));
  for (const auto& run : d->runs)
    for (std::size_t n = 0; n < run.protection.size(); ++n) {
      const auto end = run.protection[n].end == design::RunEnd::from ? run.from : run.to;
      const std::string device = run.name + "/protection/" + std::to_string(n);
      if (d->bank && end == d->bank->post)
        add(device, of_itself(base, subject_of(d, run).protection(n)));
    }
  for (std::size_t i = 0; i < d->runs.size(); ++i) {
    const std::string& name = d->runs[i].name;
    const Headroom own = of_itself(base, subject_of(d, d->runs[i]));
    const auto end = far_end(base.trial, i);
    if (!end || (own.spare && bears(base, d[*end].name, *own.spare))) add(name, own);
    else
      add(name,
          lesser(own, headroom_at(base, d[*end].name, own.spare ? own.spare->value() : 10.0)));
  }
  return answers;
}

}  // namespace housepower::choice
