// SPDX-License-Identifier: Apache-2.0
// Edges of devices, let-through and withstand.
#include "housepower/wiring/clearing.hpp"

#include <algorithm>

#include "../inside.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

using design::CurvePoint;

constexpr Source as_its_maker_gives_it{SourceKind::supplier, "the design",
                                       "curve as its maker gives it"};
constexpr Source tenth_of_slow{SourceKind::from_memory, "judgement",
                               "earliest opening: a tenth of the latest"};

Edge edge_of(const std::vector<tables::Gate>& gates, bool slow) {
  Edge edge;
  for (const auto& gate : gates) {
    const auto& time = slow ? gate.slowest : gate.fastest;
    if (!time) continue;
    edge.source = edge.points.empty() ? gate.source : weaker(edge.source, gate.source);
    edge.points.push_back({gate.multiple, *time});
  }
  return edge;
}

/// The gates read for a rating; of one that no range holds those of the next larger, else of the
/// largest. Null: none were read of the type.
const tables::FuseType::Gates* gates_for(const tables::FuseType& type, Current rating) {
  const tables::FuseType::Gates *next = nullptr, *last = nullptr;
  for (const auto& range : type.gates) {
    if (rating <= range.to && (!next || range.to < next->to)) next = &range;
    if (!last || last->to < range.to) last = &range;
  }
  return next ? next : last;
}

constexpr Source usual_gate{SourceKind::from_memory, "first gates of fuses by their standards",
                            "UL 248 1.35, gG and NH 1.6, all others 2.0 times the rating"};

/// What a kind of device has for a first gate where none was read.
Ratio usual_multiple(const Protection& device) {
  if (device.type.starts_with("ul-248")) return 1.35;
  if (device.type.starts_with("iec-60269")) return 1.6;
  return 2.0;
}

/// Insulations of PVC end a fault at 140 °C above this, else at 160 °C.
constexpr Area large_pvc = 300.0 * square_millimetre;

}  // namespace

TimeCurrent time_current_of(const Protection& device) {
  TimeCurrent curve;
  if (const auto* range = device.fuse ? gates_for(*device.fuse, device.rating) : nullptr) {
    curve = {edge_of(range->gates, true), edge_of(range->gates, false)};
    if (device.rating < range->from || range->to < device.rating)
      curve.slow.source.kind = curve.fast.source.kind = SourceKind::from_memory;
  }
  if (!device.curve.empty()) {
    curve.slow = curve.fast = {device.curve, as_its_maker_gives_it};
    for (CurvePoint& point : curve.fast.points) point.time *= 0.1;
    curve.fast.source = tenth_of_slow;
  }
  if (!device.curve_fast.empty()) curve.fast = {device.curve_fast, as_its_maker_gives_it};
  return curve;
}

std::optional<Duration> time_at(const Edge& edge, Current rating, Current i, Working* working) {
  const auto& points = edge.points;
  const Ratio m = step(working, multiple_of_rating, i, rating);
  if (points.empty() || m < points.front().multiple) return std::nullopt;
  const auto after = std::find_if(points.begin(), points.end(),
                                  [&](const CurvePoint& p) { return m < p.multiple; });
  const CurvePoint& before = *(after - 1);
  given(working, "t_1", "time at the gate before", before.time, edge.source);
  if (after == points.end()) return step(working, time_past_gates, m, before.multiple, before.time);
  given(working, "t_2", "time at the gate after", after->time, edge.source);
  return step(working, time_between_gates, m, before.multiple, before.time, after->multiple,
              after->time);
}

std::optional<Current> current_at(const Edge& edge, Current rating, Duration time) {
  const auto& points = edge.points;
  if (points.empty()) return std::nullopt;
  if (points.front().time <= time) return rating * double(points.front().multiple);
  for (std::size_t i = 1; i < points.size(); ++i) {
    const CurvePoint &a = points[i - 1], &b = points[i];
    if (b.time > time) continue;  // then it lies between these two
    // No power of it, whose last digit is another on another processor: this side of the gate or that.
    if (b.time == time) return rating * double(b.multiple);
    const double slope =
        std::log(double(b.multiple / a.multiple)) / std::log(double(b.time / a.time));
    return rating * double(a.multiple) * std::pow(double(time / a.time), slope);
  }
  const CurvePoint& last = points.back();
  return rating * double(last.multiple) * std::sqrt(double(last.time / time));
}

