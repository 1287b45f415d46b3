// SPDX-License-Identifier: Apache-2.0
#include "housepower/page/plot.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "housepower/units/unit.hpp"

namespace housepower::page {
namespace {

// A viewBox of phone width, so that text stays legible there; on paper two stand side by side, of
// 88 mm each, where text of 10 is of 7 points.
constexpr double plot_width = 340.0, plot_height = 220.0, text_size = 10.0, left_of_axis = 44.0,
                 below_axis = 38.0, line_height = 12.5;
constexpr std::array inks_of_series{Ink::first, Ink::second, Ink::third, Ink::plain};
constexpr std::array<std::string_view, 4> dashes{"", "6 3", "2 2.5", "9 3 2 3"};

Svg::Text text_style(Ink ink = Ink::plain, Svg::Text::Anchor anchor = Svg::Text::Anchor::start) {
  Svg::Text t;
  t.size = text_size;
  t.ink = ink;
  t.anchor = anchor;
  return t;
}
constexpr auto at_middle = Svg::Text::Anchor::middle, at_end = Svg::Text::Anchor::end;

std::string with_unit(const Axis& a) { return a.title + (a.unit.empty() ? "" : ", " + a.unit); }

/// From a value to its place; ends at round numbers.
struct Scale {
  double from = 0, to = 1, begin = 0, finish = 1;  // values; places
  bool logarithmic = false;
  std::vector<double> ticks{};
  [[nodiscard]] double operator()(double v) const {
    const double share =
        logarithmic ? std::log(v / from) / std::log(to / from) : (v - from) / (to - from);
    return begin + std::clamp(share, -0.05, 1.05) * (finish - begin);
  }
};

/// Decades with 2 and 5 between.
std::vector<double> log_ticks(double low, double high) {
  std::vector<double> ticks;
  for (int e = int(std::floor(std::log10(low))); e <= int(std::ceil(std::log10(high))); ++e)
    for (const double m : {1.0, 2.0, 5.0}) ticks.push_back(m * std::pow(10.0, e));
  while (ticks.size() > 2 && ticks[1] <= low) ticks.erase(ticks.begin());
  while (ticks.size() > 2 && ticks[ticks.size() - 2] >= high) ticks.pop_back();
  return ticks;
}

Scale scale_of(const Axis& axis, double low, double high, int most) {
  Scale s;
  s.logarithmic = axis.logarithmic && low > 0.0;  // nothing at all, or zero, has no logarithm
  low = axis.from.value_or(low), high = axis.to.value_or(high);
  if (s.logarithmic) {
    s.ticks = log_ticks(low, high);
  } else {
    if (!(high > low)) high = low + (low == 0.0 ? 1.0 : std::abs(low) * 0.1);
    s.ticks = round_ticks(low, high, most);
  }
  s.from = axis.from.value_or(s.ticks.front());
  s.to = axis.to.value_or(s.ticks.back());
  if (!(s.to > s.from)) s.to = s.from + 1.0;
  std::erase_if(s.ticks, [&](double t) { return t < s.from - 1e-9 || t > s.to * (1 + 1e-9); });
  return s;
}

std::string tick_text(double v) { return print_plain(std::abs(v) < 1e-12 ? 0.0 : v, 4); }

struct Range {
  double low = 1e300, high = -1e300;
  void take(double v) { low = std::min(low, v), high = std::max(high, v); }
  void take(const std::vector<double>& all) {
    for (const double v : all) take(v);
  }
};

/// Names beside the right edge, pushed apart; each knows where it belongs.
struct SideName {
  double at, y;
  std::string text;
  Ink ink;
};

void draw_side_names(Svg& svg, std::vector<SideName> names, double x, double top, double low) {
  std::stable_sort(names.begin(), names.end(),
                   [](const SideName& a, const SideName& b) { return a.at < b.at; });
  double next = top;
  for (auto& n : names) n.y = std::max(n.at, next), next = n.y + line_height;
  double last = low;
  for (auto n = names.rbegin(); n != names.rend(); ++n)
    n->y = std::min(n->y, last), last = n->y - line_height;
  for (const auto& n : names) {
    if (std::abs(n.y - n.at) > 2.0)
      svg.line({{x + 1.0, n.at}, {x + 5.0, n.y}}, {Ink::quiet, 0.6, {}});
    auto style = text_style(n.ink);
    const double room = plot_width - x - 7.0;
    const std::string shown = fitted(n.text, room, text_size);
    if (shown != n.text) style.whole = n.text;
    svg.text({x + 6.0, n.y + 3.5}, shown, style);
  }
}

struct Frame {
  const Plot& plot;
  Svg svg{};
  Scale x{}, y{};
  std::vector<SideName> side{};
  double right = 0, top = 0;

