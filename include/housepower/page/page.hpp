// SPDX-License-Identifier: Apache-2.0
// What is shown, without how. Text is one rendering of a Page; others can follow.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "housepower/page/column.hpp"
#include "housepower/working/verdict.hpp"
#include "housepower/working/working.hpp"

namespace housepower::page {

struct Heading {
  std::string text;
  bool on_new_sheet = false;  // of paper
};
struct Paragraph {
  std::string text;
};
/// What must be said, and is read last.
struct SmallPrint {
  std::string text;
};
/// Cells already in their columns' order; `numbers` are aligned right.
struct TableBlock {
  std::string title;
  std::vector<std::string> heads;
  std::vector<bool> numbers;
  std::vector<std::vector<std::string>> rows;
  /// Figures of the rows once more, as bars beside them where there is room; drawn to the largest.
  struct Bars {
    std::string head{};
    std::vector<double> lengths{}, marks{};  // one a row, or none
  };
  Bars bars{};
};
/// What was judged of a thing, and what it rests on.
struct Judgement {
  Verdict verdict = Verdict::not_checked;
  std::string rule, subject, message;
  std::string in_case, cure, place;  // each may be empty
  std::string source;
  Working working;
  std::string alike{};  // what else is judged so: "run/lamp: 3 A, at most 2 A"
};
/// One after the other; with their working where asked for.
struct JudgementsBlock {
  std::vector<Judgement> judgements;
  bool with_working = false;
  bool with_source = true;
};
/// What was judged, each in one line; on a screen it ends where the screen does.
struct JudgementLines {
  struct Line {
    Verdict verdict = Verdict::caution;
    std::string text;
  };
  std::vector<Line> lines;
};
/// Steps of a calculation, one below the other.
struct WorkingBlock {
  Working working;
};
/// A verdict with what it rests on, to be seen first.
struct VerdictLine {
  Verdict verdict = Verdict::pass;
  std::string text;
};
/// A few figures that answer at a glance.
struct Facts {
  struct Fact {
    std::string name, value, note;
  };
  std::vector<Fact> facts;
};
/// A drawing with what it says in words and the numbers behind it; text shows the numbers alone.
struct Figure {
  std::string title, says;
  std::string drawing;  // SVG made `SvgFor::page`
  TableBlock numbers;   // without rows where it draws no numbers
  std::string paper;    // "A4", "A3": a sheet of its own, on its side; empty: within the text
};
struct Folded;
using Block = std::variant<Heading, Paragraph, TableBlock, JudgementsBlock, JudgementLines,
                           WorkingBlock, SmallPrint, VerdictLine, Facts, Figure, Folded>;
/// What a reader may pass over: folded on a page that can unfold it.
struct Folded {
  std::string title;
  std::vector<Block> blocks;
  bool on_screen_only = false;  // stays folded, and off paper, whatever is unfolded
};

struct Page {
  std::string title;
  std::vector<Block> blocks;
};

/// How the reader's screen is: columns, whether colour may be used beside the words, and whether it
/// shows block signs.
struct Screen {
  int width = 100;
  bool colour = false;
  bool blocks = true;
};
[[nodiscard]] std::string text(const Page&, const Screen&);

/// The closing note of every result.
[[nodiscard]] std::string_view safety_note();

}  // namespace housepower::page
