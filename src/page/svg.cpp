// SPDX-License-Identifier: Apache-2.0
#include "housepower/page/svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "characters.hpp"
#include "housepower/reading/shown.hpp"

namespace housepower::page {
namespace {

bool any_of(std::string_view list, char c) { return list.find(c) != std::string_view::npos; }

/// Of a character, in its size: at least that of the faces in common use. Source: from memory.
double width_of_character(std::string_view c) {
  if (c == "\n" || c == "\t") return 0.42;
  const bool plain = c.size() == 1 && c[0] >= 0x20 && c[0] < 0x7F;
  if (const auto seen = plain ? std::string() : with_escapes(c); seen.starts_with('\\'))
    return 0.78 * double(seen.size());
  if (c == "·") return 0.35;
  if (c == "²" || c == "°") return 0.5;
  if (c.size() == 2) return 0.85;
  if (c.size() == 3) return 1.1;
  if (c.size() == 4) return 1.4;
  const char one = c[0];
  if (any_of("ijl|'.,:;!I", one)) return 0.34;
  if (any_of("ftr()[]{}/\\-`\" ", one)) return 0.42;
  if (any_of("mMW@%", one)) return 1.0;
  if (any_of("w+=<>~^#", one)) return 0.84;
  if (one >= 'A' && one <= 'Z') return 0.78;
  return 0.64;
}

struct Colours {
  std::string_view name, light, dark;
};
/// Light ones have at least 4.5 : 1 against white, dark ones against #17191c (WCAG's formula); a grid
/// has less, as it is no text.
constexpr std::array colours_of_inks{
    Colours{"ink", "#111111", "#f2f2f2"},    Colours{"quiet", "#555555", "#b4b4b4"},
    Colours{"paper", "#ffffff", "#17191c"},  Colours{"first", "#0b5394", "#7fb8f0"},
    Colours{"second", "#a04000", "#f0a868"}, Colours{"third", "#4a6b2a", "#a9cf83"},
    Colours{"alarm", "#b00020", "#ff8a94"},  Colours{"grid", "#d9d9d9", "#3a3d42"}};

std::string ink_attributes(Ink ink) {
  if (ink == Ink::plain) return {};
  const Colours& c = colours_of_inks[static_cast<std::size_t>(ink)];
  return fmt::format(" class=\"hp-{}\" color=\"{}\"", c.name, c.light);
}

std::string points_of(const std::vector<Point>& points) {
  std::string list;
  for (const Point& p : points) list += (list.empty() ? "M" : "L") + fixed(p.x) + " " + fixed(p.y);
  return list;
}

std::string box_attributes(const Box& b) {
  return fmt::format("x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"", fixed(b.x), fixed(b.y),
                     fixed(b.width), fixed(b.height));
}

std::string stroke_attributes(const Svg::Stroke& s) {
  return " fill=\"none\" stroke=\"currentColor\" stroke-width=\"" + fixed(s.width, 2) + "\"" +
         (s.dashes.empty() ? "" : " stroke-dasharray=\"" + std::string(s.dashes) + "\"") +
         ink_attributes(s.ink);
}

}  // namespace

bool overlap(const Box& a, const Box& b) {
  constexpr double edge = 1e-6;
  return a.x < b.right() - edge && b.x < a.right() - edge && a.y < b.bottom() - edge &&
         b.y < a.bottom() - edge;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : as_xml_holds(text, "\n\t")) {
    if (c == '\n' || c == '\t') out += ' ';
    else if (c == '&') out += "&amp;";
    else if (c == '<') out += "&lt;";
    else if (c == '>') out += "&gt;";
    else if (c == '"') out += "&quot;";
    else if (c == '\'') out += "&#39;";
    else out += c;
  }
  return out;
}

std::string fixed(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.find_first_not_of("-0.") == std::string::npos && text[0] == '-') text.erase(0, 1);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text;
}

double text_width(std::string_view text, double size, bool bold) {
  double width = 0.0;
  while (!text.empty()) {
    const auto c = next_character(text);
    width += width_of_character(c);
    text.remove_prefix(c.size());
  }
  return width * size * (bold ? 1.08 : 1.0);
}

