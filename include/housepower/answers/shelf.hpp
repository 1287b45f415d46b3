// SPDX-License-Identifier: Apache-2.0
// The tables that answers look things up in, parsed once for many questions.
#pragma once

#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "housepower/reading/diagnostic.hpp"
#include "housepower/tables/tables.hpp"

namespace housepower::answers {

/// A table of a user's own, under its path in its folder: "ampacity/mine.toml".
struct TableText {
  std::string name, text;
};

/// Several threads may ask at once.
class Shelf {
public:
  /// The built-in tables, and texts that replace those of their name or add to them.
  explicit Shelf(std::vector<TableText> own = {}) : own_(std::move(own)) {}
  /// Tables that hold at least what is needed, read now or for an earlier question. Every text of
  /// one's own is read for its errors, needed or not; where there is one, nothing.
  [[nodiscard]] std::shared_ptr<const tables::Tables> tables(const tables::Needed&, Diagnostics&);

private:
  struct Kept {
    bool towns = false, views = false;
    std::string profile{}, ampacity{}, town{};
    std::shared_ptr<const tables::Tables> tables{};
    Diagnostics told{};
    [[nodiscard]] bool holds(const tables::Needed&) const;
  };
  std::vector<TableText> own_;
  std::mutex mutex_{};
  std::vector<Kept> kept_{};
};

}  // namespace housepower::answers
