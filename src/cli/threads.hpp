// SPDX-License-Identifier: Apache-2.0
// Years of a simulation on all cores, with a word on stderr where it takes more than a second. The
// answer does not depend on how many there are: each year writes to its own place.
#pragma once

#include <ostream>

#include "housepower/energy/stay.hpp"

namespace housepower::cli {

/// `progress`: where to tell how far it is; null where nobody watches. It is wiped out at the end.
class Workers {
public:
  explicit Workers(std::ostream* progress);
  ~Workers();
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;
  [[nodiscard]] energy::Each each();

private:
  void run(int count, const std::function<void(int)>& f);
  void tell();
  std::ostream* progress_;
  double began_, told_ = 0.0;
  long done_ = 0;
};

/// Standard error is a terminal, and may be written over.
[[nodiscard]] std::ostream* progress_stream();

}  // namespace housepower::cli
