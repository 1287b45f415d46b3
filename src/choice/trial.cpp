// SPDX-License-Identifier: Apache-2.0
#include "housepower/choice/trial.hpp"

#include <algorithm>

namespace housepower::choice {
namespace {

using design::resolved::PostId;

/// The post that a consumer, a node or an end of a charger is.
std::vector<PostId> posts_of(const design::Design& d, std::string_view name) {
  for (const auto& a : d->appliances)
    if (a.name == name) return {a.post};
  std::vector<PostId> posts;
  for (std::size_t i = 0; i < d->posts.size(); ++i) {
    const std::string& post = d->posts[i].name;
    if (post == name || (post.starts_with(name) &&
                         (post.substr(name.size()) == ".in" || post.substr(name.size()) == ".out")))
      posts.push_back({int(i)});
  }
  return posts;
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

std::string_view first_two(std::string_view subject) {
  const auto slash = subject.find('/');
  return slash == subject.npos ? subject : subject.substr(0, subject.find('/', slash + 1));
}

std::optional<std::size_t> own_run(const Document& d, std::string_view subject) {
  for (std::size_t i = 0; i < d.run.size(); ++i)
    if (first_two(subject) == "run/" + d.run[i].name) return i;
  return std::nullopt;
}

std::optional<checks::Effect> effect_of(std::string_view rule, checks::Parameter parameter) {
  if (const checks::Rule* known = checks::rule_named(rule))
    for (const checks::Sign& sign : known->signs)
      if (sign.parameter == parameter) return sign.when_larger;
  return std::nullopt;
}

std::vector<std::size_t> runs_of(const Trial& trial, std::string_view subject) {
  std::vector<std::size_t> runs;
  const auto& d = trial.design;
  const std::string_view place = first_two(subject);
  const auto slash = place.find('/');
  if (slash == place.npos) return runs;
  const std::string_view kind = place.substr(0, slash), name = place.substr(slash + 1);
  const auto way_to = [&](PostId post) { add_way(runs, trial.wiring.ways[post]); };
  for (std::size_t i = 0; i < d->runs.size(); ++i) {
    if (kind == "case") add(runs, i);
    if (kind != "run" || d->runs[i].name != name) continue;
    add(runs, i);
    way_to(d->runs[i].from);
    way_to(d->runs[i].to);
  }
  if (kind != "case" && kind != "run" && kind != "bank")
    for (const PostId post : posts_of(d, name)) way_to(post);
  return runs;
}

}  // namespace housepower::choice