  [[nodiscard]] bool by_category() const { return !plot.categories.empty(); }
  [[nodiscard]] double low() const { return plot_height - below_axis; }

  void find_scales() {
    Range xs, ys;
    for (const auto& c : plot.curves) xs.take(c.x), ys.take(c.y);
    for (const auto& b : plot.bands) xs.take(b.x), ys.take(b.low), ys.take(b.high);
    for (const auto& m : plot.marks) (m.at == Mark::At::x ? xs : ys).take(m.value);
    take_bars(ys);
    if (!plot.bars.empty() || xs.low > xs.high) ys.take(0.0);
    if (xs.low > xs.high) xs.low = 0, xs.high = 1;
    double side_width = 0;
    const auto count = [&](const std::string& name) {
      side_width = std::max(side_width, text_width(name, text_size));
    };
    for (const auto& c : plot.curves)
      if (!c.named_within) count(c.name);
    for (const auto& b : plot.bands) count(b.name);
    for (const auto& m : plot.marks)
      if (m.at == Mark::At::y) count(m.says);
    const bool marked = std::any_of(plot.marks.begin(), plot.marks.end(),
                                    [](const Mark& m) { return m.at == Mark::At::x; });
    right = plot_width - std::min(120.0, side_width > 0.0 ? side_width + 9.0 : 12.0);
    const bool names_above = std::any_of(plot.names.begin(), plot.names.end(),
                                         [](const PointName& n) { return !n.below; });
    top = 22.0 + (marked ? line_height : 0.0) + line_height * double(plot.bars.size()) +
          (names_above ? 2.0 * line_height : 0.0);
    x = scale_of(plot.x, xs.low, xs.high, 6);
    y = scale_of(plot.y, ys.low, ys.high, 5);
    if (by_category()) x.from = 0.0, x.to = double(plot.categories.size());
    x.begin = left_of_axis, x.finish = right, y.begin = low(), y.finish = top;
  }

  void take_bars(Range& ys) const {
    for (std::size_t i = 0; i < plot.categories.size(); ++i) {
      double sum = 0;
      for (const auto& b : plot.bars) {
        if (!plot.stacked) ys.take(b.values[i]);
        sum += b.values[i];
      }
      if (plot.stacked) ys.take(sum);
    }
  }

  void draw_axes() {
    for (const double t : y.ticks) {
      if (t != 0.0) svg.line({{left_of_axis, y(t)}, {right, y(t)}}, {Ink::grid, 0.6, {}});
      svg.text({left_of_axis - 5.0, y(t) + 3.5}, tick_text(t), text_style(Ink::quiet, at_end));
    }
    svg.line({{left_of_axis, top}, {left_of_axis, low()}, {right, low()}}, {Ink::plain, 0.8, {}});
    svg.text({4.0, 12.0}, fitted(with_unit(plot.y), plot_width - 8.0, text_size), text_style());
    if (by_category()) {
      for (std::size_t i = 0; i < plot.categories.size(); ++i)
        svg.text({x(double(i) + 0.5), low() + 13.0}, plot.categories[i],
                 text_style(Ink::quiet, at_middle));
    } else {
      for (const double t : x.ticks) {
        svg.line({{x(t), low()}, {x(t), low() + 3.0}}, {Ink::plain, 0.8, {}});
        svg.text({x(t), low() + 14.0}, tick_text(t), text_style(Ink::quiet, at_middle));
      }
    }
    svg.text({(left_of_axis + right) / 2.0, plot_height - 6.0},
             fitted(with_unit(plot.x), plot_width - 8.0, text_size),
             text_style(Ink::plain, at_middle));
  }

  [[nodiscard]] std::vector<Point> points(const Curve& c) const {
    std::vector<Point> list;
    for (std::size_t i = 0; i < c.x.size(); ++i) {
      if (c.kind == Curve::Kind::steps && i > 0) list.push_back({x(c.x[i]), y(c.y[i - 1])});
      list.push_back({x(c.x[i]), y(c.y[i])});
    }
    return list;
  }

  /// Without points too near to the one before to be seen.
  static std::vector<Point> thinned(std::vector<Point> all, bool keep) {
    if (keep || all.size() < 3) return all;
    std::vector<Point> kept{all.front()};
    for (std::size_t i = 1; i < all.size(); ++i)
      if (std::abs(all[i].x - kept.back().x) + std::abs(all[i].y - kept.back().y) > 0.5 ||
          i + 1 == all.size())
        kept.push_back(all[i]);
    return kept;
  }

