// SPDX-License-Identifier: Apache-2.0
#include "housepower/choice/trial.hpp"

#include <algorithm>

namespace housepower::choice {
namespace {

using design::resolved::PostId;

/// The posts of a consumer, a node or equipment, those of a charger in their order.
std::vector<PostId> posts_of(const design::Design& d, const Subject& subject) {
  using Kind = Subject::Kind;
  if (subject.index() < 0) return {};
  const auto i = std::size_t(subject.index());
  switch (subject.kind()) {
  case Kind::appliance: return {d->appliances[i].post};
  case Kind::inverter: return {d->inverters[i].post};
  case Kind::controller: return {d->controllers[i].in, d->controllers[i].out};
  case Kind::array: return {d->arrays[i].post};
  case Kind::feed: return {d->feeds[i].post};
  case Kind::node: return {PostId{subject.index()}};
  case Kind::charger: break;
  default: return {};
  }
  const auto& charger = d->chargers[i];
  return charger.in ? std::vector<PostId>{*charger.in, charger.out} : std::vector{charger.out};
}

void add(std::vector<std::size_t>& runs, std::size_t run) {
  if (std::find(runs.begin(), runs.end(), run) == runs.end()) runs.push_back(run);
}

void add_way(std::vector<std::size_t>& runs, const wiring::Way& way) {
  for (const auto* parts : {&way.outgoing, &way.back})
    for (auto part = parts->rbegin(); part != parts->rend(); ++part)
      add(runs, std::size_t(part->run.index));
}

}  // namespace

std::optional<Trial> try_out(Document document, const tables::Tables& tables,
                             const energy::Assessment& energy) {
  Diagnostics problems;
  auto design = design::resolve(std::move(document), tables, Defaults::ordinary, problems);
  if (!design) return std::nullopt;
  auto wiring = wiring::assess(*design, checks::load_cases(*design, energy));
  const energy::Outlook none;  // no choice of a conductor or device changes the hours of a stay
  auto findings = checks::evaluate({*design, energy, wiring, none, checks::Workings::left_out});
  return Trial{*std::move(design), std::move(wiring), std::move(findings)};
}

std::optional<energy::Assessment> energy_of(const Document& document,
                                            const tables::Tables& tables) {
  Diagnostics problems;
  const auto design = design::resolve(document, tables, Defaults::ordinary, problems);
  if (!design) return std::nullopt;
  return energy::assess(*design);
}

Standing::Standing(const std::vector<Finding>& findings) {
  for (const Finding& f : findings) {
    Verdict& worst = worst_[{f.rule, f.subject}];
    worst = std::max(worst, f.verdict);
  }
}

bool Standing::is_new(const Finding& f) const {
  if (f.verdict < Verdict::caution) return false;
  const auto stood = worst_.find({f.rule, f.subject});
  return stood == worst_.end() || f.verdict > stood->second;
}

std::optional<std::size_t> own_run(const Subject& subject) {
  const bool one = subject.is(Subject::Kind::run) && subject.index() >= 0;
  return one ? std::optional(std::size_t(subject.index())) : std::nullopt;
}

std::optional<std::size_t> device_number(const Subject& subject) {
  return subject.is(Subject::Part::protection) ? std::optional(subject.number()) : std::nullopt;
}

Subject subject_of_run(const Document& d, std::size_t run) {
  return {Subject::Kind::run, int(run), d.run[run].name};
}

std::optional<checks::Effect> effect_of(std::string_view rule, checks::Parameter parameter) {
  if (const checks::Rule* known = checks::rule_named(rule))
    for (const checks::Sign& sign : known->signs)
      if (sign.parameter == parameter) return sign.when_larger;
  return std::nullopt;
}

std::vector<std::size_t> runs_of(const Trial& trial, const Subject& subject) {
  std::vector<std::size_t> runs;
  const auto& d = trial.design;
  const auto way_to = [&](PostId post) { add_way(runs, trial.wiring.ways[post]); };
  if (subject.is(Subject::Kind::load_case))
    for (std::size_t i = 0; i < d->runs.size(); ++i) add(runs, i);
  if (const auto own = own_run(subject)) {
    add(runs, *own);
    way_to(d->runs[*own].from);
    way_to(d->runs[*own].to);
  }
  for (const PostId post : posts_of(d, subject)) way_to(post);
  return runs;
}

}  // namespace housepower::choice
