// SPDX-License-Identifier: Apache-2.0
// A page computes in one thread of its own, and shows itself how long it takes: the other half of
// threads.hpp, instead of threads.cpp.
#include "../cli/threads.hpp"

namespace housepower::cli {

std::ostream* progress_stream() { return nullptr; }

Workers::Workers(std::ostream* progress, std::string_view what)
    : progress_(progress), what_(what), began_(0.0) {}

Workers::~Workers() = default;

energy::Each Workers::each() {
  return [this](int count, const std::function<void(int)>& f) { run(count, f); };
}

void Workers::run(int count, const std::function<void(int)>& f) {
  for (int i = 0; i < count; ++i) f(i);
  done_ += count;
}

}  // namespace housepower::cli
