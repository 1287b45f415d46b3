// SPDX-License-Identifier: Apache-2.0
// The step of an hour, and the loop over hours, for T = double and for T = a vector of doubles, a stay
// in each lane: the same operations in the same order, so that a lane comes out as it does alone, bit
// for bit. Each source that takes this in is compiled for another set of instructions; hence nothing
// in it has a name outside its source.
#pragma once

#include <array>
#include <cstddef>
#include <type_traits>

#include "housepower/energy/kernel_lanes.hpp"

namespace housepower::energy::kernel {
namespace {

template <class T> inline constexpr std::size_t width = sizeof(T) / sizeof(double);
template <class T> using Mask = decltype(T{} < T{});

// By reference: a vector wider than the usual registers has no agreed way into a function.
#define HOUSEPOWER_INLINE [[gnu::always_inline]] inline
template <class T> HOUSEPOWER_INLINE T select(const Mask<T>& so, const T& a, const T& b) {
  return so ? a : b;
}
template <class T> HOUSEPOWER_INLINE T least(const T& a, const T& b) { return a < b ? a : b; }
template <class T> HOUSEPOWER_INLINE T most(const T& a, const T& b) { return a > b ? a : b; }
template <class T> HOUSEPOWER_INLINE T all(double x) { return T{} + x; }

/// The value in one lane.
template <class T> HOUSEPOWER_INLINE auto lane(const T& x, std::size_t i) {
  if constexpr (std::is_arithmetic_v<T>) return x;
  else return x[i];
}
template <class T> HOUSEPOWER_INLINE void set_lane(T& x, std::size_t i, double value) {
  if constexpr (std::is_arithmetic_v<T>) x = value;
  else x[i] = value;
}

template <std::size_t lanes> struct Whole {
  typedef int type __attribute__((vector_size(lanes * sizeof(int))));
};
/// Without what stands behind the point; not negative.
template <class T> HOUSEPOWER_INLINE auto whole(const T& x) {
  if constexpr (std::is_arithmetic_v<T>) return int(x);
  else {
    return __builtin_convertvector(x, typename Whole<width<T>>::type);
  }
}

/// A value for each lane, by its number.
template <class T, class F> HOUSEPOWER_INLINE T each_lane(const F& f) {
  if constexpr (width<T> == 1) return f(0);
  else {
    T x{};
    for (std::size_t i = 0; i < width<T>; ++i) x[i] = f(i);
    return x;
  }
}

/// What of the plants is the same in every hour, so that no hour divides.
template <class T> struct Plants {
  T capacity_Wh, stored_share, kept_an_hour, discharge_W, tail_from, tail_W, full_by_sun,
      full_by_others, sun_factor, load_factor, others_factor, decay, rise_K_W, heater_W,
      heater_on_C, heater_off_C;
  T per_Wh, into_per_stored, per_tail, W_per_K;
  T heats_below_C;  // a last digit short of where it ends, or rounding would decide
  T by_bank;        // 1 where the bank feeds the heater
  const double *loss[width<T>], *accepts_W[width<T>], *empty[width<T>];

  HOUSEPOWER_INLINE explicit Plants(const Lane* lanes) {
    const auto of = [&](double Plant::*value) {
      return each_lane<T>([&](std::size_t i) { return lanes[i].plant->*value; });
    };
    capacity_Wh = of(&Plant::capacity_Wh), stored_share = of(&Plant::stored_share);
    kept_an_hour = of(&Plant::kept_an_hour), discharge_W = of(&Plant::discharge_W);
    tail_from = of(&Plant::tail_from), tail_W = of(&Plant::tail_W);
    full_by_sun = of(&Plant::full_by_sun), full_by_others = of(&Plant::full_by_others);
    sun_factor = of(&Plant::sun_factor), load_factor = of(&Plant::load_factor);
    others_factor = of(&Plant::others_factor);
    decay = of(&Plant::decay), rise_K_W = of(&Plant::rise_K_W), heater_W = of(&Plant::heater_W);
    heater_on_C = of(&Plant::heater_on_C), heater_off_C = of(&Plant::heater_off_C);
    for (std::size_t i = 0; i < width<T>; ++i) {
      const Plant& p = *lanes[i].plant;
      loss[i] = p.loss.data()->data(), accepts_W[i] = p.accepts_W.data(), empty[i] = p.empty.data();
      set_lane(per_Wh, i, 1.0 / p.capacity_Wh), set_lane(into_per_stored, i, 1.0 / p.stored_share);
      set_lane(per_tail, i, 1.0 / (1.0 - p.tail_from));
      set_lane(W_per_K, i, p.rise_K_W > 0.0 ? 1.0 / p.rise_K_W : 0.0);
      set_lane(heats_below_C, i, p.heater_off_C - 1e-9);
      set_lane(by_bank, i, p.heater_by_bank ? 1.0 : 0.0);
    }
  }
};

template <class T> struct State {
  T charge_Wh{}, cells_C{};
  Mask<T> heating{};
  Mask<T> offered{}, taken{};  // of today
};

/// An Outcome in each lane; `going`: nothing was left unserved so far.
template <class T> struct Sums {
  T lasted_h{}, lowest = all<T>(1.0), highest{}, full_h = all<T>(-1.0);
  T gathered{}, spilled{}, asked{}, unserved{}, heated{}, lost{};
  T coldest_C = all<T>(1e9), hottest_C = all<T>(-1e9);
  Mask<T> going = T{} == T{};
  Mask<T> counts = T{} == T{};  // where the lowest charge is still looked for
};

/// One hour. Inlined by force: as a call it takes half as long again (measured).
template <class T>
HOUSEPOWER_INLINE void advance(const Plants<T>& p, State<T>& s, Sums<T>& o, T sun_W, T others_W,
                               T load_W, const T& air_C, int hour) {
  const T none{}, one = all<T>(1.0);
  // The row at or below: whatever is colder than the cells, the safe side of both columns.
  const T above = least(most(s.cells_C - coldest_C, none), all<T>(temperatures - 1.0));
  const T share = s.charge_Wh * p.per_Wh;
  const T along = least(most(share * (charges - 1.0), none), all<T>(charges - 1.0));
  const auto rows = whole(above), columns = rows * charges + whole(along);
  const T loss = each_lane<T>([&](std::size_t i) { return p.loss[i][lane(columns, i)]; });
  const T by_warmth_W = each_lane<T>([&](std::size_t i) { return p.accepts_W[i][lane(rows, i)]; });
  const T empty = each_lane<T>([&](std::size_t i) { return p.empty[i][lane(rows, i)]; });
  sun_W *= p.sun_factor;
  load_W *= p.load_factor;
  others_W *= p.others_factor;
  const T offered = sun_W + others_W;

  // Heater: no more than brings the cells to where it switches off.
  const T unheated_C = air_C + (s.cells_C - air_C) * p.decay;
  s.heating = (s.cells_C < p.heater_on_C) | (s.heating & (s.cells_C < p.heats_below_C));
  const T to_off_W = most((p.heater_off_C - unheated_C) * p.W_per_K, none);
  const Mask<T> by_bank = p.by_bank > none;
  T heat_W = select(s.heating, least(p.heater_W, to_off_W), none);
  heat_W = select(by_bank, heat_W, least(heat_W, offered));
  const T net = offered - load_W - heat_W;
  const T surplus = most(net, none), need = most(-net, none);

  // In: what the cells accept, less towards full, and no more than fits under the chargers' voltage.
  const T falling = least(most(share - p.tail_from, none) * p.per_tail, one);
  const T accepts = by_warmth_W + (least(by_warmth_W, p.tail_W) - by_warmth_W) * falling;
  const T full = select(others_W > none, p.full_by_others, p.full_by_sun);
  const T fits = most(full * p.capacity_Wh - s.charge_Wh, none);
  const T stored = least(least(surplus * p.stored_share, accepts), fits);
  const T into = stored * p.into_per_stored;

  // Out: down to what the cold and the reserve leave, within what the batteries let out.
  const T give = least(need, p.discharge_W);
  const T take = give + give * give * loss;
  const T have = most(s.charge_Wh - empty * p.capacity_Wh, none);
  const T drawn = least(take, have);
  const Mask<T> short_of = take > have;
  const T part = select(short_of, have / select(short_of, take, one), one);
  const T served = give * part;
  const T unserved = need - served;

  const T before = s.charge_Wh + stored - drawn;
  s.charge_Wh = before * p.kept_an_hour;
  const T warmth = drawn - served + least(into - stored, stored * stored * loss);
  const T asked = load_W + heat_W;
  // A heater on an empty bank warms nothing: its share of what is not served is taken off.
  const Mask<T> lacks = unserved > 1e-9 * asked;
  const T cold_W = select(lacks & by_bank, heat_W * (unserved / select(lacks, asked, one)), none);
  s.cells_C = unheated_C + p.rise_K_W * (warmth + heat_W);
  s.cells_C -= p.rise_K_W * cold_W;
  o.lasted_h = select(lacks & o.going, all<T>(hour) + select(give < need, none, part), o.lasted_h);
  o.going = o.going & (unserved <= 1e-9 * asked);

  o.gathered += offered;
  o.spilled += surplus - into;
  o.asked += asked;
  o.unserved += unserved;
  o.heated += heat_W - cold_W;
  o.lost += (into - stored) + (drawn - served) + (before - s.charge_Wh);
  const T now = s.charge_Wh * p.per_Wh;
  o.lowest = select(o.counts, least(o.lowest, now), o.lowest);
  o.highest = most(o.highest, now);
  o.full_h = select((now >= nearly_full) & (o.full_h < none), all<T>(hour + 1.0), o.full_h);
  o.coldest_C = least(o.coldest_C, s.cells_C);
  o.hottest_C = most(o.hottest_C, s.cells_C);
  const Mask<T> spare = surplus > 1e-9;
  s.offered = s.offered | spare;
  s.taken = s.taken | (stored > none) | (spare & (by_warmth_W > none));
}

/// Loads of the day that begins after so many midnights of a stay.
HOUSEPOWER_INLINE const double* load_of(const Hours& h, int phase, int midnights) {
  return h.load_W.data()[std::size_t(h.patterns == 1 ? 0 : (phase + midnights) % h.patterns)]
      .data();
}

/// The stays of G vectors side by side, all their state on the stack.
template <class T, std::size_t G>
void run_together(const Hours& h, int hours, const Lane* lanes, bool until_empty) {
  constexpr std::size_t w = width<T>, n = G * w;
  struct Vector {
    Plants<T> plants;
    State<T> state{};
    Sums<T> sums{};
  };
  struct Together {
    Vector vectors[G];
  };
  Together together = [&] {
    if constexpr (G == 1) return Together{{Vector{Plants<T>(lanes)}}};
    else if constexpr (G == 2)
      return Together{{Vector{Plants<T>(lanes)}, Vector{Plants<T>(lanes + w)}}};
    else
      return Together{{Vector{Plants<T>(lanes)}, Vector{Plants<T>(lanes + w)},
                       Vector{Plants<T>(lanes + 2 * w)}, Vector{Plants<T>(lanes + 3 * w)}}};
  }();
  auto& v = together.vectors;
  double at_start_Wh[n];
  int days_shut_out[n] = {};
  for (std::size_t i = 0; i < n; ++i) {
    const Plant& p = *lanes[i].plant;
    at_start_Wh[i] = p.capacity_Wh * p.arrive;
    set_lane(v[i / w].state.charge_Wh, i % w, at_start_Wh[i]);
    set_lane(v[i / w].state.cells_C, i % w, h.air_C.data()[lanes[i].first]);
  }
  // The hours of a day of the stay, hour by hour for all lanes; its loads turn at midnight.
  const int to_midnight = 24 - lanes[0].first % 24;
  T sun_W[24][G], air_C[24][G], load_W[24][G];
  const auto lay_out = [&](int day) {
    const int count = hours - day * 24 < 24 ? hours - day * 24 : 24;
    for (std::size_t i = 0; i < n; ++i) {
      const int first = lanes[i].first + day * 24;
      const double *sun = h.sun_W.data() + first, *air = h.air_C.data() + first;
      const double* load = load_of(h, lanes[i].phase, day) + first;
      const double* next = load_of(h, lanes[i].phase, day + 1) + first;
      for (int k = 0; k < count; ++k) {
        set_lane(sun_W[k][i / w], i % w, sun[k]);
        set_lane(air_C[k][i / w], i % w, air[k]);
        set_lane(load_W[k][i / w], i % w, (k < to_midnight ? load : next)[k]);
      }
    }
  };
  // Days with their night before them, as the cells go through them; that of arrival is no whole one.
  const auto day_ends = [&](bool counts) {
    for (std::size_t i = 0; i < n; ++i) {
      const State<T>& s = v[i / w].state;
      days_shut_out[i] += counts && lane(s.offered, i % w) && !lane(s.taken, i % w);
    }
    for (Vector& x : v) x.state.offered = x.state.taken = Mask<T>{};
  };
  const auto all_ended = [&] {
    for (std::size_t i = 0; i < n; ++i)
      if (lane(v[i / w].sums.going, i % w)) return false;
    return true;
  };
  for (int day = 0; day * 24 < hours; ++day) {
    lay_out(day);
    const int end = hours < day * 24 + 24 ? hours : day * 24 + 24;
    for (int hour = day * 24; hour < end; ++hour) {
      const int k = hour - day * 24;
      if (k == to_midnight) day_ends(day > 0);
      const T others_W = all<T>(h.others_W.data()[hour]);
      for (std::size_t g = 0; g < G; ++g)
        advance<T>(v[g].plants, v[g].state, v[g].sums, sun_W[k][g], others_W, load_W[k][g],
                   air_C[k][g], hour);
    }
    if (to_midnight == 24) day_ends(true);
    if (!until_empty) continue;
    for (Vector& x : v) x.sums.counts = x.sums.going;
    if (all_ended()) break;
  }
  day_ends(true);
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t k = i % w;
    const Sums<T>& s = v[i / w].sums;
    const bool ended = !lane(s.going, k);
    *lanes[i].outcome = {ended ? lane(s.lasted_h, k) : double(hours),
                         ended,
                         lane(v[i / w].state.charge_Wh, k),
                         at_start_Wh[i],
                         lane(s.lowest, k),
                         lane(s.highest, k),
                         lane(s.full_h, k),
                         lane(s.gathered, k),
                         lane(s.spilled, k),
                         lane(s.asked, k),
                         lane(s.unserved, k),
                         lane(s.heated, k),
                         lane(s.lost, k),
                         days_shut_out[i],
                         lane(s.coldest_C, k),
                         lane(s.hottest_C, k)};
  }
}

/// Stays by whole pairs of vectors; how many were run.
template <class T>
std::size_t run_vectors(const Hours& h, int hours, const Lane* lanes, std::size_t count,
                        bool until_empty) {
  constexpr std::size_t w = width<T>;
  std::size_t i = 0;
  for (; i + 2 * w <= count; i += 2 * w) run_together<T, 2>(h, hours, lanes + i, until_empty);
  for (; i + w <= count; i += w) run_together<T, 1>(h, hours, lanes + i, until_empty);
  // Better than half a vector: the last stay again in the lanes that are left.
  if (count - i > w / 2) {
    Lane padded[w];
    Outcome unused;
    for (std::size_t k = 0; k < w; ++k)
      padded[k] = i + k < count ? lanes[i + k]
                                : Lane{lanes[count - 1].plant, &unused, lanes[count - 1].first,
                                       lanes[count - 1].phase};
    run_together<T, 1>(h, hours, padded, until_empty);
    i = count;
  }
  return i;
}

#undef HOUSEPOWER_INLINE

}  // namespace
}  // namespace housepower::energy::kernel
