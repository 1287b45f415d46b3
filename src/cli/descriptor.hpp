// SPDX-License-Identifier: Apache-2.0
// An open file of the machine, closed with it.
#pragma once

#include <unistd.h>

#include <utility>

namespace housepower::cli {

class Descriptor {
public:
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  /// Negative where it could not be opened.
  [[nodiscard]] int number() const { return number_; }

private:
  int number_;
};

}  // namespace housepower::cli
