// SPDX-License-Identifier: Apache-2.0
// The step of an hour, and the loop over hours and plants.
#include <algorithm>
#include <utility>
#include <vector>

#include "housepower/energy/kernel_lanes.hpp"

namespace housepower::energy::kernel {
namespace {

inline double least(double a, double b) { return a < b ? a : b; }
inline double most(double a, double b) { return a > b ? a : b; }
inline double select(bool so, double a, double b) { return so ? a : b; }

inline std::size_t row_of(double celsius) {
  // The row at or below: whatever is colder than the cells, the safe side of both columns.
  const double above = least(most(celsius - coldest_C, 0.0), temperatures - 1.0);
  return std::size_t(above);
}

/// What of a plant is the same in every hour, so that no hour divides.
struct Fixed {
  double per_Wh, into_per_stored, per_tail, W_per_K;
  double heats_below_C;  // a last digit short of where it ends, or rounding would decide
  explicit Fixed(const Plant& p)
      : per_Wh(1.0 / p.capacity_Wh), into_per_stored(1.0 / p.stored_share),
        per_tail(1.0 / (1.0 - p.tail_from)), W_per_K(p.rise_K_W > 0.0 ? 1.0 / p.rise_K_W : 0.0),
        heats_below_C(p.heater_off_C - 1e-9) {}
};

template <class T> struct State {
  T charge_Wh{}, cells_C{};
  bool heating = false;
  bool offered = false, taken = false;  // of today
};

/// One hour. Inlined by force: as a call it takes half as long again (measured).
template <class T>
[[gnu::always_inline]] inline void advance(const Plant& p, const Fixed& f, State<T>& s, Outcome& o,
                                           T sun_W, T others_W, T load_W, T air_C, int hour) {
  const std::size_t row = row_of(s.cells_C);
  const T share = s.charge_Wh * f.per_Wh;
  const auto column = std::size_t(least(most(share * (charges - 1.0), 0.0), charges - 1.0));
  const T loss = p.loss[row][column];
  sun_W *= p.sun_factor;
  load_W *= p.load_factor;
  others_W *= p.others_factor;
  const T offered = sun_W + others_W;

  // Heater: no more than brings the cells to where it switches off.
  const T unheated_C = air_C + (s.cells_C - air_C) * p.decay;
  s.heating = s.cells_C < p.heater_on_C || (s.heating && s.cells_C < f.heats_below_C);
  const T to_off_W = most((p.heater_off_C - unheated_C) * f.W_per_K, 0.0);
  T heat_W = select(s.heating, least(p.heater_W, to_off_W), 0.0);
  heat_W = select(p.heater_by_bank, heat_W, least(heat_W, offered));
  const T net = offered - load_W - heat_W;
  const T surplus = most(net, 0.0), need = most(-net, 0.0);

  // In: what the cells accept, less towards full, and no more than fits under the chargers' voltage.
  const T by_warmth_W = p.accepts_W[row];
  const T falling = least(most(share - p.tail_from, 0.0) * f.per_tail, 1.0);
  const T accepts = by_warmth_W + (least(by_warmth_W, p.tail_W) - by_warmth_W) * falling;
  const T full = select(others_W > 0.0, p.full_by_others, p.full_by_sun);
  const T fits = most(full * p.capacity_Wh - s.charge_Wh, 0.0);
  const T stored = least(least(surplus * p.stored_share, accepts), fits);
  const T into = stored * f.into_per_stored;

  // Out: down to what the cold and the reserve leave, within what the batteries let out.
  const T give = least(need, p.discharge_W);
  const T take = give + give * give * loss;
  const T have = most(s.charge_Wh - p.empty[row] * p.capacity_Wh, 0.0);
  const T drawn = least(take, have);
  const T part = take > have ? have / take : 1.0;
  const T served = give * part;
  const T unserved = need - served;

  const T before = s.charge_Wh + stored - drawn;
  s.charge_Wh = before * p.kept_an_hour;
  const T warmth = drawn - served + least(into - stored, stored * stored * loss);
  s.cells_C = unheated_C + p.rise_K_W * (warmth + heat_W);
  T heated = heat_W;
  if (unserved > 1e-9 * (load_W + heat_W)) {
    // A heater on an empty bank warms nothing: its share of what is not served is taken off.
    if (p.heater_by_bank) {
      const T cold_W = heat_W * (unserved / (load_W + heat_W));
      s.cells_C -= p.rise_K_W * cold_W;
      heated -= cold_W;
    }
    if (!o.ended) o.lasted_h = hour + (give < need ? 0.0 : part);
    o.ended = true;
  }

  o.gathered += offered;
  o.spilled += surplus - into;
  o.asked += load_W + heat_W;
  o.unserved += unserved;
  o.heated += heated;
  o.lost += (into - stored) + (drawn - served) + (before - s.charge_Wh);
  const T now = s.charge_Wh * f.per_Wh;
  o.lowest = least(o.lowest, now);
  o.highest = most(o.highest, now);
  if (now >= nearly_full && o.full_h < 0.0) o.full_h = hour + 1.0;
  o.coldest_C = least(o.coldest_C, s.cells_C);
  o.hottest_C = most(o.hottest_C, s.cells_C);
  s.offered |= surplus > 1e-9;
  s.taken |= stored > 0.0 || (surplus > 1e-9 && by_warmth_W > 0.0);
}

/// Loads of the day that begins after so many midnights of a stay.
inline const double* load_of(const Hours& h, int phase, int midnights) {
  return h.load_W[std::size_t(h.patterns == 1 ? 0 : (phase + midnights) % h.patterns)].data();
}

/// N stays side by side, all their state on the stack.
template <std::size_t N>
void run_together(const Hours& h, int hours, const Lane* lanes, bool until_empty) {
  std::array<State<double>, N> states;
  std::array<Outcome, N> o;
  const auto fixed = [&]<std::size_t... I>(std::index_sequence<I...>) {
    return std::array<Fixed, N>{Fixed(*lanes[I].plant)...};
  }
  (std::make_index_sequence<N>());
  std::array<const double*, N> sun, air, load;
  for (std::size_t i = 0; i < N; ++i) {
    const Plant& p = *lanes[i].plant;
    states[i].charge_Wh = o[i].at_start_Wh = p.capacity_Wh * p.arrive;
    states[i].cells_C = h.air_C[std::size_t(lanes[i].first)];
    sun[i] = h.sun_W.data() + lanes[i].first, air[i] = h.air_C.data() + lanes[i].first;
  }
  const auto begins = [&](int midnights) {
    for (std::size_t i = 0; i < N; ++i)
      load[i] = load_of(h, lanes[i].phase, midnights) + lanes[i].first;
  };
  // Days with their night before them, as the cells go through them; that of arrival is no whole one.
  const auto day_ends = [&](bool counts) {
    for (std::size_t i = 0; i < N; ++i) {
      o[i].days_shut_out += counts && states[i].offered && !states[i].taken;
      states[i].offered = states[i].taken = false;
    }
  };
  const int to_midnight = 24 - lanes[0].first % 24;
  for (int day = 0; day * 24 < hours; ++day) {
    begins(day);
    for (int hour = day * 24; hour < std::min(hours, day * 24 + 24); ++hour) {
      if (hour == day * 24 + to_midnight) begins(day + 1), day_ends(day > 0);
      for (std::size_t i = 0; i < N; ++i)
        advance<double>(*lanes[i].plant, fixed[i], states[i], o[i], sun[i][hour],
                        h.others_W[std::size_t(hour)], load[i][hour], air[i][hour], hour);
    }
    if (to_midnight == 24) day_ends(true);
    if (until_empty && std::all_of(o.begin(), o.end(), [](const Outcome& x) { return x.ended; }))
      break;
  }
  day_ends(true);
  for (std::size_t i = 0; i < N; ++i) {
    o[i].charge_Wh = states[i].charge_Wh;
    if (!o[i].ended) o[i].lasted_h = hours;
    *lanes[i].outcome = o[i];
  }
}

}  // namespace

double unbalanced_Wh(const Outcome& o) {
  // gathered + at start = spilled + served + lost + at end; what heats the cells is served
  return o.gathered + o.at_start_Wh - (o.spilled + (o.asked - o.unserved) + o.lost + o.charge_Wh);
}

void run(const Hours& h, int hours, std::span<const Lane> lanes, bool until_empty) {
  std::size_t i = 0;
  for (; i + 4 <= lanes.size(); i += 4) run_together<4>(h, hours, &lanes[i], until_empty);
  for (; i + 2 <= lanes.size(); i += 2) run_together<2>(h, hours, &lanes[i], until_empty);
  if (i < lanes.size()) run_together<1>(h, hours, &lanes[i], until_empty);
}

void run(const Hours& h, int first, int hours, std::span<const Plant> plants,
         std::span<Outcome> outcomes, bool until_empty) {
  std::vector<Lane> lanes;
  lanes.reserve(plants.size());
  for (std::size_t i = 0; i < plants.size(); ++i)
    lanes.push_back({&plants[i], &outcomes[i], first, h.phase});
  run(h, hours, lanes, until_empty);
}

void trace(const Hours& h, int first, const Plant& plant, std::span<double> shares) {
  const Fixed fixed(plant);
  State<double> s{plant.capacity_Wh * plant.arrive, h.air_C[std::size_t(first)]};
  Outcome o;
  for (std::size_t hour = 0; hour < shares.size(); ++hour) {
    const std::size_t at = std::size_t(first) + hour;
    const double* load_W = load_of(h, h.phase, (first % 24 + int(hour)) / 24);
    advance<double>(plant, fixed, s, o, h.sun_W[at], h.others_W[hour], load_W[at], h.air_C[at],
                    int(hour));
    shares[hour] = s.charge_Wh * fixed.per_Wh;
  }
}

}  // namespace housepower::energy::kernel
