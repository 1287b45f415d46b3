// SPDX-License-Identifier: Apache-2.0
// What may be wrong in a van, and how far a sound one may differ from its design.
#include "diagnosis_work.hpp"
#include "housepower/design/labels.hpp"

namespace housepower::wiring::inside {
namespace {

using design::Pole;
using design::Subject;

// Ranges of faults (from judgement), as standard deviations of logarithms or in volts.
constexpr double joint_middle = 0.01, joint_range = 1.2;  // ohms; its logarithm
constexpr double conductor_range = 0.5, device_range = 1.0, load_range = 0.7;
constexpr double resting_range_of_fault = 0.5;
constexpr double least_battery_spread = 0.05;  // no two are alike, whatever is stated
constexpr double rest_together = 0.005,
                 rest_apart = 0.003;  // V, where it was measured, and the meter
constexpr double rest_apart_unmeasured = 0.01;
constexpr double rest_between_cases = 0.01;  // V, that a test of some minutes leaves behind
/// Of a meter's share of error the part that differs from reading to reading of one range; the rest is
/// the gain of that range, alike in all of them (from judgement).
constexpr double from_reading_to_reading = 0.2;
constexpr double misread = 0.1;  // of all wrong readings together, against all faults together

Unknown scale_of(std::vector<std::size_t> parts, double sd, bool fault = false) {
  return {Unknown::Is::scale, std::move(parts), {}, 0.0, sd, fault};
}
Unknown joint_at(std::size_t part) {
  return {Unknown::Is::extra, {part}, {}, std::log(joint_middle), joint_range};
}

Subject subject_of_load(const design::Design& d, const Wired& w, std::size_t load) {
  for (std::size_t i = 0; i < w.appliances.size(); ++i)
    if (w.appliances[i].steady == int(load)) return subject_of(d, d->appliances[i]);
  for (std::size_t i = 0; i < w.inverters.size(); ++i)
    if (w.inverters[i] == int(load)) return subject_of(d, d->inverters[i]);
  return Subject(Subject::Kind::bench);
}

/// Links or leads of the bank: its network's first branches.
Subject subject_of_link(const design::Design& d, std::size_t branch) {
  const auto& bank = *d->bank;
  const bool lead = !bank.link_positive && !bank.link_negative;
  const design::BankConductor conductor{branch % 2 == 0 ? Pole::outgoing : Pole::return_,
                                        int(branch / 2) + 1, lead};
  return {Subject::Kind::bank, design::conductor_label(d, conductor), Subject::Part::link, branch};
}

/// Parts of one pole of a run by what they are.
struct PoleParts {
  std::size_t carrier = 0;
  std::vector<std::size_t> lugs{}, copper{};
  std::vector<std::size_t> things{};  // devices and items
};
PoleParts pole_parts_of(const Work& w, std::size_t run, Pole pole) {
  PoleParts p;
  const auto& parts = w.first().parts();
  for (std::size_t k = 0; k < parts.size(); ++k) {
    const auto& piece = parts[k].piece;
    if (!piece || piece->run != run || piece->pole != pole) continue;
    p.carrier = parts[k].carrier;
    (piece->is == PieceIs::lug      ? p.lugs
     : piece->is == PieceIs::copper ? p.copper
                                    : p.things)
        .push_back(k);
  }
  return p;
}

/// A device or item of a run.
Subject thing_of(const Subject& run, const PieceBranch& piece) {
  return piece.is == PieceIs::device ? run.protection(piece.number) : run.inline_item(piece.number);
}

void add_runs(Work& w) {
  const auto& parts = w.first().parts();
  const auto sound = [&](const std::vector<std::size_t>& of) {
    if (!of.empty() && parts[of.front()].spread > 0.0)
      w.sound.push_back(scale_of(of, parts[of.front()].spread));
  };
  for (std::size_t i = 0; i < w.d->runs.size(); ++i) {
    const Subject whole = subject_of(w.d, w.d->runs[i]);
    std::vector<std::size_t> both;
    for (const Pole pole : {Pole::outgoing, Pole::return_}) {
      const PoleParts p = pole_parts_of(w, i, pole);
      if (p.lugs.empty()) continue;
      const Subject element = pole == Pole::outgoing ? whole.outgoing() : whole.back();
      if (!w.live(p.carrier)) {
        w.out.could_hide.push_back({element, std::nullopt});
        for (const std::size_t k : p.things)
          w.out.could_hide.push_back({thing_of(whole, *parts[k].piece), std::nullopt});
        continue;
      }
      sound(p.lugs);
      sound(p.copper);
      const RunId id{int(i)};
      w.candidates.push_back({Cause::Is::joint, element, joint_at(p.lugs.front()), id, pole});
      w.candidates.push_back(
          {Cause::Is::conductor, element, scale_of(p.copper, conductor_range, true), id, pole});
      for (const std::size_t k : p.things) {
        sound({k});
        const PieceBranch& piece = *parts[k].piece;
        w.candidates.push_back({piece.is == PieceIs::device ? Cause::Is::device : Cause::Is::item,
                                thing_of(whole, piece), scale_of({k}, device_range, true), id,
                                pole});
      }
      both.insert(both.end(), p.copper.begin(), p.copper.end());
      if (pole == Pole::return_ && both.size() > p.copper.size())
        w.candidates.push_back({Cause::Is::conductor, whole, scale_of(both, conductor_range, true),
                                id, Pole::outgoing});
    }
  }
  for (std::size_t k = 0; k < parts.size(); ++k) {
    if (parts[k].piece) continue;
    const bool link = w.d->bank && parts[k].carrier < 2 * std::size_t(w.d->bank->parallel);
    if (!w.live(parts[k].carrier)) {
      if (link) w.out.could_hide.push_back({subject_of_link(w.d, parts[k].carrier), std::nullopt});
      continue;
    }
    sound({k});
    if (link)
      w.candidates.push_back(
          {Cause::Is::link, subject_of_link(w.d, parts[k].carrier), joint_at(k), std::nullopt});
  }
}

template <class Q> double half_of(const Spread<Q>& s) { return 0.5 * (s.high - s.low).value(); }

Unknown open_of(std::vector<std::size_t> feeds, double sd, std::optional<std::size_t> in_case) {
  return {Unknown::Is::open, std::move(feeds), in_case, 0.0, sd};
}

/// How far off a resting voltage that was measured may be: by the gain of the meter, alike in every
/// case, and by what differs from reading to reading.
struct RestNoise {
  double alike, scattered;
};
RestNoise rest_noise_of(const MeasuredCase& given) {
  const double share = 0.5 * double(given.meter.voltage) * given.load.resting->value();
  return {std::sqrt(1.0 - from_reading_to_reading * from_reading_to_reading) * share,
          std::hypot(from_reading_to_reading * share, 0.5 * given.meter.volts_least.value())};
}

/// The bank rests at one voltage for all cases of a sheet; from case to case there is only what the
/// meter scatters, or what a test of some minutes leaves behind where it was not measured again.
void add_rest(Work& w, const std::vector<std::size_t>& batteries) {
  double alike = half_of(w.first().open()[batteries.front()]) / half_a_band;
  bool measured = false;
  for (const MeasuredCase& given : w.given)
    if (given.load.resting) {
      measured = true;
      alike = std::hypot(rest_together, rest_noise_of(given).alike);
    }
  w.sound.push_back(open_of(batteries, alike, {}));
  for (std::size_t c = 0; c < w.cases.size(); ++c) {
    const bool own = w.given[c].load.resting.has_value();
    if (own || w.cases.size() > 1)
      w.sound.push_back(
          open_of(batteries, own ? rest_noise_of(w.given[c]).scattered : rest_between_cases, c));
  }
  w.candidates.push_back({Cause::Is::resting, design::subject_of_bank(),
                          open_of(batteries, resting_range_of_fault, {}), std::nullopt});
  for (std::size_t n = 0; n < batteries.size(); ++n) {
    w.sound.push_back(open_of({batteries[n]}, measured ? rest_apart : rest_apart_unmeasured, {}));
    if (batteries.size() < 2) continue;
    w.candidates.push_back({Cause::Is::resting, design::subject_of_bank().battery(n + 1),
                            open_of({batteries[n]}, resting_range_of_fault, {}), std::nullopt});
  }
}

void add_source_candidates(Work& w) {
  std::vector<std::size_t> batteries;
  for (const int b : w.first().wired().batteries) batteries.push_back(std::size_t(b));
  const auto& feeds = w.first().expected().feeds;
  for (std::size_t i = 0; i < feeds.size(); ++i) {
    const auto& spread = w.first().internal()[i];
    const double sd = half_of(spread) / std::max(spread.expected.value(), 1e-9) / half_a_band;
    const auto battery = std::find(batteries.begin(), batteries.end(), i);
    const bool of_bank = battery != batteries.end();
    if (w.d->bank && !of_bank) continue;  // not plugged in
    w.sound.push_back({Unknown::Is::internal, {i}, {}, 0.0, std::max(sd, least_battery_spread)});
    const Subject source =
        of_bank ? design::subject_of_bank().battery(std::size_t(battery - batteries.begin()) + 1)
                : Subject(Subject::Kind::feed, std::to_string(i), Subject::Part::battery, i);
    w.candidates.push_back({Cause::Is::battery,
                            source,
                            {Unknown::Is::internal, {i}, {}, 0.0, device_range, true},
                            std::nullopt});
  }
  if (w.d->bank) add_rest(w, batteries);
  else
    for (std::size_t c = 0; c < w.cases.size(); ++c)
      for (std::size_t i = 0; i < feeds.size(); ++i)
        w.sound.push_back(
            open_of({i}, std::max(half_of(w.cases[c].open()[i]), 0.01) / half_a_band, c));
}

void add_meters(Work& w) {
  const double alike = std::sqrt(1.0 - from_reading_to_reading * from_reading_to_reading);
  for (std::size_t c = 0; c < w.cases.size(); ++c) {
    const Meter& meter = w.given[c].meter;
    for (const Range range : {Range::volts, Range::drops, Range::clamp}) {
      const double share = double(range == Range::clamp ? meter.current : meter.voltage);
      if (share > 0.0)
        w.sound.push_back({Unknown::Is::gain, {std::size_t(range)}, c, 0.0, 0.5 * alike * share});
    }
  }
}

void add_load_candidates(Work& w) {
  std::vector<bool> known;
  for (const CaseModel& c : w.cases)
    for (std::size_t i = 0; i < c.loads().size(); ++i) {
      known.resize(std::max(known.size(), i + 1));
      const auto& load = c.loads()[i];
      if (known[i] || load.expected.value() == 0.0) continue;
      known[i] = true;
      const double sd = half_of(load) / std::abs(load.expected.value()) / half_a_band;
      w.sound.push_back({Unknown::Is::load, {i}, {}, 0.0, std::max(sd, 1e-3)});
      w.candidates.push_back({Cause::Is::load,
                              subject_of_load(w.d, w.first().wired(), i),
                              {Unknown::Is::load, {i}, {}, 0.0, load_range, true},
                              std::nullopt});
    }
}

}  // namespace

void add_unknowns(Work& w) {
  add_runs(w);
  add_source_candidates(w);
  add_load_candidates(w);
  add_meters(w);
}

double sd_of(const Meter& meter, const Spot& spot, double value) {
  const double share = from_reading_to_reading *
                       double(spot.clamp ? meter.current : meter.voltage) * std::abs(value);
  const double least = spot.clamp                          ? meter.current_least.value()
                       : spot.kind == Reading::Kind::posts ? meter.volts_least.value()
                                                           : meter.drops_least.value();
  return 0.5 * std::hypot(share, least);
}

double anywhere(const Row& row, const ReadPoint& read) {
  const double usual = std::abs(read.expected.si);
  if (row.spot.clamp) return std::max(5.0, 2.0 * usual);
  return row.spot.kind == Reading::Kind::posts ? 1.0 : std::max(0.05, 3.0 * usual);
}

double log_misread(std::size_t readings) { return std::log(misread / double(readings)); }

void add_wrong_readings(Work& w, const std::vector<Row>& rows) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const bool reversed = rows[i].measured < -3.0 * rows[i].sd;
    w.candidates.push_back({reversed ? Cause::Is::reversed : Cause::Is::reading,
                            rows[i].spot.point.path,
                            {},
                            std::nullopt,
                            Pole::outgoing,
                            i});
  }
  double faults = 0;
  for (const Candidate& c : w.candidates)
    if (!is_of_reading(c)) faults += 1;
  for (Candidate& c : w.candidates)
    c.log_prior = is_of_reading(c) ? log_misread(rows.size()) : -std::log(faults);
}

}  // namespace housepower::wiring::inside
