// SPDX-License-Identifier: Apache-2.0
// Ten thousand stays of thirty days of the largest example, one plant, on one core: time, memory,
// and what of it the kernel takes; beside it the bare recursion of a charge, which no kernel of
// this shape undercuts, and the same in NumPy. Others may use the machine meanwhile: all times are
// of the processor, and the least of all rounds counts.
#include <benchmark/benchmark.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>

#include "housepower/design/open.hpp"
#include "housepower/energy/stay.hpp"

namespace {

using namespace housepower;
using namespace housepower::energy;

constexpr int years = 334, month = 10, starts = 30, days = 30, hours = days * 24;  // November
constexpr double stays = years * starts, all_hours = stays * hours;

std::optional<std::string> read_file(std::string_view path) {
  std::ifstream file{std::string(path), std::ios::binary};
  if (!file) return std::nullopt;
  return std::string(std::istreambuf_iterator<char>(file), {});
}

struct Van {
  Diagnostics diagnostics;
  Node node;
  tables::Tables tables;
  design::Opened opened;
  Van()
      : node(design::read_design(HOUSEPOWER_SOURCE_DIR "/examples/quondelay.toml", read_file, {},
                                 diagnostics)
                 .value()),
        tables(tables::read_tables(tables::embedded_tables(), design::needed_by(node), diagnostics)
                   .value()),
        opened(design::open_design(node, tables, Defaults::ordinary, diagnostics).value()) {}
};
const design::Design& van() {
  static const Van one;
  return one.opened.design;
}
Surroundings surroundings() { return {van(), weather_of(van(), years, 1).value()}; }
std::array<kernel::Plant, 1> plant() { return {plant_of(van(), van()->promise.bank_age).value()}; }
StayQuestion question() {
  StayQuestion q;
  q.month = month, q.longest_days = days;
  return q;
}

double processor_s() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return double(now.tv_sec) + 1e-9 * double(now.tv_nsec);
}

/// Runs f in all rounds; the counters are of the fastest.
template <class F> double least(benchmark::State& state, F f) {
  double seconds = 1e9;
  for (auto _ : state) {
    const double begin = processor_s();
    f();
    seconds = std::min(seconds, processor_s() - begin);
  }
  state.counters["s_for_10000"] = seconds / stays * 1e4;
  state.counters["ns_an_hour"] = seconds / all_hours * 1e9;
  state.counters["hours_a_s"] = all_hours / seconds;
  state.counters["scenario_years_a_s"] = all_hours / 8760.0 / seconds;
  return seconds;
}

/// Peak of a process that does nothing else than f, with the program and its tables, in MB.
template <class F> double peak_memory(F f) {
  const pid_t child = fork();
  if (child == 0) {
    f();
    _exit(0);
  }
  rusage used{};
  int status = 0;
  if (child < 0 || wait4(child, &status, 0, &used) < 0 || status != 0)
    throw std::logic_error("the measured process failed");
  return double(used.ru_maxrss) / 1024.0;
}

void with_their_weather(benchmark::State& state) {
  const auto all = [] {
    const auto p = plant();
    benchmark::DoNotOptimize(simulate(surroundings(), question(), p));
  };
  state.counters["peak_MB"] = peak_memory(all);
  least(state, all);
}
BENCHMARK(with_their_weather)->Unit(benchmark::kMillisecond)->MinTime(2.0);

void simulate_only(benchmark::State& state) {
  const Surroundings s = surroundings();
  const auto p = plant();
  least(state, [&] { benchmark::DoNotOptimize(simulate(s, question(), p)); });
}
BENCHMARK(simulate_only)->Unit(benchmark::kMillisecond)->MinTime(2.0);

/// The hours of all years, made beforehand.
struct Years {
  std::vector<Buffers> buffers{std::size_t(years)};
  std::vector<double> others;
  int patterns = 1;
  Years() {
    const Surroundings s = surroundings();
    patterns = s.patterns();
    others = s.others(s.charging(), days, 0);
    for (int y = 0; y < years; ++y)
      s.fill(y, month_begins[month], starts - 1 + days, buffers[std::size_t(y)]);
  }
};
const Years& all_years() {
  static const Years one;
  return one;
}