  void draw_curves() {
    for (std::size_t i = 0; i < plot.curves.size(); ++i) {
      const Curve& c = plot.curves[i];
      if (c.x.empty()) continue;
      const Ink ink = inks_of_series[i % inks_of_series.size()];
      const auto line = thinned(points(c), c.dotted);
      if (c.filled) {
        auto area = line;
        area.push_back({line.back().x, y(std::max(0.0, y.from))});
        area.push_back({line.front().x, y(std::max(0.0, y.from))});
        svg.area(area, ink, 0.12);
      }
      svg.line(line, {ink, 1.6, dashes[i % dashes.size()]});
      if (c.dotted)
        for (const Point& p : line) svg.dot(p, 2.3, ink);
      if (!c.named_within) side.push_back({line.back().y, 0.0, c.name, ink});
    }
  }

  void name_curves() {
    for (std::size_t i = 0; i < plot.curves.size(); ++i)
      if (plot.curves[i].named_within && !plot.curves[i].x.empty())
        name_within(points(plot.curves[i]), plot.curves[i].name,
                    inks_of_series[i % inks_of_series.size()], i);
  }

  /// To the right of a falling curve, of each at another height.
  void name_within(const std::vector<Point>& line, const std::string& name, Ink ink,
                   std::size_t number) {
    const double at = top + (low() - top) * (0.35 + 0.2 * double(number % 3));
    const auto past = std::find_if(line.begin(), line.end(), [&](Point p) { return p.y > at; });
    const double from = (past == line.end() ? line.back() : *past).x + 5.0;
    const std::string shown = fitted(name, plot_width - from - 2.0, text_size);
    svg.box({from - 1.0, at - 8.0, text_width(shown, text_size), 11.0}, Ink::paper);
    svg.text({from, at}, shown, text_style(ink));
  }

  void draw_bands() {
    for (const auto& b : plot.bands) {
      if (b.x.empty()) continue;
      std::vector<Point> area;
      for (std::size_t i = 0; i < b.x.size(); ++i) area.push_back({x(b.x[i]), y(b.high[i])});
      for (std::size_t i = b.x.size(); i-- > 0;) area.push_back({x(b.x[i]), y(b.low[i])});
      svg.area(area, Ink::first, 0.15);
      side.push_back({(y(b.high.back()) + y(b.low.back())) / 2.0, 0.0, b.name, Ink::first});
    }
  }

  void draw_bar(const Box& b, std::size_t series) {
    if (b.height <= 0.0) return;
    if (series == 0) svg.box(b, inks_of_series[0]);
    else svg.hatched(b, int(series), inks_of_series[series % inks_of_series.size()]);
  }

  void draw_bars() {
    const double count = plot.stacked ? 1.0 : double(plot.bars.size());
    std::vector<double> sums(plot.categories.size(), 0.0);
    for (std::size_t s = 0; s < plot.bars.size(); ++s)
      for (std::size_t i = 0; i < plot.categories.size(); ++i) {
        const double place = x(double(i) + 1.0) - x(double(i)), each = place * 0.8 / count;
        const double from = plot.stacked ? sums[i] : 0.0, to = from + plot.bars[s].values[i];
        sums[i] = to;
        const double at = x(double(i)) + place * 0.1 + (plot.stacked ? 0.0 : each * double(s));
        const double high = std::min(y(from), y(to));
        draw_bar({at, high, each, std::abs(y(from) - y(to))}, s);
      }
    for (std::size_t s = 0; s < plot.bars.size(); ++s) {  // each name after a piece of its bar
      const double at = 22.0 + line_height * double(s);
      draw_bar({left_of_axis + 6.0, at - 3.0, 14.0, 8.0}, s);
      svg.text({left_of_axis + 25.0, at + 4.5}, plot.bars[s].name,
               text_style(inks_of_series[s % inks_of_series.size()]));
    }
  }

  void draw_marks() {
    for (const auto& m : plot.marks) {
      if (m.at == Mark::At::y) {
        svg.line({{left_of_axis, y(m.value)}, {right, y(m.value)}}, {Ink::plain, 0.9, "1 2.5"});
        side.push_back({y(m.value), 0.0, m.says, Ink::plain});
      } else {
        svg.line({{x(m.value), top}, {x(m.value), low()}}, {Ink::plain, 0.9, "1 2.5"});
        const double half = text_width(m.says, text_size) / 2.0;
        const double at =
            std::clamp(x(m.value), half + 2.0, std::max(half + 2.0, plot_width - half - 2.0));
        svg.text({at, top - 4.0}, fitted(m.says, plot_width - 4.0, text_size),
                 text_style(Ink::plain, at_middle));
      }
    }
  }