std::string fitted(std::string_view text, double width, double size, bool bold) {
  if (text_width(text, size, bold) <= width) return std::string(text);
  constexpr std::string_view ellipsis = "…";
  double left = width - text_width(ellipsis, size, bold);
  std::string out;
  while (!text.empty()) {
    const auto c = next_character(text);
    left -= text_width(c, size, bold);
    if (left < 0.0) break;
    out += c;
    text.remove_prefix(c.size());
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out + std::string(ellipsis);
}

std::vector<std::string> in_lines(std::string_view text, double width, double size,
                                  std::size_t most) {
  std::vector<std::string> lines;
  while (!text.empty() && lines.size() < most) {
    std::size_t end = text.size();
    const bool last = lines.size() + 1 == most;
    while (!last && text_width(text.substr(0, end), size) > width) {
      const auto space = text.rfind(' ', end - 1);
      if (space == std::string_view::npos || space == 0) break;
      end = space;
    }
    lines.push_back(fitted(text.substr(0, end), width, size));
    text.remove_prefix(std::min(text.size(), end + 1));
  }
  return lines;
}

std::string svg_style() {
  std::string out =
      ".hp-svg{font-family:\"Helvetica Neue\",Helvetica,Arial,\"Liberation Sans\",sans-serif}";
  std::string dark;
  for (const Colours& c : colours_of_inks) {
    out += fmt::format(".hp-{0}{{color:var(--hp-{0},{1})}}", c.name, c.light);
    dark += fmt::format("--hp-{}:{};", c.name, c.dark);
  }
  return out + "@media screen and (prefers-color-scheme:dark){:root{" + dark + "}}";
}

void Svg::line(const std::vector<Point>& points, const Stroke& s) {
  body_ += "<path d=\"" + points_of(points) + "\"" + stroke_attributes(s) + "/>\n";
}
void Svg::box(const Box& b, Ink fill) {
  body_ += "<rect " + box_attributes(b) + " fill=\"currentColor\"" + ink_attributes(fill) + "/>\n";
}
void Svg::frame(const Box& b, const Stroke& s, double radius) {
  body_ += "<rect " + box_attributes(b) + (radius > 0.0 ? " rx=\"" + fixed(radius) + "\"" : "") +
           stroke_attributes(s) + "/>\n";
}
void Svg::circle(Point p, double radius, const Stroke& s) {
  body_ +=
      fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"", fixed(p.x), fixed(p.y), fixed(radius)) +
      stroke_attributes(s) + "/>\n";
}
void Svg::dot(Point p, double radius, Ink ink) {
  body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"currentColor\"{}/>\n",
                       fixed(p.x), fixed(p.y), fixed(radius), ink_attributes(ink));
}
void Svg::area(const std::vector<Point>& points, Ink ink, double opacity) {
  body_ += "<path d=\"" + points_of(points) + "Z\" fill=\"currentColor\"" +
           (opacity < 1.0 ? " fill-opacity=\"" + fixed(opacity, 2) + "\"" : "") +
           ink_attributes(ink) + "/>\n";
}

void Svg::hatched(const Box& b, int slope, Ink ink) {
  // Lines x + y = c or x − y = c, cut off at the box: no pattern, so no id that could clash.
  std::string path;
  const double pitch = 4.0, span = b.width + b.height;
  for (double c = pitch / 2; c < span; c += pitch) {
    const double x0 = std::min(c, b.width), y0 = c - x0;
    const double y1 = std::min(c, b.height), x1 = c - y1;
    const auto x = [&](double at) { return slope % 2 == 0 ? b.x + at : b.right() - at; };
    path += "M" + fixed(x(x0)) + " " + fixed(b.y + y0) + "L" + fixed(x(x1)) + " " + fixed(b.y + y1);
  }
  if (!path.empty())
    body_ += "<path d=\"" + path + "\"" + stroke_attributes({ink, 0.7, {}}) + "/>\n";
  frame(b, {ink, 1.0, {}});
}

void Svg::text(Point at, std::string_view words, const Text& t) {
  const char* anchor = t.anchor == Text::Anchor::start    ? ""
                       : t.anchor == Text::Anchor::middle ? " text-anchor=\"middle\""
                                                          : " text-anchor=\"end\"";
  body_ += fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\"{}{} fill=\"currentColor\"{}{}>",
                       fixed(at.x), fixed(at.y), fixed(t.size),
                       t.bold ? " font-weight=\"bold\"" : "", anchor, ink_attributes(t.ink),
                       t.about.empty() ? "" : " data-subject=\"" + escaped(t.about) + "\"");
  if (!t.whole.empty()) body_ += "<title>" + escaped(t.whole) + "</title>";
  body_ += leftward_words_between(escaped(words), "", "\u200E") + "</text>\n";
}

void Svg::clipped_text(const Box& b, Point at, std::string_view words, const Text& t) {
  body_ += "<svg " + box_attributes(b) + " overflow=\"hidden\">";
  text({at.x - b.x, at.y - b.y}, words, t);
  body_ += "</svg>\n";
}

void Svg::moved(Point by) {
  body_ += "<g transform=\"translate(" + fixed(by.x) + " " + fixed(by.y) + ")\">\n";
}
void Svg::back() { body_ += "</g>\n"; }

std::string Svg::finished(const Page& page, SvgFor purpose) const {
  std::string out;
  if (purpose == SvgFor::file) out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  const std::string id = escaped(page.id);
  out += fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"hp-svg\" "
                     "viewBox=\"0 0 {} {}\" width=\"{}\" height=\"{}\" direction=\"ltr\" "
                     "role=\"img\" aria-labelledby=\"{}-title {}-says\" "
                     "font-family=\"Helvetica, Arial, 'Liberation Sans', sans-serif\">\n",
                     fixed(page.width), fixed(page.height),
                     page.wide.empty() ? fixed(page.width) : page.wide,
                     page.high.empty() ? fixed(page.height) : page.high, id, id);
  out += "<title id=\"" + id + "-title\">" + escaped(page.title) + "</title>\n<desc id=\"" + id +
         "-says\">" + escaped(page.says.empty() ? page.title : page.says) + "</desc>\n";
  if (purpose == SvgFor::file)
    out += "<style>" + svg_style() +
           "svg.hp-svg{color:var(--hp-ink,#111111);background:var(--hp-paper,#ffffff)}</style>\n";
  return out + body_ + "</svg>\n";
}

}  // namespace housepower::page
