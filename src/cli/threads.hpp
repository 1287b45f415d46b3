// SPDX-License-Identifier: Apache-2.0
// Years of a simulation, or designs of a range, on all cores, with a word on stderr where it takes
// more than a second. The answer does not depend on how many there are: each writes to its own place.
#pragma once

#include <ostream>
#include <string_view>

#include "housepower/energy/stay.hpp"

namespace housepower::cli {

/// `progress`: where to tell how far `what` is; null where nobody watches. It is wiped out at the end.
class Workers {
public:
  explicit Workers(std::ostream* progress,
                   std::string_view what = "simulating: {} years of stays so far");
  ~Workers();
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;
  [[nodiscard]] energy::Each each();

private:
  void run(int count, const std::function<void(int)>& f);
  void tell(long done);
  std::ostream* progress_;
  std::string_view what_;  // with {} for how many
  double began_, told_ = 0.0;
  long done_ = 0;
};

/// Standard error is a terminal, and may be written over.
[[nodiscard]] std::ostream* progress_stream();

}  // namespace housepower::cli
