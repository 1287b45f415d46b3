// SPDX-License-Identifier: Apache-2.0
// The rows of a weather file: hour after hour in their order, whole years, gaps filled.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "housepower/units/unit.hpp"
#include "weather_file.hpp"

namespace housepower::tables {
namespace {

using namespace weather;

constexpr std::size_t hours_of_year = 8760;
constexpr std::size_t longest_gap = 3;  // hours
constexpr double no_value = std::numeric_limits<double>::quiet_NaN();
constexpr std::array<const char*, 12> months{"January",   "February", "March",    "April",
                                             "May",       "June",     "July",     "August",
                                             "September", "October",  "November", "December"};
constexpr std::array<std::size_t, 12> days_before{0,   31,  59,  90,  120, 151,
                                                  181, 212, 243, 273, 304, 334};

struct Hours {
  std::array<std::vector<double>, column_count> columns;
  std::vector<std::size_t> line;
  std::vector<int> year;
};

std::size_t hour_of_year(const Stamp& s) {
  return (days_before[std::size_t(s.month - 1)] + std::size_t(s.day - 1)) * 24 +
         std::size_t(s.hour);
}

std::string told(int month, int day_of_month, int clock) {
  return fmt::format("{} {}, hour {} of 24", day_of_month, months[std::size_t(month - 1)],
                     clock + 1);
}
std::string told(std::size_t hour_in_year) {
  const std::size_t days = hour_in_year / 24;
  const auto after = std::upper_bound(days_before.begin(), days_before.end(), days);
  return told(int(after - days_before.begin()), int(days - *(after - 1)) + 1,
              int(hour_in_year % 24));
}

bool is_leap_day(const Stamp& s) { return s.month == 2 && s.day == 29; }

/// A row's hour, once its number of fields is right.
std::optional<Stamp> stamp_of(Text& text, const Layout& layout, std::size_t line,
                              const Fields& fields) {
  if (fields.size() < layout.fewest || fields.size() > layout.most) {
    const bool more = fields.size() > layout.most;
    const auto wanted = layout.fewest == layout.most
                            ? fmt::format("{}", layout.most)
                            : fmt::format("{} to {}", layout.fewest, layout.most);
    text.error(line, text[line], "", fmt::format("wants {} fields, got {}", wanted, fields.size()),
               more ? "a decimal comma makes two fields of one: write 2.04, not 2,04"
                    : "the row is cut off, or its fields are not separated by commas");
    return std::nullopt;
  }
  const auto stamp = layout.stamp(fields);
  if (!stamp)
    text.error(line, fields[0], "date",
               fmt::format("wants a date and hour such as {}, got {}", layout.stamp_example,
                           quoted(text[line])),
               "one row an hour, its stamp as the format has it");
  return stamp;
}

double value_of(Text& text, std::size_t line, std::string_view field, const Column& column,
                bool forgiving) {
  if (field.empty()) return no_value;
  const auto value = parse_double(field);
  if (value && column.missing && *value == *column.missing) return no_value;
  if (value && *value >= column.wanted.least && *value <= column.wanted.most)
    return *value + 0.0;  // -0.0 is 0.0
  if (forgiving) return no_value;
  return text
      .number(line, field, column.wanted,
              column.missing
                  ? fmt::format("a value that is missing is written {:g}", *column.missing)
                  : "a value that is missing is left empty")
      .value_or(0.0);
}

Hours read_rows(Text& text, Layout layout) {
  Hours hours;
  Fields fields;
  std::size_t next = 0;  // hour of the year
  bool in_order = true;
  for (std::size_t line = layout.first_row; line < text.size() && !text.full(); ++line) {
    if (trimmed(text[line]).empty()) {
      if (layout.legend) break;
      continue;
    }
    split(text[line], fields);
    const auto stamp = stamp_of(text, layout, line, fields);
    if (stamp) {
      layout.fewest = layout.most = fields.size();
      constexpr std::size_t first_of_march = 59 * 24;
      if (is_leap_day(*stamp) && next == first_of_march) continue;
      if (hour_of_year(*stamp) != next || is_leap_day(*stamp)) {
        text.error(line, fields[0], "date",
                   fmt::format("wants {}, got {}", told(next),
                               told(stamp->month, stamp->day, stamp->hour)),
                   "rows follow one another from 1 January on, one an hour; look for a row that "
                   "is missing or doubled before this one");
        in_order = false;
      }
      next = hour_of_year(*stamp);
    }
    next = (next + 1) % hours_of_year;
    hours.line.push_back(line);
    hours.year.push_back(stamp ? stamp->year : 0);
    for (std::size_t c = 0; c < column_count; ++c) {
      const Column& column = layout.columns[c];
      const bool readable = stamp && column.at;
      hours.columns[c].push_back(
          readable ? value_of(text, line, fields[*column.at], column, is_forgiven(c))
          : stamp  ? no_value
                   : 0.0);
    }
  }
  const std::size_t count = hours.line.size();
  if (in_order && !text.full() && (count == 0 || count % hours_of_year != 0))
    text.error(
        count == 0 ? layout.first_row - 1 : hours.line.back(), {}, "",
        fmt::format("wants {} rows a year, without 29 February; got {}", hours_of_year, count),
        "the file does not end with 31 December; get it again, whole");
  return hours;
}

struct Gap {
  std::size_t first, length;
};
/// Runs of missing values. The years are a ring: what is before the first hour is the last.
std::vector<Gap> gaps_in(const std::vector<double>& values) {
  const std::size_t n = values.size();
  std::size_t start = 0;
  while (start < n && std::isnan(values[start])) ++start;
  if (start == n) return {{0, n}};
  std::vector<Gap> gaps;
  for (std::size_t k = 1; k < n; ++k) {
    const std::size_t i = (start + k) % n;
    if (!std::isnan(values[i])) continue;
    if (!gaps.empty() && (gaps.back().first + gaps.back().length) % n == i) ++gaps.back().length;
    else gaps.push_back({i, 1});
  }
  return gaps;
}

void too_long(Text& text, const Hours& hours, const Gap& gap, const Column& column) {
  const std::size_t line = hours.line[gap.first];
  Fields fields;
  split(text[line], fields);
  const std::size_t last = (gap.first + gap.length - 1) % hours.line.size();
  text.error(line, fields[*column.at], column.wanted.key,
             fmt::format("is missing for {} hours, lines {} to {}", gap.length, line + 1,
                         hours.line[last] + 1),
             fmt::format("up to {} hours are filled on a straight line; each hour needs global and "
                         "diffuse radiation and air temperature, only the beam may be missing",
                         longest_gap));
}

/// Returns the number of hours in which something was filled in.
int fill_gaps(Text& text, const Layout& layout, Hours& hours) {
  const std::size_t n = hours.line.size();
  std::vector<bool> filled(n);
  for (std::size_t c = 0; c < column_count; ++c) {
    auto& values = hours.columns[c];
    const auto gaps = gaps_in(values);
    const auto is_long = [](const Gap& gap) { return gap.length > longest_gap; };
    if (may_be_missing(c) && std::any_of(gaps.begin(), gaps.end(), is_long)) {
      values.clear();
      continue;
    }
    for (const Gap& gap : gaps) {
      if (is_long(gap)) {
        too_long(text, hours, gap, layout.columns[c]);
        continue;
      }
      const double from = values[(gap.first + n - 1) % n];
      const double to = values[(gap.first + gap.length) % n];
      for (std::size_t k = 0; k < gap.length; ++k) {
        const std::size_t i = (gap.first + k) % n;
        values[i] = from + (to - from) * double(k + 1) / double(gap.length + 1);
        filled[i] = filled[i] || !is_forgiven(c);
      }
    }
  }
  for (std::size_t i = 0; i < n; ++i)
    if (filled[i])
      hours.columns[diffuse][i] = std::min(hours.columns[diffuse][i], hours.columns[global][i]);
  return int(std::count(filled.begin(), filled.end(), true));
}

/// Several years must be those of the calendar, one after the other.
void check_years(Text& text, const Hours& hours) {
  if (hours.year.size() == hours_of_year) return;
  for (std::size_t i = 0; i < hours.year.size(); ++i) {
    const int wanted = hours.year[0] + int(i / hours_of_year);
    if (hours.year[i] == wanted) continue;
    text.error(
        hours.line[i], text[hours.line[i]].substr(0, 1), "date",
        fmt::format("wants the year {}, got {}", wanted, hours.year[i]),
        "several years in one file are whole and follow one another; a typical year is by itself");
    return;
  }
}

/// A station without an anemometer writes 0 throughout: that says nothing.
void drop_no_wind(std::vector<double>& values) {
  if (std::all_of(values.begin(), values.end(), [](double v) { return v == 0.0; })) values.clear();
}

/// Mean of what the file states of each hour, by its light.
std::optional<Ratio> mean_uncertainty(const Hours& hours) {
  const auto &light = hours.columns[global], &percent = hours.columns[uncertainty];
  double all = 0.0, doubted = 0.0;
  for (std::size_t i = 0; i < percent.size(); ++i) {
    all += light[i];
    doubted += light[i] * percent[i] / 100.0;
  }
  if (!(doubted > 0.0)) return std::nullopt;
  return Ratio(doubted / all);
}

void warn_of_clock(Diagnostics& diagnostics, const WeatherFile& file, const Clock& clock) {
  const double minutes = clock.left / hour * 60.0;
  diagnostics.warning(
      {file.file, 1, 1, 1}, "",
      fmt::format("its clear days centre {:.0f} min {} the sun's noon, by every reading of its "
                  "stamps",
                  std::abs(minutes), minutes < 0.0 ? "before" : "after"),
      "its sun is counted as if they centred on noon; see that the time zone and longitude at the "
      "top of the file are those of the place, and that the rows are in standard time");
}

template <class Q, class Make>
std::vector<Q> made(std::vector<double> values, const WeatherFile& file, bool universal_time,
                    Make make) {
  if (universal_time && !values.empty()) {
    const auto n = std::ptrdiff_t(values.size());
    const auto first = std::ptrdiff_t(std::lround(-double(file.zone / hour)));
    std::rotate(values.begin(), values.begin() + (first + n) % n, values.end());
  }
  std::vector<Q> all;
  all.reserve(values.size());
  for (const double value : values) all.push_back(make(value));
  return all;
}

std::string read_as(const Clock& clock, const Layout& layout) {
  std::string text;
  if (!clock.read_as.empty()) text += ", radiation read " + std::string(clock.read_as);
  if (clock.universal_time && !layout.universal_time) text += ", rows read in universal time";
  return text;
}

}  // namespace

std::optional<WeatherFile> read_weather(std::string_view name, std::string_view content,
                                        Diagnostics& diagnostics) {
  Text text(name, content, diagnostics);
  WeatherFile file;
  const auto layout = read_head(text, file);
  if (!layout) return std::nullopt;
  Hours hours = read_rows(text, *layout);
  if (hours.line.empty()) return std::nullopt;
  file.filled = fill_gaps(text, *layout, hours);
  if (text.sound()) check_years(text, hours);
  if (!text.sound()) return std::nullopt;

  file.file = std::string(name);
  file.years = int(hours.line.size() / hours_of_year);
  if (file.years > 1) file.kind = WeatherFile::Kind::measured;
  const Clock clock = clock_of(hours.columns[global], *layout, file);
  file.sun_shift = clock.shift;
  if (!clock.centred()) warn_of_clock(diagnostics, file, clock);
  drop_no_wind(hours.columns[wind]);
  file.uncertainty = mean_uncertainty(hours);
  const auto irradiances = [&](std::size_t column) {
    return made<Irradiance>(std::move(hours.columns[column]), file, clock.universal_time,
                            [](double value) { return Irradiance::from_value(value); });
  };
  file.global = irradiances(global);
  file.beam = irradiances(beam);
  file.diffuse = irradiances(diffuse);
  file.air = made<Temperature>(std::move(hours.columns[air]), file, clock.universal_time, celsius);
  using Speed = Quotient<Length, Duration>;
  file.wind = made<Speed>(std::move(hours.columns[wind]), file, clock.universal_time,
                          [](double value) { return Speed::from_value(value); });
  const auto kept = std::make_shared<const std::array<std::string, 2>>(
      std::array<std::string, 2>{file.file, layout->origin + read_as(clock, *layout)});
  file.source = {SourceKind::supplier, (*kept)[0], (*kept)[1]};
  file.kept = kept;
  return file;
}

}  // namespace housepower::tables
