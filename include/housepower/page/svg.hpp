// SPDX-License-Identifier: Apache-2.0
// Vector drawings as text: a small writer of SVG. It escapes in one place, writes numbers with
// fixed decimals, takes no script and no outside reference, and always has a text alternative.
// Colours are the reader's own: `currentColor` and a few accents that a page may override.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace housepower::page {

struct Point {
  double x = 0, y = 0;
};
struct Box {
  double x = 0, y = 0, width = 0, height = 0;
  [[nodiscard]] double right() const { return x + width; }
  [[nodiscard]] double bottom() const { return y + height; }
};
/// They share more than an edge.
[[nodiscard]] bool overlap(const Box&, const Box&);

/// As text of XML: markup and quotes escaped, and what acts unseen (reading/shown.hpp), so that no
/// name can rearrange a figure beside it; broken UTF-8 and what XML forbids become U+FFFD.
[[nodiscard]] std::string escaped(std::string_view);
/// With that many decimals, never "-0".
[[nodiscard]] std::string fixed(double value, int decimals = 1);

/// How wide a text is at most, from the average widths of common sans-serif faces.
[[nodiscard]] double text_width(std::string_view, double size, bool bold = false);
/// The text, or what fits of it with an ellipsis.
[[nodiscard]] std::string fitted(std::string_view, double width, double size, bool bold = false);
/// In lines of that width, at most so many; the last is cut.
[[nodiscard]] std::vector<std::string> in_lines(std::string_view, double width, double size,
                                                std::size_t most);

/// Inks differ in grey, too; nothing is told by them alone. `grid`: lines to read a figure off, light.
enum class Ink { plain, quiet, paper, first, second, third, alarm, grid };

/// `file`: complete in itself. `page`: to stand in HTML that carries `svg_style` once.
enum class SvgFor { file, page };
[[nodiscard]] std::string svg_style();

class Svg {
public:
  struct Stroke {
    Ink ink = Ink::plain;
    double width = 1.0;
    std::string_view dashes{};  // "4 2"
  };
  struct Text {
    double size = 10.0;
    bool bold = false;
    enum class Anchor { start, middle, end } anchor = Anchor::start;
    Ink ink = Ink::plain;
    std::string_view whole{};  // told on pointing at it, where the text is cut
    std::string_view about{};  // `data-subject`: what a page finds it by
  };

  void line(const std::vector<Point>&, const Stroke&);
  void box(const Box&, Ink fill);
  void frame(const Box&, const Stroke&, double radius = 0.0);
  void circle(Point, double radius, const Stroke&);
  void dot(Point, double radius, Ink);
  void area(const std::vector<Point>&, Ink, double opacity = 1.0);
  /// Filled with lines aslant, of another slope for each number.
  void hatched(const Box&, int slope, Ink);
  void text(Point baseline, std::string_view, const Text&);
  /// Text that may be wider than any table says: what sticks out of the box is not drawn.
  void clipped_text(const Box&, Point baseline, std::string_view, const Text&);
  /// What follows is moved, until `back`.
  void moved(Point);
  void back();

  struct Page {
    std::string id;           // unlike any other on its page
    double width, height;     // of the viewBox
    std::string wide, high;   // natural size, "420mm"; empty: as the viewBox, in px
    std::string title, says;  // the text alternative
  };
  [[nodiscard]] std::string finished(const Page&, SvgFor) const;

private:
  std::string body_;
};

}  // namespace housepower::page