  /// Above their points, one higher where two would meet.
  void draw_names() {
    std::vector<Box> taken;
    for (const auto& n : plot.names) {
      const std::string shown = fitted(n.says, 130.0, text_size);
      const double wide = text_width(shown, text_size);
      Box box{std::min(x(n.x) + (n.below ? 4.0 : 3.0), plot_width - wide - 1.0),
              y(n.y) + (n.below ? 3.0 : -16.0), wide, 11.0};
      const double step = n.below ? 4.0 : -4.0;
      while (box.y > 14.0 && box.bottom() < low() - 2.0 &&
             std::any_of(taken.begin(), taken.end(),
                         [&](const Box& other) { return overlap(box, other); }))
        box.y += step;
      taken.push_back(box);
      if (std::abs(y(n.y) - box.bottom()) > 8.0 && !n.below)
        svg.line({{x(n.x), y(n.y) - 3.0}, {x(n.x), box.bottom()}}, {Ink::quiet, 0.6, {}});
      if (n.below && box.y - y(n.y) > 8.0)
        svg.line({{x(n.x), y(n.y) + 3.0}, {x(n.x), box.y + 6.0}, {box.x, box.y + 6.0}},
                 {Ink::quiet, 0.6, {}});
      auto style = text_style();
      if (shown != n.says) style.whole = n.says;
      svg.text({box.x, box.bottom() - 2.5}, shown, style);
    }
  }

  std::string drawn(SvgFor purpose) {
    find_scales();
    draw_bands();
    draw_axes();
    if (!plot.bars.empty()) draw_bars();
    draw_curves();
    draw_marks();
    name_curves();
    draw_names();
    draw_side_names(svg, std::move(side), right, top, low());
    return svg.finished({plot.id, plot_width, plot_height, "", "", plot.title, plot.says}, purpose);
  }
};

}  // namespace

Curve distribution(std::string name, std::vector<double> values) {
  std::sort(values.begin(), values.end());
  Curve c;
  c.kind = Curve::Kind::steps;
  c.name = std::move(name);
  const double all = double(values.size());
  c.x.push_back(0.0), c.y.push_back(values.empty() ? 0.0 : 1.0);
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (i + 1 < values.size() && values[i + 1] == values[i]) continue;
    c.x.push_back(values[i]);
    c.y.push_back((all - double(i) - 1.0) / all);
  }
  return c;
}

std::vector<double> round_ticks(double from, double to, int most) {
  const double raw = (to - from) / double(std::max(1, most));
  double step = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double m : {2.0, 2.5, 2.0})  // 1, 2, 5, 10
    if (step < raw * (1 - 1e-9)) step *= m;
  std::vector<double> ticks;
  const double first = std::floor(from / step + 1e-9), last = std::ceil(to / step - 1e-9);
  for (double i = first; i <= last + 0.5; i += 1.0) ticks.push_back(i * step);
  return ticks;
}

std::string svg(const Plot& plot, SvgFor purpose) { return Frame{plot}.drawn(purpose); }