/// As many plants at once as the argument says: ages, doubts, sizes.
void kernel_only(benchmark::State& state) {
  const std::vector<kernel::Plant> plants(std::size_t(state.range(0)), plant().front());
  std::vector<kernel::Outcome> outcomes(plants.size());
  const double seconds = least(state, [&] {
    for (const Buffers& b : all_years().buffers)
      for (int start = 0; start < starts; ++start) {
        kernel::run(b.hours(all_years().others, all_years().patterns), start * 24, hours, plants,
                    outcomes);
        benchmark::DoNotOptimize(outcomes.data());
      }
  });
  state.counters["ns_an_hour_and_plant"] = seconds / all_hours / double(plants.size()) * 1e9;
}
BENCHMARK(kernel_only)->Arg(1)->Arg(2)->Arg(4)->Unit(benchmark::kMillisecond)->MinTime(2.0);

// ---- The bare recursion ----

struct Bare {
  double capacity_Wh = 0.0, charge_Wh = 0.0;
  std::vector<std::vector<double>> net_W;  // by year
};
const Bare& bare() {
  static const Bare one = [] {
    Bare b;
    b.capacity_Wh = plant().front().capacity_Wh;
    b.charge_Wh = b.capacity_Wh * plant().front().arrive;
    for (const Buffers& of_year : all_years().buffers) {
      auto& net = b.net_W.emplace_back();
      for (std::size_t h = 0; h < of_year.sun_W.size(); ++h)
        net.push_back(of_year.sun_W[h] - of_year.load_W[0][h]);
    }
    return b;
  }();
  return one;
}

/// How long a stay lasts where nothing counts but energy in and out: add, and hold between empty
/// and full.
double bare_length(const double* net_W, double charge, double capacity) {
  double lasted = -1.0;
  for (int h = 0; h < hours; ++h) {
    const double next = charge + net_W[h];
    if (next < 0.0 && lasted < 0.0) lasted = h - charge / net_W[h];
    charge = std::min(std::max(next, 0.0), capacity);
  }
  return lasted < 0.0 ? hours : lasted;
}
std::vector<double> bare_lengths() {
  std::vector<double> all;
  all.reserve(std::size_t(stays));
  for (const auto& net : bare().net_W)
    for (int start = 0; start < starts; ++start)
      all.push_back(
          bare_length(&net[std::size_t(start * 24)], bare().charge_Wh, bare().capacity_Wh));
  return all;
}
void bare_recursion(benchmark::State& state) {
  (void)bare();
  least(state, [] { benchmark::DoNotOptimize(bare_lengths()); });
}
BENCHMARK(bare_recursion)->Unit(benchmark::kMillisecond)->MinTime(2.0);

/// The bare recursion over all stays at once in NumPy, on the same weather. It compares its lengths
/// with ours, and times itself only where they are the same.
void against_numpy(benchmark::State& state) {
  char name[] = "/tmp/housepower-stay-XXXXXX";
  const int kept = mkstemp(name);
  if (kept < 0) throw std::logic_error("no file for the weather");
  close(kept);
  {
    std::ofstream file(name, std::ios::binary);
    const auto put = [&](const std::vector<double>& row) {
      file.write(reinterpret_cast<const char*>(row.data()),
                 std::streamsize(row.size() * sizeof(double)));
    };
    put({years, starts, hours, bare().charge_Wh, bare().capacity_Wh});
    for (const auto& net : bare().net_W) put(net);
    put(bare_lengths());
  }
  const std::string line =
      "/usr/bin/python3 '" HOUSEPOWER_SOURCE_DIR "/bench/stay.py' " + std::string(name);
  double theirs = 0.0;
  const double ours = least(state, [] { benchmark::DoNotOptimize(bare_lengths()); });
  FILE* pipe = popen(line.c_str(), "r");
  const bool said = pipe && std::fscanf(pipe, "%lf", &theirs) == 1;
  const bool well = pipe && pclose(pipe) == 0;
  std::remove(name);
  if (!said || !well) return state.SkipWithError("NumPy is missing here, or its lengths differ");
  state.counters["numpy_s_for_10000"] = theirs / stays * 1e4;
  state.counters["times_bare"] = theirs / ours;
}
BENCHMARK(against_numpy)->Unit(benchmark::kMillisecond)->MinTime(2.0);

}  // namespace
