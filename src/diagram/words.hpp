// SPDX-License-Identifier: Apache-2.0
// What stands in words at places and conductors of a diagram, and how much room it and the symbols
// take.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "piece.hpp"

namespace housepower::diagram {

/// A line of text that has no place yet.
struct Words {
  DiagramLabel::Role role;
  std::string text;
  double most;
  checks::Verdict verdict = checks::Verdict::pass;
  std::string subject{};  // where it names one
  [[nodiscard]] double width() const {
    return std::min(most, text_width(text, size_of(role), is_bold(role))) +
           (role == DiagramLabel::Role::flag ? 12.0 : 0.0);
  }
};

struct SymbolSize {
  double width, height;
};
[[nodiscard]] SymbolSize size_of(Symbol);
/// As the legend calls it.
[[nodiscard]] std::string_view name_of(Symbol);

[[nodiscard]] double widest(const std::vector<Words>&);
/// Its name and what follows.
[[nodiscard]] std::vector<Words> words_of(const PlaceOnDiagram&);
/// What stands under a conductor, beside the names of its devices.
[[nodiscard]] std::vector<Words> under(const Wire&);
[[nodiscard]] Words label_words(const Wire&);
[[nodiscard]] Words figure_words(const Wire&);
/// Of a device on a conductor with its name, of all of them, and of the words above.
[[nodiscard]] double slot_width(const OnWire&);
[[nodiscard]] double slots_width(const Wire&);
[[nodiscard]] double over_width(const Wire&);
[[nodiscard]] bool has_names(const Wire&);
[[nodiscard]] bool is_device(const PlaceOnDiagram&);

}  // namespace housepower::diagram