std::string svg(const RowPlot& plot, SvgFor purpose) {
  Svg out;
  constexpr double row = 17.0, top = 20.0;
  double name = 0, says = 0;
  Range range;
  for (const auto& r : plot.rows) {
    name = std::max(name, text_width(r.name, text_size));
    says = std::max(says, text_width(r.says, text_size));
    range.take(r.from), range.take(r.to);
    if (r.tick) range.take(*r.tick);
  }
  if (range.low > range.high) range.low = 0, range.high = 1;
  name = std::min(name, 130.0), says = std::min(says, 110.0);
  const double low = top + row * double(plot.rows.size()) + 4.0, high = low + 36.0;
  Scale x = scale_of(plot.x, range.low, range.high, 4);
  x.begin = name + 10.0, x.finish = plot_width - says - (says > 0.0 ? 12.0 : 16.0);
  for (const double t : x.ticks) {
    out.line({{x(t), top - 2.0}, {x(t), low}}, {Ink::grid, 0.6, {}});
  }
  double free = -1e9;
  for (const double t : x.ticks) {
    const double half = text_width(tick_text(t), text_size) / 2.0;
    if (x(t) - half < free) continue;
    out.text({x(t), low + 13.0}, tick_text(t), text_style(Ink::quiet, at_middle));
    free = x(t) + half + 4.0;
  }
  out.line({{x.begin, low}, {x.finish, low}}, {Ink::plain, 0.8, {}});
  out.text({plot_width / 2.0, high - 6.0}, fitted(with_unit(plot.x), plot_width - 8.0, text_size),
           text_style(Ink::plain, at_middle));
  if (!plot.tick_name.empty())
    out.text({x.begin, 11.0}, fitted("upright: " + plot.tick_name, plot_width - x.begin, text_size),
             text_style(Ink::quiet));
  for (std::size_t i = 0; i < plot.rows.size(); ++i) {
    const auto& r = plot.rows[i];
    const double y = top + row * double(i), base = y + 11.0;
    auto style = text_style(Ink::plain, at_end);
    const std::string shown = fitted(r.name, name, text_size);
    if (shown != r.name) style.whole = r.name;
    out.text({name + 4.0, base}, shown, style);
    const double a = std::min(x(r.from), x(r.to)), b = std::max(x(r.from), x(r.to));
    const Box bar{a, y + 2.5, std::max(1.5, b - a), 10.0};
    if (r.hatched) out.hatched(bar, 1, Ink::second);
    else out.box(bar, Ink::first);
    if (r.tick) out.line({{x(*r.tick), y}, {x(*r.tick), y + 15.0}}, {Ink::plain, 2.0, {}});
    const double at = says > 0.0 ? x.finish + 8.0 : 0.0;
    auto note = text_style();
    const std::string end_words = fitted(r.says, plot_width - at - 2.0, text_size);
    if (end_words != r.says) note.whole = r.says;
    if (!r.says.empty()) out.text({at, base}, end_words, note);
  }
  return out.finished({plot.id, plot_width, high, "", "", plot.title, plot.says}, purpose);
}

TableBlock table_behind(const Plot& plot) {
  TableBlock t{plot.title, {}, {}, {}};
  const bool named = !plot.categories.empty();
  const std::string unit = plot.y.unit.empty() ? "" : ", " + plot.y.unit;
  t.heads.push_back(named ? plot.x.title : with_unit(plot.x));
  t.numbers.push_back(!named);
  const auto column = [&](const std::string& name) {
    t.heads.push_back(name + unit), t.numbers.push_back(true);
  };
  for (const auto& b : plot.bars) column(b.name);
  for (const auto& b : plot.bands) column(b.name + ", lowest"), column(b.name + ", highest");
  for (const auto& c : plot.curves) column(c.name);
  if (named) {
    for (std::size_t i = 0; i < plot.categories.size(); ++i) {
      t.rows.push_back({plot.categories[i]});
      for (const auto& b : plot.bars) t.rows.back().push_back(print_plain(b.values[i], 4));
    }
    return t;
  }
  std::set<double> xs;
  for (const auto& b : plot.bands) xs.insert(b.x.begin(), b.x.end());
  for (const auto& c : plot.curves) xs.insert(c.x.begin(), c.x.end());
  const auto at = [](const std::vector<double>& x, const std::vector<double>& y, double v) {
    const auto found = std::lower_bound(x.begin(), x.end(), v);
    return found != x.end() && *found == v ? print_plain(y[std::size_t(found - x.begin())], 4)
                                           : std::string();
  };
  for (const double v : xs) {
    auto& row = t.rows.emplace_back();
    row.push_back(print_plain(v, 4));
    for (const auto& b : plot.bands)
      row.push_back(at(b.x, b.low, v)), row.push_back(at(b.x, b.high, v));
    for (const auto& c : plot.curves) row.push_back(at(c.x, c.y, v));
  }
  return t;
}

TableBlock table_behind(const RowPlot& plot) {
  TableBlock t{plot.title, {""}, {false}, {}};
  const std::string unit = plot.x.unit.empty() ? "" : ", " + plot.x.unit;
  const auto column = [&](const std::string& name, bool number) {
    if (name.empty()) return;
    t.heads.push_back(name + (number ? unit : "")), t.numbers.push_back(number);
  };
  column(plot.from_name, true), column(plot.to_name, true);
  column(plot.tick_name, true), column(plot.says_name, false);
  for (const auto& r : plot.rows) {
    auto& row = t.rows.emplace_back();
    row.push_back(r.name);
    if (!plot.from_name.empty()) row.push_back(print_plain(r.from, 4));
    if (!plot.to_name.empty()) row.push_back(print_plain(r.to, 4));
    if (!plot.tick_name.empty()) row.push_back(r.tick ? print_plain(*r.tick, 4) : "");
    if (!plot.says_name.empty()) row.push_back(r.says);
  }
  return t;
}

}  // namespace housepower::page
