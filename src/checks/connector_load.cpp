// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/joints.hpp"

namespace housepower::checks {
namespace {

using design::Pole;
using design::resolved::Connector;
using design::resolved::ConnectorId;
using design::resolved::InlineItem;

/// A contact of a connector: which pole of which run it carries.
struct Mated {
  int cavity = 0;
  RunId run{};
  const InlineItem* item = nullptr;
  Pole pole = Pole::outgoing;
};

/// All that the runs use of a connector, by cavity.
std::vector<Mated> mated_in(const design::Design& design, ConnectorId connector) {
  std::vector<Mated> all;
  for (const RunId run : design->runs.ids())
    for (const InlineItem& item : design[run].inline_items) {
      if (item.connector != connector) continue;
      for (const Pole pole : {Pole::outgoing, Pole::return_})
        for (const int cavity : item.cavities(pole)) all.push_back({cavity, run, &item, pole});
    }
  std::sort(all.begin(), all.end(),
            [](const Mated& a, const Mated& b) { return a.cavity < b.cavity; });
  return all;
}

/// Every cavity has a contact of some run.
bool all_loaded(const Connector& connector, const std::vector<Mated>& mated) {
  return int(mated.size()) == connector.cavities;  // none stands in two runs
}

std::string cavity_of(const Connector& connector, const Mated& at) {
  return "cavity " + std::to_string(at.cavity) + " of connector " + quoted(connector.name);
}

Subject subject_of_cavity(const Evidence& e, const Connector& connector, const Mated& at) {
  return subject_of(e.design, connector).cavity(std::size_t(at.cavity));
}

/// What one cavity is rated for: by its connector, or by what the plug itself is stated to carry,
/// divided among its contacts, where that is less.
struct CavityRating {
  std::optional<Current> value{};
  bool of_plug = false;
};
CavityRating rating_of(const Connector& connector, const Mated& at) {
  CavityRating rating{connector.rating};
  if (!at.item->rating) return rating;
  const auto contacts = [&](Pole pole) { return double(at.item->cavities(pole).size()); };
  const double fewer = contacts(Pole::outgoing) > 0.0 && contacts(Pole::return_) > 0.0
                           ? std::min(contacts(Pole::outgoing), contacts(Pole::return_))
                           : std::max(contacts(Pole::outgoing), contacts(Pole::return_));
  const Current plug = *at.item->rating;  // where none is stated, that of its contacts together
  if (rating.value && plug >= *rating.value * fewer) return rating;
  return {plug / contacts(at.pole), true};
}

/// By the rating of one cavity; within it by that with every cavity loaded, where all are.
Limit limit_of(const Connector& connector, Current rating, Current current, bool full) {
  const auto& all = connector.rating_all_loaded;
  if (full && current <= rating && all && *all < rating) return {*all, as_stated, Verdict::caution};
  return {rating, as_stated};
}

/// Contacts in parallel are taken to share alike, which nobody can know of worn ones.
std::string shared(const Mated& at) {
  const auto n = at.item->cavities(at.pole).size();
  return n > 1 ? " (its " + std::to_string(n) + " cavities taken to share equally: assumed)" : "";
}

Finding check_current(const Rule& rule, const Evidence& e, const Connector& connector,
                      const Mated& at, const CavityRating& rated, bool full) {
  const Run& run = e.design[at.run];
  const auto& facts = e.wiring.runs[at.run].current;
  Working working;
  const Current current =
      wiring::contact_current_of(e.design, e.wiring, at.run, *at.item, at.pole, e.kept(working));
  const Limit limit = limit_of(connector, *rated.value, current, full);
  Finding f = judge(rule, subject_of_cavity(e, connector, at), current, Bound::at_most, limit,
                    std::move(working));
  f.in_case = facts.in_case;
  f.label = run.label;
  const auto [carried, bears] = figures(f);
  f.message =
      cavity_of(connector, at) + " carries " + carried + " of run " + quoted(run.name) +
      shared(at) + "; " +
      (limit.beyond == Verdict::caution ? "it is rated for " + bears + " with every cavity loaded"
       : rated.of_plug                  ? "the plug's own rating leaves " + bears + " for each"
                                        : "it is rated for " + bears);
  hold_back(f, facts.why_unknown);
  if (f.verdict >= Verdict::caution)
    f.cure =
        "another cavity beside it, or a connector rated for at least " + print_at_least(current);
  return f;
}

/// The conductors of a pole are divided among its contacts.
Finding check_conductor(const Rule& rule, const Evidence& e, const Connector& connector,
                        const Mated& at, const tables::Conductor& conductor) {
  const Run& run = e.design[at.run];
  const int contacts = int(at.item->cavities(at.pole).size());
  const int in_one = (run.parallel + contacts - 1) / contacts;
  Working working;
  const Area size = given(e.kept(working), "S", "size of the conductors in it",
                          Area(double(in_one) * conductor.nominal), as_stated);
  Finding f = judge(rule, subject_of_cavity(e, connector, at), size, Bound::at_most,
                    {connector.largest_conductor->nominal, as_stated}, std::move(working));
  f.label = run.label;
  f.message = cavity_of(connector, at) + " takes " +
              (in_one > 1 ? std::to_string(in_one) + " × " : "") + conductor.name + " of run " +
              quoted(run.name) + "; the largest that fits is " + connector.largest_conductor->name;
  if (f.verdict != Verdict::pass)
    f.cure = "a connector whose contacts take it, or a thinner conductor where current and drop "
             "allow it";
  return f;
}

const std::optional<tables::Conductor>& conductor_of(const Run& run, Pole pole) {
  return pole == Pole::outgoing ? run.conductor : run.back.conductor;
}

void check_connector(const Rule& rule, const Evidence& e, ConnectorId id,
                     std::vector<Finding>& findings) {
  const Connector& connector = e.design->connectors[id];
  const auto mated = mated_in(e.design, id);
  if (mated.empty()) return;
  const Subject whole = subject_of(e.design, connector);
  const bool full = all_loaded(connector, mated);
  const bool unrated = std::any_of(
      mated.begin(), mated.end(), [&](const Mated& at) { return !rating_of(connector, at).value; });
  if (unrated)
    findings.push_back(not_checked(rule, whole.with("rating"),
                                   "the current that one cavity of connector " +
                                       quoted(connector.name) + " is rated for is not stated"));
  if (full && connector.cavities > 1 && !unrated && !connector.rating_all_loaded)
    findings.push_back(not_checked(rule, whole.with("rating_all_loaded"),
                                   "every cavity of connector " + quoted(connector.name) +
                                       " is loaded, and what one is rated for then is not stated"));
  if (!connector.largest_conductor)
    findings.push_back(not_checked(rule, whole.with("largest_conductor"),
                                   "the largest conductor that connector " +
                                       quoted(connector.name) + " takes is not stated"));
  for (const Mated& at : mated) {
    if (const auto rated = rating_of(connector, at); rated.value)
      findings.push_back(check_current(rule, e, connector, at, rated, full));
    const auto& conductor = conductor_of(e.design[at.run], at.pole);
    if (connector.largest_conductor && conductor)
      findings.push_back(check_conductor(rule, e, connector, at, *conductor));
  }
}

std::vector<Finding> check_connectors(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const ConnectorId id : e.design->connectors.ids()) check_connector(rule, e, id, findings);
  return findings;
}

constexpr Sign connector_load_signs[] = {
    {Parameter::length, Effect::none},         {Parameter::area, Effect::worse},
    {Parameter::ambient, Effect::none},        {Parameter::load, Effect::worse},
    {Parameter::device_rating, Effect::worse}, {Parameter::joints, Effect::none}};

}  // namespace

extern const Rule connector_load{
    .name = "connector-load",
    .asks = "Does each cavity of a connector carry no more than it is rated for, and does its "
            "conductor fit?",
    .why =
        "A contact above its rating heats its neighbours in one housing until the plastic softens "
        "and the springs let go; a conductor that is too large is crimped with strands left out.",
    .cure = "More cavities in parallel, a connector for the current, or less load through it.",
    .source = {SourceKind::supplier, "the connector's maker",
               "its ratings as the design states "
               "them"},
    .signs = connector_load_signs,
    .concern = Concern::safety,
    .check = check_connectors};

}  // namespace housepower::checks
