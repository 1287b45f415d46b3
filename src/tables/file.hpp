// SPDX-License-Identifier: Apache-2.0
// One file of tables/: its passport in TOML, its numbers as comma-separated text blocks inside.
//
//   rows = """
//   size, plain [ohm/km], tinned [ohm/km] {s}, mark
//   0.22, 96,             99 {m},              s
//   """
//
// The first line of a block names the columns, with units in brackets; "-" or nothing is absent; a
// cell that holds a comma or ends in a brace stands in quotes. A letter in braces after a cell, in
// the column `mark`, or after the name of a column says that the value has another source, or a
// note: [marks.m]. The cell's own mark goes first, then the row's, then the column's; what a mark
// leaves out it takes from the file's passport. A block begins on the line after its quotes; it is
// cut out before the passport is parsed, since a TOML parser is slow with a hundred kilobytes.
#pragma once

#include <deque>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/reading/node.hpp"
#include "housepower/tables/tables.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::tables {

enum class FactorUse { ambient, grouping, square_root, withstand, lie };

/// Of a series whose table holds areas only: Ω·mm²/m at 20 °C.
struct ResistivityText {
  Ratio plain{}, tinned{};
  SourceKind kind{};
  std::string_view source, where;
};

/// The keys of a file, for all folders but rules/.
struct FileText {
  std::string_view name, title, source, edition, where, conditions, note;
  SourceKind kind{};
  std::string_view suffix;                    // of conductors: what follows the size in a name
  std::optional<StrandClass> strands;         // of conductors
  std::string_view plain;                     // of fuses: as the trade says it
  std::optional<Temperature> at;              // for which the resistances stand; else 20 °C
  std::optional<ResistivityText> resistance;  // where no resistances stand in the rows
  std::string_view sizes;                     // of ampacities: "mm2", "awg", or a series
  std::optional<Temperature> base_ambient;
  std::string_view lies, profile;      // of ampacities
  std::string_view ambient, grouping;  // factor tables; of grouping "name/column"
  std::optional<FactorUse> use;        // of factors
  std::optional<GroupingFactors::Counts> counts;
  const Node *marks = nullptr, *says = nullptr;
};

/// The text between the quotes of "rows = """".
struct BlockText {
  std::string_view key, text;
  int line = 0;  // of the key
};
/// Takes the blocks out of a text and leaves empty lines in their places.
[[nodiscard]] std::string without_blocks(std::string_view text, std::vector<BlockText>& blocks);

struct MarkText {
  std::optional<SourceKind> kind;
  std::string_view source, where, note;
};

struct Mark {
  Source source;
  std::string_view note;
};

struct File {
  std::string path;  // "ampacity/nec-310-16.toml", as messages name it
  const Node* root = nullptr;
  FileText text;
  Source source;
  std::map<std::string_view, Mark> marks;
  std::vector<BlockText> blocks;
  [[nodiscard]] bool has(std::string_view key) const;
};

/// Keys and marks; nothing after an error. Views point into `root`, `kept` and the blocks' text.
[[nodiscard]] std::optional<File> read_file(const Node& root, std::string_view path,
                                            std::vector<BlockText> blocks,
                                            std::deque<std::string>& kept, Diagnostics&);
[[nodiscard]] std::optional<RuleProfile> read_profile(const Node& root, Diagnostics&);

/// A block taken apart: views only. Numbers are made on request.
class Block {
public:
  struct Column {
    std::string_view key, unit;
    const Mark* mark = nullptr;
  };
  struct Cell {
    std::string_view text;  // empty: absent; its place in the line is known even so
    const Mark* mark = nullptr;
  };

  /// Empty where the file has none of that key. Errors go to `diagnostics`. Of the rows only those
  /// that begin with `only` are taken apart.
  Block(const File& file, std::string_view key, Diagnostics& diagnostics,
        std::string_view only = {});

  [[nodiscard]] std::size_t rows() const { return lines_.size(); }
  [[nodiscard]] const std::vector<Column>& columns() const { return columns_; }
  [[nodiscard]] const Cell& cell(std::size_t row, std::size_t column) const {
    return cells_[row * columns_.size() + column];
  }
  [[nodiscard]] std::optional<std::size_t> column(std::string_view key) const;
  /// The column, or an error that it is missing or of another kind than wanted.
  [[nodiscard]] std::optional<std::size_t> needed(std::string_view key);
  [[nodiscard]] std::optional<std::size_t> needed(std::string_view key, Kind kind);

  /// In SI of the column's unit; nothing where absent, and an error where it is no number.
  [[nodiscard]] std::optional<double> number(std::size_t row, std::size_t column);
  template <class Q> [[nodiscard]] std::optional<Q> quantity(std::size_t row, std::size_t column) {
    const auto si = number(row, column);
    return si ? std::optional(Q::from_value(*si)) : std::nullopt;
  }
  /// The same where it must be there; an error, and zero, where it is not.
  [[nodiscard]] double stated(std::size_t row, std::size_t column);
  [[nodiscard]] Source source(std::size_t row, std::size_t column) const;
  [[nodiscard]] Place place(std::size_t row, std::size_t column) const;
  void error(std::size_t row, std::size_t column, std::string message, std::string hint = {});

private:
  struct Line {
    int number = 0;
    std::string_view text;
  };
  void read_header(const Line&);
  void read_row(const Line&);
  const Mark* mark_named(std::string_view letter, const Line&);
  [[nodiscard]] Place place_in(const Line&, std::string_view part) const;

  const File& file_;
  Diagnostics& diagnostics_;
  std::vector<Column> columns_;
  std::vector<std::optional<Unit>> units_;
  std::vector<Cell> cells_;
  std::vector<Line> lines_;  // of each row
  Line header_;
  std::string_view key_;  // "rows", for messages
};

}  // namespace housepower::tables
