// SPDX-License-Identifier: Apache-2.0
// What is told on standard error, whoever tells it: no name in it acts on the terminal.
#pragma once

#include <ostream>
#include <streambuf>
#include <string>

namespace housepower::cli {

/// A stream that hands each whole line on to another, what acts unseen in it escaped
/// (reading/shown.hpp); the rest at its end. A streambuf, since that is what a stream is made of.
class Messages : private std::streambuf {
public:
  explicit Messages(std::ostream& to) : to_(to), stream_(this) {}
  Messages(const Messages&) = delete;
  Messages& operator=(const Messages&) = delete;
  ~Messages() override { hand_on(); }
  [[nodiscard]] std::ostream& stream() { return stream_; }

private:
  int_type overflow(int_type c) override;
  std::streamsize xsputn(const char* text, std::streamsize length) override;
  int sync() override;
  void hand_on();
  std::ostream& to_;
  std::string line_;
  std::ostream stream_;
};

}  // namespace housepower::cli
