// SPDX-License-Identifier: Apache-2.0
#include "messages.hpp"

#include <utility>

#include "housepower/reading/shown.hpp"

namespace housepower::cli {

void Messages::hand_on() { to_ << with_escapes(std::exchange(line_, {}), "\n"); }

Messages::int_type Messages::overflow(int_type c) {
  if (traits_type::eq_int_type(c, traits_type::eof())) return traits_type::not_eof(c);
  const char one = traits_type::to_char_type(c);
  return xsputn(&one, 1), c;
}

std::streamsize Messages::xsputn(const char* text, std::streamsize length) {
  line_.append(text, std::size_t(length));
  if (line_.ends_with('\n')) hand_on();
  return length;
}

int Messages::sync() {
  to_.flush();
  return 0;
}

}  // namespace housepower::cli
