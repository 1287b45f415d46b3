// SPDX-License-Identifier: Apache-2.0
// What was typed after an option, piece by piece, and the names that it may have meant.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "housepower/reading/node.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/phrases.hpp"

namespace housepower::answers {

using detail::in_small_letters;

/// Without the blanks around it.
[[nodiscard]] std::string_view trimmed(std::string_view text);

struct Piece {
  std::string_view text;
  Place place;
};
class Typed {
public:
  /// `option` as a message names it: "--add", or for the second "--add (2)". The text outlives it.
  Typed(std::string option, std::string_view whole) : option_(std::move(option)), whole_(whole) {}
  [[nodiscard]] Piece piece(std::string_view part) const;
  [[nodiscard]] Piece whole() const { return piece(whole_); }
  [[nodiscard]] std::vector<Piece> between_commas(std::string_view part) const;

private:
  std::string option_;
  std::string_view whole_;
};
/// The second and later of an option are numbered.
[[nodiscard]] std::string numbered(const char* option, std::size_t number);

/// A key of the design as it was typed.
[[nodiscard]] Node::Entry entry(const char* key, const Piece& piece);

/// The names in a list of the design: "appliance", "inverter".
[[nodiscard]] std::vector<std::string_view> names_in(const Node& design, std::string_view list);
/// The name among these that was meant: as written, in other letters, or the only one with that word.
[[nodiscard]] std::optional<std::string_view> meant(std::string_view typed,
                                                    const std::vector<std::string_view>& names);
/// The nearest of these names in whatever letters, as a question; empty where none is near.
[[nodiscard]] std::string perhaps(std::string_view typed,
                                  const std::vector<std::string_view>& names);

}  // namespace housepower::answers
