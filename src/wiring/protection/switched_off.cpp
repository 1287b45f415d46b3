// SPDX-License-Identifier: Apache-2.0
#include "housepower/wiring/switched_off.hpp"

#include <algorithm>

namespace housepower::wiring {
namespace {

using design::Pole;
using design::resolved::InlineItem;
using design::resolved::PostId;
using design::resolved::Run;
using design::resolved::RunId;

bool is_parted(const Run& run, Pole pole, const IsOpen& open) {
  return std::any_of(run.inline_items.begin(), run.inline_items.end(),
                     [&](const InlineItem& item) { return item.sits_in(pole) && open(run, item); });
}

Reached led_out(const design::Design& d, const IsOpen& open) {
  Reached out(d->posts.size());
  walk(neighbours_of(d, Pole::outgoing), d->bank->post, out, [&](PostId, const Neighbour& next) {
    return !is_parted(d[next.run], Pole::outgoing, open);
  });
  return out;
}

/// The returns with the chassis as one post more, the last.
Neighbours returns_and_chassis(const design::Design& d) {
  Neighbours all = neighbours_of(d, Pole::return_);
  const PostId chassis{int(all.size())};
  all.emplace_back();
  const auto join = [&](RunId run, PostId post) {
    all[post].push_back({run, chassis, true});
    all[chassis].push_back({run, post, false});
  };
  join({}, d->bond ? d->bond->at : d->bank->post);
  for (const RunId id : d->runs.ids())
    if (d[id].back.chassis) join(id, d[id].to);
  return all;
}

Reached led_home(const design::Design& d, const IsOpen& open) {
  const Neighbours returns = returns_and_chassis(d);
  const PostId chassis{int(returns.size()) - 1};
  Reached home(returns.size());
  walk(returns, d->bank->post, home, [&](PostId here, const Neighbour& next) {
    if (next.run.index < 0) return true;  // the bond
    const bool by_chassis = here == chassis || next.other == chassis;
    return by_chassis == d[next.run].back.chassis && !is_parted(d[next.run], Pole::return_, open);
  });
  return home;
}

}  // namespace

bool is_switch(const InlineItem& item) {
  return item.kind == design::InlineKind::isolator || item.kind == design::InlineKind::contactor;
}

Reached fed_while_open(const design::Design& d, const IsOpen& open) {
  Reached fed(d->posts.size());
  if (!d->bank) return fed;
  const Reached out = led_out(d, open), home = led_home(d, open);
  for (const PostId post : fed.ids()) fed[post] = out[post] && home[post];
  return fed;
}

Reached fed_while_parked(const design::Design& d) {
  return fed_while_open(d, [](const Run&, const InlineItem& item) { return is_switch(item); });
}

std::vector<std::string> drawing_at(const design::Design& d, const Reached& posts) {
  std::vector<std::string> names;
  for (const auto& a : d->appliances)
    if (!a.inverter && posts[a.post]) names.push_back(a.name);
  for (const auto& inverter : d->inverters)
    if (posts[inverter.post]) names.push_back(inverter.name);
  return names;
}

}  // namespace housepower::wiring
