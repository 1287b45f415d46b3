// SPDX-License-Identifier: Apache-2.0
#include "housepower/reading/digest.hpp"

#include <cstdint>

namespace housepower {

std::string digest_of(std::span<const std::string> texts) {
  std::uint64_t hash = 0xcbf29ce484222325u;
  for (const auto& text : texts)
    for (const char c : text + '\0') hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3u;
  std::string digits(16, '0');
  for (std::size_t i = 16; i-- > 0; hash >>= 4) digits[i] = "0123456789abcdef"[hash & 15u];
  return digits;
}

}  // namespace housepower
