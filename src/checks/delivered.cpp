// SPDX-License-Identifier: Apache-2.0
#include "housepower/checks/delivered.hpp"

#include <algorithm>

#include "housepower/units/unit.hpp"
#include "housepower/wiring/assess_network.hpp"

namespace housepower::checks {
namespace {

using design::resolved::Charger;
using energy::Delivered;

/// Share of what is drawn from a feed that it can spare.
double spared(const std::optional<Current>& spare, Current drawn) {
  return spare && drawn > *spare ? double(*spare / drawn) : 1.0;
}

/// Some run is drawn, but none of its line.
Delivered by_no_line(const design::Design& d, Delivered out, const Charger& charger) {
  out.current = Current{};
  const std::string line = d->feeds.empty()
                               ? "no feed is described"
                               : "no run leads from \"" + d->feeds[0].name + "\" to it";
  out.why = line + (charger.input_low ? "" : ", and its `input_voltage` is not stated") +
            ": it gives nothing until its line is described";
  return out;
}

/// The design draws no run at all: its name plate, as far as what the feeds spare together suffices at their lowest
/// voltage, with no loss on the way.
Delivered by_name_plate(const design::Design& d, Delivered out, const Charger& charger) {
  out.why = "its name plate, since its line is not described";
  if (charger.input_low && *charger.input_low < charger.input_cut_out) {
    out.current = Current{};
    out.why = "its stated input of " + print(*charger.input_low) + " is below the " +
              print(charger.input_cut_out) + " at which it switches off";
    return out;
  }
  const auto too_low = [&](const auto& feed) { return feed.low < charger.input_cut_out; };
  if (!d->feeds.empty() && std::all_of(d->feeds.begin(), d->feeds.end(), too_low)) {
    out.current = Current{};
    out.why = "the tow vehicle's lowest voltage is below the " + print(charger.input_cut_out) +
              " at which \"" + charger.name + "\" switches off";
    return out;
  }
  Power wanted{}, spare{};
  for (const Charger& c : d->chargers)
    if (c.kind == design::ChargerKind::dc_dc)
      wanted += c.charge_voltage * c.current / double(c.efficiency);
  if (d->feeds.empty() || !(wanted.value() > 0.0)) return out;
  for (const auto& feed : d->feeds) {
    if (!feed.spare_current) return out;
    spare += feed.low * *feed.spare_current;
  }
  if (spare >= wanted) return out;
  out.current = charger.current * double(spare / wanted);
  out.why = "what the tow vehicle can spare, since its line is not described";
  return out;
}

Delivered by_line(const design::Design& d, const wiring::TowFeed& t, bool reached, Delivered out,
                  const Charger& charger) {
  const auto& low = t.low;
  if (!t.known && !reached)
    return d->runs.empty() ? by_name_plate(d, std::move(out), charger)
                           : by_no_line(d, std::move(out), charger);
  if (!t.known) {
    out.current = Current{};
    out.why = t.why_unknown + ": it gives nothing";
    return out;
  }
  if (low.folds_back) {
    out.current = Current{};
    const bool is_drawn = t.feed >= 0 || reached;
    out.why = (is_drawn ? "the line to \"" + charger.name + "\" is too thin: with " : "with ") +
              print(low.car) +
              (t.feed >= 0 ? " at the tow vehicle"
               : reached   ? " at its other end"
                           : " at its input, as stated,") +
              " the charger switches on and off";
    return out;
  }
  if (!t.why_unknown.empty()) {
    out.current = Current{};
    out.why = t.why_unknown + ": it gives nothing until its line is described";
    return out;
  }
  out.current = low.delivers;
  const auto* feed = t.feed >= 0 ? &d->feeds[std::size_t(t.feed)] : nullptr;
  const double share = feed ? spared(feed->spare_current, low.from_feed) : 1.0;
  if (share < 1.0) {
    out.current = std::min(
        low.delivers, Current(wiring::charger_output(low.input, low.drawn * share,
                                                     charger.efficiency, charger.charge_voltage)));
    out.why = "\"" + feed->name + "\" can spare " + print(*feed->spare_current);
  }
  return out;
}

}  // namespace

energy::DeliveredList delivered(const design::Design& d, const wiring::Assessment& assessed) {
  energy::DeliveredList list;
  std::vector<wiring::TowFeed> lines;
  if (!assessed.ways.empty()) lines = wiring::tow_feeds(d, assessed);
  for (std::size_t i = 0; i < d->chargers.size(); ++i) {
    const Charger& charger = d->chargers[i];
    Delivered one{int(i), charger.name, charger.current, {}};
    const auto line = std::find_if(lines.begin(), lines.end(),
                                   [&](const wiring::TowFeed& t) { return t.charger == int(i); });
    if (line != lines.end()) {
      const bool reached = assessed.ways[*charger.in].source.has_value();
      one = by_line(d, *line, reached, std::move(one), charger);
    } else if (charger.kind == design::ChargerKind::dc_dc) {
      one = by_name_plate(d, std::move(one), charger);
    }
    list.push_back(std::move(one));
  }
  return list;
}

energy::DeliveredList delivered(const design::Design& d) {
  const bool has_line =
      !d->runs.empty() && std::any_of(d->chargers.begin(), d->chargers.end(),
                                      [](const Charger& c) { return c.in.has_value(); });
  return delivered(d, has_line ? wiring::assess_network(d, {}) : wiring::Assessment{});
}

}  // namespace housepower::checks
