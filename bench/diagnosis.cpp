// SPDX-License-Identifier: Apache-2.0
// How often a planted fault is found again from the readings of a test sheet, by kind, size and meter;
// how often a sound van is suspected; and how long one diagnosis takes. Vans are those of the examples,
// built at random within the tolerances of their parts (tests/wiring/simulated_van.hpp).
#include <benchmark/benchmark.h>

#include <fstream>
#include <iterator>
#include <memory>

#include "housepower/design/open.hpp"
#include "wiring/simulated_van.hpp"

namespace {

using namespace housepower;
using test::Planted;
using wiring::Cause;

/// A design under one of its cases.
struct Line {
  std::unique_ptr<tables::Tables> tables;
  std::optional<design::Opened> opened;
  wiring::Assessment found;
  std::optional<test::SimulatedVan> van;
  [[nodiscard]] const design::Design& design() const { return opened->design; }

  Line(const std::string& file, std::size_t which) {
    Diagnostics problems;
    tables = std::make_unique<tables::Tables>(
        *tables::read_tables(tables::embedded_tables(), {}, problems));
    const FileReader disk = [](std::string_view path) -> FileContent {
      std::ifstream stream(std::string(path), std::ios::binary);
      return std::optional(std::string(std::istreambuf_iterator<char>(stream), {}));
    };
    opened = design::open_design(HOUSEPOWER_SOURCE_DIR "/examples/" + file, disk, {}, *tables,
                                 Defaults::ordinary, problems);
    if (!opened) throw std::logic_error("an example does not open");
    std::vector<wiring::LoadCase> cases;
    for (const auto& c : design()->cases) {
      wiring::LoadCase one;
      one.name = c.name;
      one.running = c.running;
      one.temperature = celsius(20);
      cases.push_back(one);
    }
    found = wiring::assess(design(), cases);
    wiring::TestLoad load;
    load.name = cases.at(which).name;
    load.running = cases.at(which).running;
    load.resting = 13.3 * volt;
    van.emplace(design(), found, load);
  }
};

std::vector<std::unique_ptr<Line>>& lines() {
  static std::vector<std::unique_ptr<Line>> all;
  if (all.empty()) {
    all.push_back(std::make_unique<Line>("marrowick.toml", 0));
    all.push_back(std::make_unique<Line>("pellibri.toml", 0));
    all.push_back(std::make_unique<Line>("quondelay.toml", 0));
  }
  return all;
}

wiring::Meter meter_of(std::int64_t tenths_of_a_percent) {
  wiring::Meter meter;
  meter.voltage = double(tenths_of_a_percent) * 1e-3;
  return meter;
}

/// Where it may be found: a conductor that is wrong on both poles is wrong on either.
std::vector<std::string> elements_of(const design::Design& d, const Planted& fault) {
  if (fault.is == Planted::Is::weak_battery)
    return {"bank/battery/" + std::to_string(fault.run + 1)};
  const auto& run = d->runs[fault.run];
  const std::string path = "run/" + run.name;
  if (fault.is == Planted::Is::reversed) return {"appliance/" + d[run.to].name};
  if (fault.is == Planted::Is::wrong_fuse || fault.which == 2) return {path + "/protection/0"};
  if (fault.is != Planted::Is::joint) return {path, path + "/outgoing", path + "/return"};
  return {path + (fault.pole == design::Pole::outgoing ? "/outgoing" : "/return")};
}

bool is_among(const std::vector<std::string>& names, const std::string& one) {
  return std::find(names.begin(), names.end(), one) != names.end();
}

struct Score {
  int vans = 0, first = 0, in_three = 0, together = 0, silent = 0, wrong = 0;
  void add(const std::vector<std::string>& where, const wiring::Diagnosis& found) {
    ++vans;
    const auto& causes = found.causes;
    const std::size_t ahead = found.together ? 2 : 1;
    bool is_first = false, is_three = false, is_told = false;
    for (std::size_t i = 0; i < causes.size(); ++i) {
      const bool here =
          is_among(where, causes[i].it.element.text()) && (causes[i].it.is != Cause::Is::reading);
      is_first = is_first || (here && i < ahead);
      is_three = is_three || (here && i < 3);
      is_told = is_told || here;
      for (const auto& name : causes[i].cannot_be_told_from)
        is_told = is_told || is_among(where, name.text());
    }
    first += is_first;
    in_three += is_three;
    together += is_told;
    silent += causes.empty();
    wrong += !causes.empty() && !is_told;
  }
  void show(benchmark::State& state) const {
    const auto share = [&](int n) { return vans == 0 ? 0.0 : 100.0 * double(n) / double(vans); };
    state.counters["faults"] = double(vans);
    state.counters["first_%"] = share(first);
    state.counters["three_%"] = share(in_three);
    state.counters["named_%"] = share(together);
    state.counters["silent_%"] = share(silent);
    state.counters["other_%"] = share(wrong);
  }
};

struct Fault {
  Planted::Is is;
  double from, to;     // ohms or factor
  double least, most;  // amperes that it carries
};

/// A fault of that kind at a random place of a van; nothing: it has none.
template <class Random>
std::optional<Planted> somewhere(const Line& line, const Fault& kind, Random& random) {
  const auto pick = [&](std::size_t n) { return std::size_t(random() % n); };
  for (int tries = 0; tries < 400; ++tries) {
    Planted fault;
    fault.is = kind.is;
    fault.size = kind.from + (kind.to - kind.from) * double(random() >> 11U) * 0x1.0p-53;
    if (kind.is == Planted::Is::weak_battery) {
      fault.run = pick(std::size_t(line.design()->bank->parallel));
      return fault;
    }
    fault.run = pick(line.design()->runs.size());
    const auto& run = line.design()->runs[fault.run];
    fault.pole = pick(2) == 0 ? design::Pole::outgoing : design::Pole::return_;
    if (kind.is == Planted::Is::joint) fault.which = int(pick(3));
    const bool needs_device = kind.is == Planted::Is::wrong_fuse || fault.which == 2;
    if (needs_device) fault.pole = design::Pole::outgoing;
    if (needs_device && run.protection.empty()) continue;
    if (kind.is == Planted::Is::reversed &&
        line.design()[run.to].kind != design::resolved::PostKind::appliance)
      continue;
    if (run.back.chassis && fault.pole == design::Pole::return_) continue;
    const double i = line.van->current(fault.run, fault.pole);
    if (i >= kind.least && i < kind.most) return fault;
  }
  return std::nullopt;
}

wiring::Diagnosis diagnosed(const Line& line, const wiring::MeasuredCase& read) {
  auto answer = wiring::diagnose(line.design(), line.found, {read});
  if (auto* none = std::get_if<wiring::NoDiagnosis>(&answer)) throw std::logic_error(none->why);
  return std::get<wiring::Diagnosis>(std::move(answer));
}

/// `faults` of that kind in each of so many vans.
void planted(benchmark::State& state, Fault kind, int faults, test::Clamps clamps) {
  std::mt19937_64 random(std::uint64_t(state.range(1)));
  Score score;
  for (auto _ : state)
    for (int v = 0; v < int(state.range(1)); ++v) {
      const Line& line = *lines()[std::size_t(v) % lines().size()];
      std::vector<Planted> all;
      for (int n = 0; n < faults; ++n)
        if (auto one = somewhere(line, kind, random)) all.push_back(*one);
      if (all.size() == 2 &&
          elements_of(line.design(), all[0]) == elements_of(line.design(), all[1]))
        all.pop_back();
      if (all.empty()) continue;
      const auto read = lines()[std::size_t(v) % lines().size()]->van->read(
          random, meter_of(state.range(0)), all, clamps);
      if (!read) continue;
      const auto found = diagnosed(line, *read);
      for (const Planted& fault : all) score.add(elements_of(line.design(), fault), found);
    }
  score.show(state);
}

void sound(benchmark::State& state) {
  std::mt19937_64 random(7);
  double vans = 0, alarms = 0;
  for (auto _ : state)
    for (int v = 0; v < int(state.range(1)); ++v) {
      Line& line = *lines()[std::size_t(v) % lines().size()];
      const auto read = line.van->read(random, meter_of(state.range(0)), {});
      if (!read) continue;
      vans += 1;
      const auto found = diagnosed(line, *read);
      alarms += found.causes.empty() && !found.unexplained ? 0 : 1;
    }
  state.counters["vans"] = vans;
  state.counters["alarms_%"] = 100.0 * alarms / vans;
}

constexpr double any = 1e9;
constexpr Fault joint_of(double milliohms, double least, double most) {
  return {Planted::Is::joint, milliohms * 1e-3, milliohms * 1e-3, least, most};
}
void meters(benchmark::internal::Benchmark* b) {
  for (const int meter : {5, 20}) b->Args({meter, 300});
  b->Iterations(1)->Unit(benchmark::kSecond);
}
BENCHMARK(sound)->Args({5, 2000})->Args({20, 2000})->Iterations(1)->Unit(benchmark::kSecond);
BENCHMARK_CAPTURE(planted, joint_2_5A, joint_of(2, 5, any), 1, test::Clamps::none)->Apply(meters);
BENCHMARK_CAPTURE(planted, joint_5_5A, joint_of(5, 5, any), 1, test::Clamps::none)->Apply(meters);
BENCHMARK_CAPTURE(planted, joint_10_5A, joint_of(10, 5, any), 1, test::Clamps::none)->Apply(meters);
BENCHMARK_CAPTURE(planted, joint_20_5A, joint_of(20, 5, any), 1, test::Clamps::none)->Apply(meters);
BENCHMARK_CAPTURE(planted, joint_50_5A, joint_of(50, 5, any), 1, test::Clamps::none)->Apply(meters);
BENCHMARK_CAPTURE(planted, joint_10_1A, joint_of(10, 1, 5), 1, test::Clamps::none)->Apply(meters);
BENCHMARK_CAPTURE(planted, joint_50_1A, joint_of(50, 1, 5), 1, test::Clamps::none)->Apply(meters);
BENCHMARK_CAPTURE(planted, two_joints_10_to_50_5A, Fault{Planted::Is::joint, 0.01, 0.05, 5, any}, 2,
                  test::Clamps::none)
    ->Apply(meters);
BENCHMARK_CAPTURE(planted, next_smaller, Fault{Planted::Is::thinner, 1.5, 1.67, 1, any}, 1,
                  test::Clamps::none)
    ->Apply(meters);
BENCHMARK_CAPTURE(planted, longer, Fault{Planted::Is::longer, 1.2, 1.5, 1, any}, 1,
                  test::Clamps::none)
    ->Apply(meters);
BENCHMARK_CAPTURE(planted, weak_battery, Fault{Planted::Is::weak_battery, 2, 4, 0, any}, 1,
                  test::Clamps::none)
    ->Apply(meters);
BENCHMARK_CAPTURE(planted, weak_battery_by_clamp, Fault{Planted::Is::weak_battery, 2, 4, 0, any}, 1,
                  test::Clamps::batteries)
    ->Apply(meters);
BENCHMARK_CAPTURE(planted, wrong_fuse, Fault{Planted::Is::wrong_fuse, 0.3, 4, 1, any}, 1,
                  test::Clamps::none)
    ->Apply(meters);
BENCHMARK_CAPTURE(planted, reversed, Fault{Planted::Is::reversed, 1, 1, 0.1, any}, 1,
                  test::Clamps::none)
    ->Apply(meters);

/// Of the largest example, with two joints that are bad.
void one_diagnosis(benchmark::State& state) {
  std::mt19937_64 random(3);
  Line& line = *lines().back();
  const auto read = line.van->read(random, meter_of(5),
                                   {{Planted::Is::joint, 3, design::Pole::outgoing, 0.01, 0},
                                    {Planted::Is::joint, 4, design::Pole::return_, 0.02, 1}});
  for (auto _ : state) benchmark::DoNotOptimize(diagnosed(line, *read));
}
BENCHMARK(one_diagnosis)->Unit(benchmark::kMillisecond);

}  // namespace
