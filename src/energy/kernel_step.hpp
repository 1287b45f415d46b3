// SPDX-License-Identifier: Apache-2.0
// The step of an hour, and the loop over hours, for T = double and for T = a vector of doubles, a stay
// in each lane: the same operations in the same order, so that a lane comes out as it does alone, bit
// for bit. Each source that takes this in is compiled for another set of instructions; hence nothing
// in it has a name outside its source.
#pragma once

#include <array>
#include <cstddef>
#include <type_traits>
#ifdef __AVX2__
#include <immintrin.h>

#include <cstring>
#endif

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

/// Whether it is so in one lane at least.
template <class T> HOUSEPOWER_INLINE bool any(const Mask<T>& so) {
  if constexpr (width<T> == 1) return so;
  else {
#ifdef __AVX512DQ__
    if constexpr (width<T> == 8) return _mm512_movepi64_mask((__m512i)so) != 0;
#endif
#ifdef __AVX2__
    if constexpr (width<T> == 4) return _mm256_movemask_pd((__m256d)so) != 0;
#endif
    long long all{};
    for (std::size_t i = 0; i < width<T>; ++i) all |= so[i];
    return all != 0;
  }
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

/// From a table of each lane the value at a place.
template <class T, class Places>
HOUSEPOWER_INLINE T look_up(const double* const (&tables)[width<T>], const Places& at) {
#ifdef __AVX512DQ__
  if constexpr (width<T> == 8) {  // by address: eight loads in one instruction
    using Addresses = long long __attribute__((vector_size(64)));
    Addresses from;
    std::memcpy(&from, tables, sizeof from);
    from += __builtin_convertvector(at, Addresses) * (long long)sizeof(double);
    return _mm512_mask_i64gather_pd(_mm512_setzero_pd(), 0xff, (__m512i)from, nullptr, 1);
  } else
#endif
    return each_lane<T>([&](std::size_t i) { return tables[i][lane(at, i)]; });
}

/// What of the plants is the same in every hour, so that no hour divides.
template <class T> struct Plants {
  T capacity_Wh, stored_share, kept_an_hour, discharge_W, tail_from, tail_W, full_by_sun,
      full_by_others, rests_by_sun, rests_by_others, sun_factor, load_factor, others_factor, decay,
      rise_K_W, heater_W, heater_on_C, heater_off_C;
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
    rests_by_sun = of(&Plant::rests_by_sun), rests_by_others = of(&Plant::rests_by_others);
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
  T gathered{}, spilled{}, asked{}, unserved{}, heated{}, lost{}, heated_until_ended{};
  T coldest_C = all<T>(1e9), hottest_C = all<T>(-1e9);
  Mask<T> going = T{} == T{};
  Mask<T> counts = T{} == T{};  // where the lowest charge is still looked for
};

/// One hour; where it is not `summed`, of the outcome only the length, the lowest charge and the coldest cells.
/// Inlined by force: as a call it takes half as long again (measured). A division is asked for only
/// where its outcome is used: in most hours everything is served.
template <class T, bool summed>
HOUSEPOWER_INLINE void advance(const Plants<T>& p, State<T>& s, Sums<T>& o, T sun_W, T others_W,
                               T load_W, const T& air_C, int hour) {
  const T none{}, one = all<T>(1.0);
  // The row at or below: whatever is colder than the cells, the safe side of both columns.
  const T above = least(most(s.cells_C - coldest_C, none), all<T>(temperatures - 1.0));
  const T share = s.charge_Wh * p.per_Wh;
  const T along = least(most(share * (charges - 1.0), none), all<T>(charges - 1.0));
  const auto rows = whole(above), columns = rows * charges + whole(along);
  const T loss = look_up<T>(p.loss, columns), by_warmth_W = look_up<T>(p.accepts_W, rows),
          empty = look_up<T>(p.empty, rows);
  sun_W *= p.sun_factor;
  load_W *= p.load_factor;
  others_W *= p.others_factor;
  // What ends below the bank's voltage pushes nothing, past the bank into the loads no more than in.
  sun_W = select(share < p.rests_by_sun, sun_W, none);
  others_W = select(share < p.rests_by_others, others_W, none);
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
  T part = one;
  if (any<T>(short_of)) part = select(short_of, have / select(short_of, take, one), one);
  const T served = give * part;
  const T unserved = need - served;

  const T before = s.charge_Wh + stored - drawn;
  s.charge_Wh = before * p.kept_an_hour;
  const T warmth = drawn - served + least(into - stored, stored * stored * loss);
  const T asked = load_W + heat_W;
  // A heater on an empty bank warms nothing: its share of what is not served is taken off.
  const Mask<T> lacks = unserved > 1e-9 * asked;
  T cold_W{};
  if (any<T>(lacks & by_bank))
    cold_W = select(lacks & by_bank, heat_W * (unserved / select(lacks, asked, one)), none);
  s.cells_C = unheated_C + p.rise_K_W * (warmth + heat_W);
  s.cells_C -= p.rise_K_W * cold_W;
  o.lasted_h = select(lacks & o.going, all<T>(hour) + select(give < need, none, part), o.lasted_h);
  o.going = o.going & (unserved <= 1e-9 * asked);

  const T now = s.charge_Wh * p.per_Wh;
  o.lowest = select(o.counts, least(o.lowest, now), o.lowest);
  o.coldest_C = least(o.coldest_C, s.cells_C);
  if constexpr (!summed) return;
  o.gathered += offered;
  o.spilled += surplus - into;
  o.asked += asked;
  o.unserved += unserved;
  o.heated += heat_W - cold_W;
  o.heated_until_ended += select(o.going, heat_W - cold_W, none);
  o.lost += (into - stored) + (drawn - served) + (before - s.charge_Wh);
  o.highest = most(o.highest, now);
  o.full_h = select((now >= nearly_full) & (o.full_h < none), all<T>(hour + 1.0), o.full_h);
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

/// Each stay begins a day after the one before it, also by the week's pattern: what one goes through on
/// a day the one before goes through on its next day.
HOUSEPOWER_INLINE bool are_day_by_day(const Hours& h, const Lane* lanes, std::size_t n) {
  for (std::size_t i = 1; i < n; ++i)
    if (lanes[i].first != lanes[i - 1].first + 24 ||
        (lanes[i].phase - lanes[i - 1].phase - 1) % h.patterns != 0)
      return false;
  return true;
}

/// A figure of the 24 hours of a day of n stays, and of the next stay after them.
template <class T, std::size_t n> struct Day {
  alignas(64) double rows[24][n + width<T>];
  HOUSEPOWER_INLINE T at(int hour, std::size_t g) const {
    T x;
    __builtin_memcpy(&x, &rows[hour][g * width<T>], sizeof x);
    return x;
  }
  HOUSEPOWER_INLINE void move_on() {
    for (auto& row : rows)
      for (std::size_t i = 0; i < n; i += width<T>) {
        T x;
        __builtin_memcpy(&x, row + i + 1, sizeof x);
        __builtin_memcpy(row + i, &x, sizeof x);
      }
  }
};

/// The stays of G vectors side by side, all their state on the stack.
template <class T, std::size_t G, bool summed>
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
  Day<T, n> sun_W, air_C, load_W;
  const bool day_by_day = are_day_by_day(h, lanes, n);
  const auto lay_out = [&](int day) {
    const int count = hours - day * 24 < 24 ? hours - day * 24 : 24;
    const bool moves_on = day_by_day && day > 0;
    for (std::size_t i = moves_on ? n - 1 : 0; i < n; ++i) {
      const std::size_t to = moves_on ? n : i;
      const int first = lanes[i].first + day * 24;
      const double *sun = h.sun_W.data() + first, *air = h.air_C.data() + first;
      const double* load = load_of(h, lanes[i].phase, day) + first;
      const double* next = load_of(h, lanes[i].phase, day + 1) + first;
      for (int k = 0; k < count; ++k) {
        sun_W.rows[k][to] = sun[k];
        air_C.rows[k][to] = air[k];
        load_W.rows[k][to] = (k < to_midnight ? load : next)[k];
      }
    }
    if (moves_on) sun_W.move_on(), air_C.move_on(), load_W.move_on();
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
        advance<T, summed>(v[g].plants, v[g].state, v[g].sums, sun_W.at(k, g), others_W,
                           load_W.at(k, g), air_C.at(k, g), hour);
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
                         lane(s.heated_until_ended, k),
                         days_shut_out[i],
                         lane(s.coldest_C, k),
                         lane(s.hottest_C, k)};
  }
}