// Between two gates t = c·I^p, so I²·t = c·I^(p+2) rises or falls all along; past the last gate it
// stays. Hence no current between the ends and the gates lets through more than all of them.
std::optional<LargestLetThrough> largest_let_through(const Edge& edge, Current rating, Current from,
                                                     Current to, Working* working) {
  if (edge.points.empty() || from / rating < edge.points.front().multiple) return std::nullopt;
  std::vector<Current> where{from};
  for (const CurvePoint& point : edge.points) {
    const Current gate = rating * double(point.multiple);
    if (from < gate && gate < to) where.push_back(gate);
  }
  if (from < to) where.push_back(to);
  LargestLetThrough most;
  for (const Current& i : where) {
    const Duration time = *time_at(edge, rating, i);
    const LetThrough through = let_through(i, time);
    if (most.value < through) most = {through, i, time};
  }
  if (working) {
    given(working, "I", "fault, between the smallest and the largest, that lets through most",
          most.at, solution(SourceKind::common_practice));
    (void)step(working, let_through, most.at, *time_at(edge, rating, most.at, working));
  }
  return most;
}

const tables::WithstandFactor* withstand_row_of(const tables::Tables& tables,
                                                design::Insulation material, Temperature insulation,
                                                const tables::Conductor& c) {
  using design::Insulation;
  const auto is = [&](std::string_view name) {
    switch (material) {
    case Insulation::pvc: return name == "pvc";
    case Insulation::xlpe: return name == "xlpe";
    case Insulation::rubber: return name == "rubber" || name == "butyl";
    case Insulation::silicone: return name == "silicone";
    }
    return false;
  };
  const tables::WithstandFactor* found = nullptr;
  for (const auto& row : tables.withstand) {
    if (!is(row.insulation) || row.from < insulation) continue;
    const bool nearer = !found || row.from < found->from;
    const bool other_size =  // of two rows for one insulation the one for this size
        found && row.from == found->from && (c.copper > large_pvc) == (row.k < found->k);
    if (nearer || other_size) found = &row;
  }
  return found;
}

const tables::WithstandFactor* least_withstand_row_of(const tables::Tables& tables,
                                                      Temperature insulation) {
  const tables::WithstandFactor* least = nullptr;
  for (const auto& row : tables.withstand)
    if (row.from >= insulation && (!least || row.k < least->k)) least = &row;
  return least;
}

LetThrough withstand_of(const tables::WithstandFactor& row, const tables::Conductor& c,
                        Working* working) {
  given(working, "k", "adiabatic factor of the conductor and its insulation", row.k, row.source);
  const Area s =
      given(working, "S", "its copper; nominal where the size names mm²", c.copper, c.area_source);
  return step(working, withstand, row.k, s);
}

OpensForSure opens_for_sure(const Protection& device, Working* working) {
  const Edge slow = time_current_of(device).slow;
  const bool read = !slow.points.empty();
  const Ratio multiple =
      given(working, "m_2", "from which multiple of its rating it opens for sure",
            read ? slow.points.front().multiple : usual_multiple(device),
            read ? slow.source : usual_gate);
  return {step(working, surely_opens, multiple, device.rating), read, multiple};
}

std::optional<Current> carries_there(const Protection& device, Working* working) {
  if (!device.fuse || device.fuse->rerated.empty()) return device.rating;
  for (const auto& row : device.fuse->rerated) {
    if (row.ambient < device.ambient) continue;
    if (row.carries == row.rating) return device.rating;
    const bool read = row.rating == device.rating;
    const Source source{read ? row.source.kind : std::max(row.source.kind, SourceKind::from_memory),
                        row.source.title, row.source.where};
    given(working, "T_a", "the hottest where the device sits", device.ambient,
          Source{SourceKind::from_memory, "judgement", "by where it sits"});
    given(working, "I_T", "what the part that was read carries at the next hotter ambient",
          row.carries, source);
    return step(working, rerated_current, device.rating, row.carries, row.rating);
  }
  return std::nullopt;
}

std::optional<Duration> switches_hold(const Bank& bank, Current i) {
  const Current each = i / double(bank.parallel);
  if (!bank.discharge_limit || each <= *bank.discharge_limit) return std::nullopt;
  return bank.peak && each <= bank.peak->current ? bank.peak->time : 0.0 * second;
}

}  // namespace housepower::wiring
