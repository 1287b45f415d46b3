// SPDX-License-Identifier: Apache-2.0
// How it works. A rule names the keys that its figures come from; not every thing that has such a key
// has to do with every finding. A run's finding is reached by its own keys, by the consumers that it
// feeds, and by the runs through which all of these are fed; the bank's by those of the runs at the
// bank; that of a case, a place or the bank's discharge by all there are.
#include "resting.hpp"

#include <map>

namespace housepower::checks {
namespace {

using RestKind = Subject::Kind;

/// "inline/0/resistance" as "inline/resistance".
std::string without_numbers(std::string_view key) {
  std::string out;
  for (std::size_t begin = 0; begin <= key.size();) {
    const std::size_t end = std::min(key.find('/', begin), key.size());
    const std::string_view part = key.substr(begin, end - begin);
    if (part.find_first_not_of("0123456789") != part.npos)
      out += (out.empty() ? "" : "/") + std::string(part);
    begin = end + 1;
  }
  return out;
}

template <class List>
void add_things(const design::Design& design, const List& list, std::vector<Subject>& things) {
  for (const auto& one : list) things.push_back(subject_of(design, one));
}

bool is_of_run(const Subject& s) { return s.is(RestKind::run) && s.index() >= 0; }

void add_runs(const wiring::Way& way, std::vector<int>& runs) {
  for (const auto* part : {&way.outgoing, &way.back})
    for (const auto& one : *part) runs.push_back(one.run.index);
  std::sort(runs.begin(), runs.end());
  runs.erase(std::unique(runs.begin(), runs.end()), runs.end());
}

bool holds_index(const std::vector<int>& list, int index) {
  return std::find(list.begin(), list.end(), index) != list.end();
}

}  // namespace

struct Resting::Reach {
  bool everything = true;
  bool bank = true;                  // a run that the bank feeds
  std::vector<int> runs{};           // through which what it feeds is fed, itself among them
  std::vector<Subject> consumers{};  // that it feeds
  std::vector<int> feeds{};
};

struct Resting::Fed {
  const wiring::Way* way;
  const Subject* subject;
  std::vector<int> runs;
};

Resting::~Resting() = default;
Resting::Resting(const Evidence& e) : e_(e) {
  const auto& d = *e.design;
  if (d.assumptions.empty()) return;
  add_things(e.design, d.runs, things_), add_things(e.design, d.appliances, things_);
  add_things(e.design, d.inverters, things_), add_things(e.design, d.chargers, things_);
  add_things(e.design, d.controllers, things_), add_things(e.design, d.feeds, things_);
  if (d.bank) {  // its age, and its charge and temperature in a case
    for (const auto kind : {RestKind::bank, RestKind::promise}) things_.emplace_back(kind);
    for (const auto& one : d.cases) things_.push_back(Subject(RestKind::load_case).with(one.name));
  }
  std::map<std::string_view, const Subject*> by_text;
  for (const Subject& thing : things_) by_text.try_emplace(thing.text(), &thing);
  for (const Assumption& a : d.assumptions) {
    const std::string_view path = a.path;
    const auto table = path.find('/'), member = path.find('/', table + 1);
    auto found = by_text.find(path.substr(0, member));
    if (found == by_text.end()) found = by_text.find(path.substr(0, table));
    if (found == by_text.end()) continue;
    const Subject& thing = *found->second;
    const auto key = path.substr(std::min(path.size(), thing.text().size() + 1));
    values_.push_back({thing.kind(), thing.index(), without_numbers(key), &a, thing.text()});
  }
  for (const Value& value : values_) by_key_[{value.kind, value.key}].push_back(&value);
  find_reaches();
}

void Resting::find_reaches() {
  std::vector<Fed> all;
  for (const auto& in : e_.wiring.cases)
    for (const auto& at : in.consumers) {
      Fed& one = all.emplace_back(Fed{&e_.wiring.ways[at.post], &at.subject, {}});
      add_runs(*one.way, one.runs);
    }
  std::vector<std::vector<const Fed*>> through(e_.design->runs.size());
  for (const Fed& one : all)
    for (const int run : one.runs) through[std::size_t(run)].push_back(&one);
  for (std::size_t run = 0; run < through.size(); ++run)
    of_runs_.push_back(reach_of_run(through[run]));
  of_others_ = {reach_of_bank(), Reach{}};
}

const Resting::Reach& Resting::reach_of(const Finding& f) const {
  if (is_of_run(f.subject)) return of_runs_[std::size_t(f.subject.index())];
  return of_others_[f.subject.is(RestKind::bank) && !f.subject.is(Subject::Part::whole) ? 0 : 1];
}

Resting::Reach Resting::reach_of_bank() const {
  Reach reach;
  const auto& d = *e_.design;
  for (std::size_t i = 0; d.bank && i < d.runs.size(); ++i)
    if (d.runs[i].from == d.bank->post || d.runs[i].to == d.bank->post)
      reach.runs.push_back(int(i));
  return reach;
}

Resting::Reach Resting::reach_of_run(std::span<const Fed* const> through_it) const {
  Reach reach;
  const auto& d = *e_.design;
  reach.everything = false;
  bool fed = false;
  for (const Fed* one : through_it) {
    const wiring::Way& way = *one->way;
    if (std::find(reach.consumers.begin(), reach.consumers.end(), *one->subject) ==
        reach.consumers.end())
      reach.consumers.push_back(*one->subject);
    for (std::size_t i = 0; way.source && i < d.feeds.size(); ++i)
      if (d.feeds[i].post == *way.source && !holds_index(reach.feeds, int(i)))
        reach.feeds.push_back(int(i));
    fed = fed || (way.source && d.bank && d.bank->post == *way.source);
    if (one == through_it.front()) reach.runs = one->runs;
    else std::erase_if(reach.runs, [&](int other) { return !holds_index(one->runs, other); });
  }
  reach.bank = fed || reach.feeds.empty();
  // Nothing says through what a run without a consumer is fed.
  if (through_it.empty())
    for (std::size_t i = 0; i < d.runs.size(); ++i) reach.runs.push_back(int(i));
  return reach;
}

bool Resting::reaches(const Value& value, const Leaning& leaning, const Finding& f,
                      const Reach& reach) {
  switch (value.kind) {
  case RestKind::bank:
  case RestKind::promise: return reach.everything || (leaning.on_the_way && reach.bank);
  case RestKind::load_case: return value.thing.substr(value.thing.find('/') + 1) == f.in_case;
  case RestKind::run:
    if (is_of_run(f.subject) && !leaning.on_the_way) return f.subject.index() == value.index;
    return (reach.everything && (reach.runs.empty() || leaning.on_the_way)) ||
           holds_index(reach.runs, value.index);
  case RestKind::feed: return reach.everything || holds_index(reach.feeds, value.index);
  default:
    return reach.everything || leaning.on_the_way ||
           std::any_of(reach.consumers.begin(), reach.consumers.end(), [&](const Subject& s) {
             return s.kind() == value.kind && s.index() == value.index;
           });
  }
}

/// "of 3 appliances": of how many things of its kind, where it is more than one.
std::string Resting::told(const std::vector<const Value*>& same, const Finding& f) {
  const Value& one = *same.front();
  const bool alike = std::all_of(same.begin(), same.end(), [&](const Value* v) {
    return v->supplied->value == one.supplied->value;
  });
  const bool own = is_of_run(f.subject) && one.kind == RestKind::run &&
                   one.index == f.subject.index() && same.size() == 1;
  const std::string value = alike ? " = " + one.supplied->value : "";
  if (same.size() > 1)
    return one.key + value + " of " + std::to_string(same.size()) + " " +
           std::string(one.thing.substr(0, one.thing.find('/'))) + "s";
  const std::string_view path = one.supplied->path;
  return (own ? std::string(path.substr(std::min(path.size(), one.thing.size() + 1)))
              : std::string(path)) +
         value;
}

/// Without a stated case the fullest hour is judged at a charge and a temperature of the program's own.
std::string Resting::unstated_case(const Rule& rule, const Finding& f) const {
  const bool leans = std::any_of(rule.leans_on.begin(), rule.leans_on.end(),
                                 [](const Leaning& l) { return l.of == RestKind::load_case; });
  if (!leans || !e_.design->cases.empty()) return {};
  for (const auto& in : e_.wiring.cases)
    if (in.load_case.name == f.in_case)
      return "a case (none is stated: charge = " + print(in.load_case.charge) +
             ", temperature = " + print(Number(in.load_case.temperature)) + ")";
  return {};
}

std::string Resting::under(const Rule& rule, const Finding& f) const {
  if (f.verdict != Verdict::pass || !f.of_safety || rule.leans_on.empty()) return {};
  std::string list = unstated_case(rule, f);
  if (values_.empty()) return list;
  const Reach& reach = reach_of(f);
  for (const Leaning& leaning : rule.leans_on) {
    const auto found = by_key_.find({leaning.of, leaning.key});
    if (found == by_key_.end()) continue;
    std::vector<const Value*> same;
    for (const Value* value : found->second)
      if (reaches(*value, leaning, f, reach)) same.push_back(value);
    if (!same.empty()) list += (list.empty() ? "" : ", ") + told(same, f);
  }
  return list;
}

}  // namespace housepower::checks
