// SPDX-License-Identifier: Apache-2.0
// What holds of every answer, whatever is asked: it comes in time, has an exit code of a user's, is
// sound JSON, and holds no number that is none.
#pragma once

#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string>
#include <string_view>

#include "housepower/page/json_read.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::fuzz {

inline void require(bool good, const char* what = "") {
  if (good) return;
  std::fprintf(stderr, "does not hold: %s\n", what);
  std::abort();
}

/// Time of the processor, not of the clock: other programs do not count.
class InTime {
public:
  explicit InTime(double seconds) : seconds_(seconds) {}
  InTime(const InTime&) = delete;
  InTime& operator=(const InTime&) = delete;
  ~InTime() { require(double(std::clock() - begin_) <= seconds_ * CLOCKS_PER_SEC, "in time"); }

private:
  double seconds_;
  std::clock_t begin_ = std::clock();
};

/// What takes longer hangs. The largest answer takes half a second, on a machine that others use four
/// times that, with sanitizers twenty times.
#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define HOUSEPOWER_SANITIZED
#endif
#endif
#ifdef HOUSEPOWER_SANITIZED
inline constexpr double soon = 20.0;
#else
inline constexpr double soon = 3.0;
#endif

/// "nan" or "inf" as a word of its own.
inline bool holds_no_number(std::string_view text) {
  const auto letter = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
  };
  for (const std::string_view word : {"nan", "inf"})
    for (auto at = text.find(word); at != text.npos; at = text.find(word, at + 1))
      if ((at == 0 || !letter(text[at - 1])) && (at + 3 >= text.size() || !letter(text[at + 3])))
        return true;
  return false;
}

/// Each at a line of its file, with a word on what is wrong.
inline void require_sound(const Diagnostics& diagnostics) {
  for (const auto& d : diagnostics.all) {
    require(!d.message.empty(), "a diagnostic has a message");
    require(d.place.line >= 0 && d.place.column >= 0 && d.place.width >= 1, "a place is one");
  }
}

inline std::string quoted_json(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    char code[8];
    if (static_cast<unsigned char>(c) < 0x20 || c == '"' || c == '\\')
      (void)std::snprintf(code, sizeof code, "\\u%04x", unsigned(static_cast<unsigned char>(c))),
          out += code;
    else out += c;
  }
  return out + "\"";
}

}  // namespace housepower::fuzz
