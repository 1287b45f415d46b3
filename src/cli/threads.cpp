// SPDX-License-Identifier: Apache-2.0
// A handful of threads that take what there is one after another.
#include "threads.hpp"

#include <unistd.h>

#include <atomic>
#include <chrono>
#include <iostream>
#include <thread>

namespace housepower::cli {
namespace {

double seconds_now() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

std::ostream* progress_stream() { return isatty(STDERR_FILENO) != 0 ? &std::cerr : nullptr; }

Workers::Workers(std::ostream* progress, std::string_view what)
    : progress_(progress), what_(what), began_(seconds_now()) {}

Workers::~Workers() {
  if (told_ > 0.0) *progress_ << "\r\x1b[K" << std::flush;
}

energy::Each Workers::each() {
  return [this](int count, const std::function<void(int)>& f) { run(count, f); };
}

void Workers::tell(long done) {
  const double at = seconds_now();
  if (!progress_ || at - began_ < 1.0 || at - told_ < 0.2) return;
  told_ = at;
  const auto number = what_.find("{}");
  *progress_ << "\r" << what_.substr(0, number) << done << what_.substr(number + 2) << std::flush;
}

void Workers::run(int count, const std::function<void(int)>& f) {
  std::atomic<int> next{0};
  const UnitsShown units = units_shown();
  const auto work = [&] {
    const ShowUnits shows(units);
    for (int i = next++; i < count; i = next++) f(i);
  };
  const auto work_and_tell = [&] {
    for (int i = next++; i < count; i = next++) f(i), tell(done_ + i);
  };
  const int cores = std::min(count, int(std::max(1u, std::thread::hardware_concurrency())));
  std::vector<std::thread> others;
  for (int i = 1; i < cores; ++i) others.emplace_back(work);
  work_and_tell();
  for (auto& thread : others) thread.join();
  done_ += count;
  tell(done_);
}

}  // namespace housepower::cli
