// SPDX-License-Identifier: Apache-2.0
#include "unsaid.hpp"

#include <cmath>
#include <map>

namespace housepower::checks {
namespace {

using Kind = Subject::Kind;

/// Each member of the design's lists, and each table, by its text.
std::map<std::string, Subject, std::less<>> things_of(const design::Design& design) {
  std::map<std::string, Subject, std::less<>> things;
  const auto add = [&](const auto& list) {
    for (const auto& one : list) {
      Subject subject = subject_of(design, one);
      things.try_emplace(subject.text(), std::move(subject));
    }
  };
  add(design->runs), add(design->appliances), add(design->inverters);
  add(design->chargers), add(design->controllers), add(design->arrays);
  add(design->feeds), add(design->connectors), add(design->posts);
  for (const auto kind : {Kind::travel, Kind::promise, Kind::place}) {
    const Subject table(kind);
    things.try_emplace(table.text(), table);
  }
  return things;
}

/// The runs between a source and a consumer, of both poles; empty where it is none.
std::vector<int> runs_to(const Subject& subject, const wiring::Assessment& wired) {
  std::vector<int> runs;
  for (const auto& in : wired.cases)
    for (const auto& at : in.consumers) {
      if (!subject.is_within(at.subject)) continue;
      for (const auto* part : {&wired.ways[at.post].outgoing, &wired.ways[at.post].back})
        for (const auto& one : *part) runs.push_back(one.run.index);
      return runs;
    }
  return runs;
}

/// Where the same key is left out in many places, it is tried in all of them at once.
using Everywhere = std::map<std::pair<Kind, std::string>, std::vector<const Supplied*>>;
Everywhere by_key(const std::vector<Softened>& softened) {
  Everywhere all;
  for (const auto& one : softened)
    for (const Supplied* value : one.values) {
      auto& list = all[{value->key.kind(), std::string(value->key.key())}];
      if (std::find(list.begin(), list.end(), value) == list.end()) list.push_back(value);
    }
  return all;
}

/// The design with those keys at their kindest; nothing where no file could say so.
std::optional<design::Design> stated_kindly(const Node& document, const tables::Tables& tables,
                                            const std::vector<const Supplied*>& values) {
  Node changed = document;
  Diagnostics problems;
  for (const Supplied* value : values) {
    const std::string& path = value->key.text();
    const std::string table = path.substr(0, path.rfind('/'));
    if (!changed.at(table) && !set(changed, table + "={}", problems)) return std::nullopt;
    if (!set(changed, path + "=" + value->kindest, problems)) return std::nullopt;
  }
  const auto read = design::document_of(changed, problems);
  return read ? design::resolve(*read, tables, Defaults::ordinary, problems) : std::nullopt;
}

/// How far a finding moved, in shares of its limit; cured is farther than any.
constexpr double cured = 1e6, unseen = 1e-3;
double moved(const Finding& was, const std::vector<Finding>& now) {
  const Finding* same = same_finding(now, was);
  if (!same || same->verdict == Verdict::pass)
    return cured + (same ? std::abs(double(same->margin - was.margin)) : 0.0);
  if (was.measured && was.limit && same->measured && same->limit)
    return std::abs(double(same->margin - was.margin));
  return same->message == was.message ? 0.0 : unseen;
}

using Effects = std::map<const Supplied*, double>;

void keep(Softened& one, const Effects& effects) {
  constexpr double none = 1e-6, untried = 0.5 * none;  // what could not be tried stands last
  const auto effect = [&](const Supplied* value) {
    const auto found = effects.find(value);
    return found == effects.end() ? untried : found->second;
  };
  auto kept = one.values;
  const auto moves = [&](const Supplied* value) { return effect(value) > none; };
  if (std::none_of(kept.begin(), kept.end(), moves)) return;
  std::erase_if(kept,
                [&](const Supplied* value) { return !moves(value) && effects.count(value) > 0; });
  std::stable_sort(kept.begin(), kept.end(),
                   [&](const Supplied* a, const Supplied* b) { return effect(a) > effect(b); });
  one.values = std::move(kept);
}

/// Runs that are tried within about a second, all trials together.
constexpr std::size_t runs_tried = 3000;

}  // namespace

std::vector<Supplied> supplied_otherwise(const design::Design& ordinary,
                                         const design::Design& kindest) {
  const auto things = things_of(ordinary);
  std::map<std::string_view, std::string_view> kinder;
  for (const Assumption& k : kindest->assumptions) kinder.try_emplace(k.path, k.value);
  std::vector<Supplied> list;
  for (const Assumption& a : ordinary->assumptions) {
    const auto same = kinder.find(a.path);
    // A bare size that was read by `sizes` is the same in both, and only told of the first.
    if (same == kinder.end() || same->second == a.value) continue;
    const std::string_view path = a.path;
    const auto table = path.find('/'), member = path.find('/', table + 1);
    auto found = things.find(path.substr(0, member));
    if (found == things.end()) found = things.find(path.substr(0, table));
    if (found == things.end()) continue;
    const auto key = path.substr(std::min(path.size(), found->first.size() + 1));
    list.push_back({found->second.with(key), a.value, std::string(same->second)});
  }
  return list;
}

std::vector<const Supplied*> supplied_for(const Finding& f, const std::vector<Supplied>& supplied,
                                          const wiring::Assessment& wired) {
  const Kind own = f.subject.kind();
  const bool of_own_table =
      own == Kind::bank || own == Kind::travel || own == Kind::promise || own == Kind::place;
  const bool of_run = own == Kind::run && f.subject.index() >= 0;
  const auto way = runs_to(f.subject, wired);
  const auto on_its_way = [&](const Subject& run) {
    return way.empty() || std::find(way.begin(), way.end(), run.index()) != way.end();
  };
  std::vector<const Supplied*> list;
  for (const Supplied& one : supplied) {
    const bool run = one.key.is(Kind::run), bank = one.key.is(Kind::bank);
    const bool concerns = of_run ? bank || (run && one.key.index() == f.subject.index())
                          : of_own_table
                              ? one.key.is(own)
                              : bank || (run && on_its_way(one.key)) || (!run && one.key.is(own));
    if (concerns) list.push_back(&one);
  }
  return list;
}

/// How it works. A softened finding passes when all that nobody stated is at its kindest; most of those
/// values have nothing to do with it. So each key is set to its kindest value by itself, wherever it
/// is left out, and the rules that found something are asked again. A key that changes neither figure
/// of a finding is dropped from it, and the rest stand by how far they moved it.
void keep_what_moves(std::vector<Softened>& softened, const design::Document& document,
                     const design::Design& ordinary, const AskAgain& ask_again) {
  const Everywhere all = by_key(softened);
  if (all.size() * std::max<std::size_t>(1, ordinary->runs.size()) > runs_tried) return;
  const Node written = design::node_of(document);
  Effects effects;
  std::vector<Effects> of_finding(softened.size());
  for (const auto& [key, values] : all) {
    const auto kinder = stated_kindly(written, *ordinary->tables, values);
    if (!kinder) continue;
    const auto now = ask_again(*kinder);
    for (std::size_t i = 0; i < softened.size(); ++i)
      for (const Supplied* value : softened[i].values)
        if (std::find(values.begin(), values.end(), value) != values.end())
          of_finding[i][value] = moved(*softened[i].finding, now);
  }
  for (std::size_t i = 0; i < softened.size(); ++i) keep(softened[i], of_finding[i]);
}

std::string state_them(const std::vector<const Supplied*>& values) {
  if (values.empty()) return "state them (`check --full` lists what was assumed)";
  constexpr std::size_t most = 5;
  std::string list;
  for (std::size_t i = 0; i < std::min(most, values.size()); ++i)
    list += (i == 0 ? "" : ", ") + values[i]->key.text() + " (" + values[i]->value + " is assumed)";
  if (values.size() > most) list += " and " + std::to_string(values.size() - most) + " more";
  return "state the real " + list;
}

}  // namespace housepower::checks
