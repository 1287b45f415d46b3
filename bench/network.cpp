// SPDX-License-Identifier: Apache-2.0
// How the solver grows, on random networks with loops and parallel batteries: time, memory and the
// exponents of both; and its time beside that of ngspice, an independent circuit simulator.
#include <benchmark/benchmark.h>
#include <malloc.h>

#include <chrono>
#include <cstdint>
#include <stdexcept>

#include "reference/ngspice.hpp"
#include "wiring/networks.hpp"

namespace {

using namespace housepower;
using namespace housepower::wiring;

using Clock = std::chrono::steady_clock;
double seconds_since(Clock::time_point begin) {
  return std::chrono::duration<double>(Clock::now() - begin).count();
}

/// About so many runs of two poles; a run in seven closes a loop.
Network network_of_runs(std::int64_t runs, test::Loops loops = test::Loops::near_by) {
  test::Random random(20240501);
  return test::random_network(random, int(runs) * 6 / 7, 300.0, loops).n;
}

const OperatingPoint& solved(const Solution& s) {
  const auto* p = std::get_if<OperatingPoint>(&s);
  if (!p) throw std::logic_error("the bench's own network has no operating point");
  return *p;
}

double held() {  // bytes on the heap
  const auto now = mallinfo2();
  return double(now.uordblks) + double(now.hblkhd);
}

/// Of a solver and its solution.
double memory_of(const Network& n) {
  const double before = held();
  Solver solver(n);
  const auto solution = solver.solve(n);
  (void)solved(solution);
  return held() - before;
}

void solve_runs(benchmark::State& state, test::Loops loops) {
  const Network n = network_of_runs(state.range(0), loops);
  for (auto _ : state) benchmark::DoNotOptimize(solved(solve(n)));
  state.counters["MB"] = memory_of(n) / 1e6;
  state.counters["nodes"] = n.nodes;
}
void sizes(benchmark::internal::Benchmark* b) {
  b->Arg(125)->Arg(500)->Arg(2000)->Arg(10000)->Unit(benchmark::kMillisecond);
}
BENCHMARK_CAPTURE(solve_runs, loops_near_by, test::Loops::near_by)->Apply(sizes);
BENCHMARK_CAPTURE(solve_runs, loops_anywhere, test::Loops::anywhere)->Apply(sizes);

/// The power of the size with which time and memory grow from 500 to 10,000 runs.
void growth(benchmark::State& state, test::Loops loops) {
  const Network small = network_of_runs(500, loops), large = network_of_runs(10000, loops);
  double in_small = 0, in_large = 0;
  const auto timed = [](const Network& n) {
    const auto begin = Clock::now();
    benchmark::DoNotOptimize(solved(solve(n)));
    return seconds_since(begin);
  };
  for (auto _ : state) {
    for (int i = 0; i < 20; ++i) in_small += timed(small) / 20.0;
    in_large += timed(large);
  }
  const double size = std::log(double(large.nodes) / double(small.nodes));
  state.counters["time_exponent"] = std::log(in_large / in_small) / size;
  state.counters["memory_exponent"] = std::log(memory_of(large) / memory_of(small)) / size;
}
BENCHMARK_CAPTURE(growth, loops_near_by, test::Loops::near_by)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(growth, loops_anywhere, test::Loops::anywhere)->Unit(benchmark::kMillisecond);

/// The largest load of a network that collapses.
void find_the_largest_load(benchmark::State& state) {
  Network n = network_of_runs(state.range(0));
  n.loads.back().power = 1e6 * watt;
  for (auto _ : state)
    if (!std::holds_alternative<Collapse>(solve(n))) throw std::logic_error("it did not collapse");
}
BENCHMARK(find_the_largest_load)->Arg(125)->Arg(2000)->Unit(benchmark::kMillisecond);

/// Both on the same network, in turns. Of ngspice only its analysis counts, as it states it; not
/// the start of its process and the reading of its circuit.
void against_ngspice(benchmark::State& state) {
  if (!test::has_ngspice()) {
    state.SkipWithError("there is no ngspice here");
    return;
  }
  const Network n = network_of_runs(state.range(0));
  test::Circuit circuit;
  circuit.add(n);
  double ours = 0, theirs = 0;
  for (auto _ : state) {
    const auto begin = Clock::now();
    benchmark::DoNotOptimize(solved(solve(n)));
    ours += seconds_since(begin);
    const std::string said = test::Ngspice(circuit, "op\n").answer().said;
    const std::string_view words = "Total analysis time (seconds) = ";
    const auto at = said.find(words);
    if (at == said.npos) throw std::logic_error("ngspice states no time: " + said);
    theirs += std::atof(said.c_str() + at + words.size());
  }
  const double rounds = double(state.iterations());
  state.counters["ours_ms"] = 1e3 * ours / rounds;
  state.counters["ngspice_ms"] = 1e3 * theirs / rounds;
  state.counters["times"] = theirs / ours;
}
BENCHMARK(against_ngspice)
    ->Arg(125)
    ->Arg(500)
    ->Arg(2000)
    ->Iterations(5)
    ->Unit(benchmark::kMillisecond);

}  // namespace
