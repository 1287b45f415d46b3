// SPDX-License-Identifier: Apache-2.0
// Many designs, at their own places or at many, each as a row of one table; whole or in parts.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "housepower/answers/opening.hpp"
#include "housepower/energy/stay.hpp"
#include "housepower/range/range.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

struct RangeFile {
  std::string name;
  bool asked_for = false;  // by its name: then it has to be a design
};

/// Of the designs in the order of the files each at every place and in every month, in the order in
/// which these are asked; that is the order of the rows.
struct RangeAsked {
  range::RowStays stays{};
  std::vector<std::string> set{};               // overrides of each design
  std::vector<std::string> places{}, months{};  // town_named, name_of_month; none: as it states
  std::vector<std::string> tables{};            // texts of tables of one's own
};

/// The part number K of N: as many rows as in the others, or one fewer.
struct Part {
  std::size_t number = 1, of = 1;
};
/// Of so many rows those of a part, counted from 0.
struct RowsOfPart {
  std::size_t first = 0, end = 0;
};
[[nodiscard]] RowsOfPart rows_of(const Part&, std::size_t rows);

struct RangeReport {
  struct LeftOut {
    std::string file, why;
  };
  struct PartOf {
    Part part{};
    RowsOfPart holds{};
    std::size_t rows = 0;  // of the whole
    std::string question;  // a digest of designs, tables and options: the same for all parts
  };
  std::vector<range::RangeRow> rows;
  range::Simulate simulate = range::Simulate::promised;
  int years = 0;                       // of weather behind a stay
  std::vector<LeftOut> left_out;       // files that are no design
  int designs = 0, all_rows = 0;       // before the conditions
  int places = 0, months = 0;          // that were asked for
  bool unread = false;                 // a file could not be read at all
  std::vector<std::string> kept{};     // files that designs name, though no row needs them
  std::vector<std::string> not_known;  // files of which it cannot be said whether they hold
  std::optional<PartOf> part{};
};

/// A catalogue of parts, or a pack that stands on no design of its own; empty for a design.
[[nodiscard]] std::string why_no_design(const Node&);

/// All rows, or those of a part: then every file is looked into, for what is no design is no row. The
/// row of one that cannot be read says so in one line, with its place. A design is read once for all
/// its places and months.
[[nodiscard]] RangeReport range_of(std::span<const RangeFile>, const RangeAsked&,
                                   const std::optional<Part>&,
                                   const std::shared_ptr<const tables::Tables>&, const FileReader&,
                                   const energy::Each& = energy::one_after_another);

}  // namespace housepower::answers
