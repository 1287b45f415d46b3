// SPDX-License-Identifier: Apache-2.0
#include "housepower/page/svg.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "support/drawing.hpp"

namespace page_svg {

using namespace housepower::page;

TEST_CASE(
    "text is escaped, and so is what acts unseen; what is no text becomes a replacement sign") {
  CHECK(escaped("a<b & \"c\" 'd'>") == "a&lt;b &amp; &quot;c&quot; &#39;d&#39;&gt;");
  CHECK(escaped("2.5 mm²") == "2.5 mm²");
  CHECK(escaped("\x01") == "\\u0001");
  CHECK(escaped("\xEF\xBF\xBE") == "\xEF\xBF\xBD");  // U+FFFE, which XML does not hold
  CHECK(escaped("a\nb") == "a b");
  CHECK(escaped("\xE2\x80\xAE"
                "x") == "\\u202Ex");                                 // right-to-left override
  CHECK(escaped("\xE2\x81\xA7") == "\\u2067");                       // right-to-left isolate
  CHECK(escaped("\xC3(") == "\xEF\xBF\xBD(");                        // half a character
  CHECK(escaped("\xED\xA0\x80").find('\xED') == std::string::npos);  // half of a pair
  CHECK(escaped("\xD7\xA9\xD7\x9C") == "\xD7\xA9\xD7\x9C");          // Hebrew stays
}

TEST_CASE("numbers have few decimals and no empty ones") {
  CHECK(fixed(1.0) == "1");
  CHECK(fixed(1.26) == "1.3");
  CHECK(fixed(-0.01) == "0");
  CHECK(fixed(120.0, 0) == "120");
  CHECK(fixed(0.105, 2) == "0.1");
}

TEST_CASE("what is too wide is cut with an ellipsis and fits") {
  const std::string name(500, 'W');
  const std::string cut = fitted(name, 100.0, 8.0);
  CHECK(cut.ends_with("…"));
  CHECK(text_width(cut, 8.0) <= 100.0);
  CHECK(fitted("short", 100.0, 8.0) == "short");
  for (const auto& line : in_lines("one two three four five six", 60.0, 8.0, 2))
    CHECK(text_width(line, 8.0) <= 60.0);
}

namespace {

/// Relative luminance of "#rrggbb" (WCAG 2.1, definition of relative luminance; from memory).
double luminance(const std::string& hex) {
  double sum = 0;
  const double weights[] = {0.2126, 0.7152, 0.0722};
  for (std::size_t i = 0; i < 3; ++i) {
    const double c = double(std::stoi(hex.substr(1 + 2 * i, 2), nullptr, 16)) / 255.0;
    sum += weights[i] * (c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4));
  }
  return sum;
}
double contrast(const std::string& a, const std::string& b) {
  const double x = luminance(a), y = luminance(b);
  return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

std::string colour_after(const std::string& style, const std::string& what) {
  const auto at = style.find(what);
  REQUIRE(at != std::string::npos);
  return style.substr(at + what.size(), 7);
}

}  // namespace

TEST_CASE("each ink has a contrast of 4.5 to 1 against the paper, by day and by night") {
  const std::string style = svg_style();
  for (const std::string ink : {"ink", "quiet", "first", "second", "third", "alarm"}) {
    CAPTURE(ink);
    CHECK(contrast(colour_after(style, "var(--hp-" + ink + ","),
                   colour_after(style, "var(--hp-paper,")) >= 4.5);
    CHECK(contrast(colour_after(style, "--hp-" + ink + ":"), colour_after(style, "--hp-paper:")) >=
          4.5);
  }
}

TEST_CASE("a drawing is well formed whatever its names are") {
  Svg svg;
  Svg::Text style;
  style.whole = "</title><script>alert(1)</script>";
  svg.text({1, 2}, "]]> & <b>\"'", style);
  svg.hatched({0, 0, 10, 10}, 1, Ink::first);
  const auto root = housepower::test::kept_rules(
      svg.finished({"a\"b", 100, 50, "", "", "<title>", "& more"}, SvgFor::file));
  CHECK(root.children[0].text == "<title>");
}

TEST_CASE("figures behind a name that is written from right to left keep their place") {
  Svg out;
  out.text({0, 10}, "\u05D0\u05D1 12 V", {});
  const std::string drawing = out.finished({"names", 100, 20, "", "", "names", ""}, SvgFor::page);
  CHECK(drawing.find("\u05D0\u05D1\u200E 12 V</text>") != drawing.npos);
}

}  // namespace page_svg