template <class T, std::size_t G>
void run_together(const Hours& h, int hours, const Lane* lanes, Until until) {
  if (until == Until::lengths) run_together<T, G, false>(h, hours, lanes, true);
  else run_together<T, G, true>(h, hours, lanes, until == Until::empty);
}

/// The last stays in G vectors: of more than these those before them once more, or the last again.
template <class T, std::size_t G>
void run_last(const Hours& h, int hours, std::span<const Lane> all, std::size_t count,
              Until until) {
  constexpr std::size_t n = G * width<T>;
  if (all.size() >= n) return run_together<T, G>(h, hours, &all[all.size() - n], until);
  Lane padded[n];
  Outcome unused;
  const Lane* lanes = &all[all.size() - count];
  for (std::size_t k = 0; k < n; ++k) {
    padded[k] = lanes[k < count ? k : count - 1];
    if (k >= count) padded[k].outcome = &unused;
  }
  run_together<T, G>(h, hours, padded, until);
}

/// Stays by pairs of vectors; how many were run. A pair takes little longer than a vector alone, and a
/// vector than half of it.
template <class T>
std::size_t run_vectors(const Hours& h, int hours, std::span<const Lane> lanes, Until until) {
  constexpr std::size_t w = width<T>;
  std::size_t i = 0;
  for (; i + 2 * w <= lanes.size(); i += 2 * w) run_together<T, 2>(h, hours, &lanes[i], until);
  const std::size_t left = lanes.size() - i;
  if (left > w + w / 4) run_last<T, 2>(h, hours, lanes, left, until);
  else if (left >= w) {
    run_together<T, 1>(h, hours, &lanes[i], until);
    return i + w;
  } else if (left > w / 2) run_last<T, 1>(h, hours, lanes, left, until);
  else return i;
  return lanes.size();
}

#undef HOUSEPOWER_INLINE

}  // namespace
}  // namespace housepower::energy::kernel
