// SPDX-License-Identifier: Apache-2.0
// Where the time of `check` goes, on the largest example: tables, design, the two engines, rules.
#include <benchmark/benchmark.h>

#include <fstream>
#include <iterator>
#include <stdexcept>

#include "housepower/checks/rule.hpp"
#include "housepower/design/open.hpp"

namespace {

using namespace housepower;

const std::string example = HOUSEPOWER_SOURCE_DIR "/examples/quondelay.toml";

std::optional<std::string> read_file(std::string_view path) {
  std::ifstream file{std::string(path), std::ios::binary};
  if (!file) return std::nullopt;
  return std::string(std::istreambuf_iterator<char>(file), {});
}

/// The example with what it stands on; a bench that cannot read it says so and stops.
struct Van {
  Diagnostics diagnostics;
  Node node;
  tables::Tables tables;
  design::Opened opened;
  Van()
      : node(design::read_design(example, read_file, {}, diagnostics).value()),
        tables(tables::read_tables(tables::embedded_tables(), design::needed_by(node), diagnostics)
                   .value()),
        opened(design::open_design(node, tables, Defaults::ordinary, diagnostics).value()) {}
};
const Van& van() {
  static const Van one;
  return one;
}

void read_the_file(benchmark::State& state) {
  Diagnostics diagnostics;
  for (auto _ : state)
    benchmark::DoNotOptimize(design::read_design(example, read_file, {}, diagnostics));
}
BENCHMARK(read_the_file);

void read_the_tables(benchmark::State& state) {
  Diagnostics diagnostics;
  const auto needed = design::needed_by(van().node);
  for (auto _ : state)
    benchmark::DoNotOptimize(tables::read_tables(tables::embedded_tables(), needed, diagnostics));
}
BENCHMARK(read_the_tables);

void resolve_the_design(benchmark::State& state) {
  Diagnostics diagnostics;
  for (auto _ : state)
    benchmark::DoNotOptimize(
        design::resolve(van().opened.document, van().tables, Defaults::ordinary, diagnostics));
}
BENCHMARK(resolve_the_design);

void assess_the_energy(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(energy::assess(van().opened.design));
}
BENCHMARK(assess_the_energy);

void assess_the_wiring(benchmark::State& state) {
  const auto cases = checks::load_cases(van().opened.design, energy::assess(van().opened.design));
  for (auto _ : state) benchmark::DoNotOptimize(wiring::assess(van().opened.design, cases));
}
BENCHMARK(assess_the_wiring);

void check_the_whole(benchmark::State& state) {
  for (auto _ : state)
    benchmark::DoNotOptimize(checks::check(van().opened.document, van().opened.design));
}
BENCHMARK(check_the_whole);

}  // namespace
