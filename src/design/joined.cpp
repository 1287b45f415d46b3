// SPDX-License-Identifier: Apache-2.0
#include "housepower/design/joined.hpp"

#include <algorithm>

#include "housepower/units/phrases.hpp"

namespace housepower::design {
namespace {

using resolved::PostId;
using resolved::PostKind;

bool draws_nothing(const Design& d) { return d->runs.empty() || !d->bank; }

bool are_joined(const Design& d, PostId a, PostId b) {
  return draws_nothing(d) || d[a].part == d[b].part;
}
bool reaches_bank(const Design& d, PostId post) {
  return draws_nothing(d) || are_joined(d, post, d->bank->post);
}

std::string place_of(const Design& d, PostId post) {
  return d->bank && post == d->bank->post ? "the bank" : housepower::quoted(d[post].name);
}

/// Some run ends there.
bool has_a_run(const Design& d, PostId post) {
  return std::any_of(d->runs.begin(), d->runs.end(),
                     [&](const resolved::Run& run) { return run.from == post || run.to == post; });
}

void add_input(const Design& d, const resolved::Charger& c, std::vector<Undrawn>& list) {
  if (!c.in || has_a_run(d, *c.in)) return;
  list.push_back({subject_of(d, c), d[*c.in].name,
                  d->feeds.empty() ? "what feeds it" : place_of(d, d->feeds[0].post),
                  c.input_low.has_value()});
}

}  // namespace

std::string in_words(const Undrawn& lead) {
  return "no run joins " + housepower::quoted(lead.from) + " to " + lead.to;
}

std::string cure_of(const Undrawn& lead) {
  return "draw a [[run]] from " + housepower::quoted(lead.from) + " to " + lead.to +
         " with its conductor and device";
}

std::vector<Undrawn> undrawn_leads(const Design& d) {
  std::vector<Undrawn> list;
  if (draws_nothing(d)) return list;
  const PostId bank = d->bank->post;
  for (const auto& array : d->arrays)
    if (const auto in = d[array.controller].in; !are_joined(d, array.post, in))
      list.push_back({subject_of(d, array), d[array.post].name, place_of(d, in)});
  for (const auto& controller : d->controllers)
    if (!reaches_bank(d, controller.out))
      list.push_back({subject_of(d, controller), d[controller.out].name, place_of(d, bank)});
  for (const auto& charger : d->chargers) {
    if (!reaches_bank(d, charger.out))
      list.push_back({subject_of(d, charger), d[charger.out].name, place_of(d, bank)});
    add_input(d, charger, list);
  }
  return list;
}

bool hangs_on_a_run(const Design& d, const resolved::Appliance& appliance) {
  const auto& post = d[appliance.post];
  if (appliance.inverter || post.kind == PostKind::appliance || d->runs.empty()) return true;
  if (post.node != NodeKind::point && post.node != NodeKind::plug) return false;
  return std::count_if(d->runs.begin(), d->runs.end(), [&](const resolved::Run& run) {
           return run.from == appliance.post || run.to == appliance.post;
         }) == 1;
}

}  // namespace housepower::design
