// SPDX-License-Identifier: Apache-2.0
// The heads of EPW, TMY3 csv and PVGIS TMY csv. Sources: EPW, a public list of its fields with their
// missing codes (that rows of older files have 32 fields is from memory); TMY3 and PVGIS, files of
// them; the lines of the place before a PVGIS table are from memory.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "housepower/units/unit.hpp"
#include "weather_file.hpp"

namespace housepower::tables::weather {
namespace {

constexpr Wanted latitude{"latitude", "degrees", -90.0, 90.0};
constexpr Wanted wanted_longitude{"longitude", "degrees", -180.0, 180.0};
constexpr Wanted wanted_zone{"time zone", "h", -12.0, 14.0};
constexpr Wanted elevation{"elevation", "m", -500.0, 9000.0};
constexpr std::array<Wanted, column_count> wanted_values{
    {{"global radiation", "W/m²", 0.0, 1500.0},
     {"beam radiation", "W/m²", 0.0, 1500.0},
     {"diffuse radiation", "W/m²", 0.0, 1500.0},
     {"air temperature", "°C", -90.0, 60.0},
     {"wind", "m/s", 0.0, 60.0},
     {"uncertainty", "%", 0.0, 100.0}}};
constexpr std::string_view north_and_east = "north and east are positive; write a decimal point";

std::optional<int> whole(std::string_view digits) {
  if (digits.empty() || digits.size() > 8) return std::nullopt;
  int value = 0;
  for (const char c : digits) {
    if (c < '0' || c > '9') return std::nullopt;
    value = 10 * value + (c - '0');
  }
  return value;
}

std::optional<Stamp> stamp(std::optional<int> y, std::optional<int> m, std::optional<int> d,
                           std::optional<int> h) {
  constexpr std::array<int, 13> days{0, 31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  if (!y || !m || !d || !h || *m < 1 || *m > 12 || *d < 1 || *h < 0 || *h > 23) return std::nullopt;
  if (*d > days[std::size_t(*m)]) return std::nullopt;
  return Stamp{*y, *m, *d, *h};
}

/// The hour that ends at the n-th of the day.
std::optional<int> ending(std::optional<int> n) { return n ? std::optional(*n - 1) : n; }

std::optional<Stamp> epw_stamp(const Fields& f) {
  return stamp(whole(f[0]), whole(f[1]), whole(f[2]), ending(whole(f[3])));
}

std::optional<Stamp> tmy3_stamp(const Fields& f) {  // "01/31/1988", "24:00"
  const std::string_view date = f[0], clock = f[1];
  if (date.size() != 10 || date[2] != '/' || date[5] != '/' || clock.size() != 5 ||
      clock.substr(2) != ":00")
    return std::nullopt;
  return stamp(whole(date.substr(6)), whole(date.substr(0, 2)), whole(date.substr(3, 2)),
               ending(whole(clock.substr(0, 2))));
}

std::optional<Stamp> pvgis_stamp(const Fields& f) {  // "20180131:2300"
  const std::string_view text = f[0];
  if (text.size() != 13 || text[8] != ':' || !whole(text.substr(11))) return std::nullopt;
  return stamp(whole(text.substr(0, 4)), whole(text.substr(4, 2)), whole(text.substr(6, 2)),
               whole(text.substr(9, 2)));
}

/// "Name, region, country" of what is there, quotes and doubled blanks left out.
std::string title_of(std::initializer_list<std::string_view> parts) {
  std::string title;
  for (const std::string_view part : parts) {
    if (part.empty()) continue;
    if (!title.empty()) title += ", ";
    for (const char c : part)
      if (c != '"' && !(c == ' ' && !title.empty() && title.back() == ' ')) title += c;
  }
  return title;
}

struct PlaceText {
  std::string_view latitude, longitude, zone, elevation;
};
void read_place(Text& text, const PlaceText& place, WeatherFile& file) {
  const auto read = [&](std::string_view part, const Wanted& wanted, std::string_view hint) {
    return text.number(0, part, wanted, hint).value_or(0.0);
  };
  file.latitude = read(place.latitude, latitude, north_and_east) * degree;
  file.longitude = read(place.longitude, wanted_longitude, north_and_east) * degree;
  file.zone = read(place.zone, wanted_zone, "hours that standard time is ahead of UTC") * hour;
  file.elevation = read(place.elevation, elevation, "above the sea") * metre;
}

/// A head's fields must be there before any is read.
bool has_fields(Text& text, const Fields& fields, std::size_t least, std::string_view pattern) {
  if (fields.size() >= least) return true;
  text.error(0, text[0], "", fmt::format("wants {} fields, got {}", least, fields.size()),
             fmt::format("write {}", pattern));
  return false;
}

bool hourly_periods(Text& text) {
  Fields fields;
  constexpr std::size_t last = 7;
  const auto line = text.size() > last ? text[last] : std::string_view{};
  split(line, fields);
  if (fields[0] != "DATA PERIODS") {
    text.error(std::min(last, text.size() - 1), {}, "",
               fmt::format("wants \"DATA PERIODS\" in line 8, got {}", quoted(fields[0])),
               "an EPW file has 8 heading lines before its first row");
    return false;
  }
  if (fields.size() < 3 || (fields[1] == "1" && fields[2] == "1")) return true;
  text.error(
      last, fields[1], "DATA PERIODS",
      fmt::format("wants one period of one row an hour (1,1), got {},{}", fields[1], fields[2]),
      "get the file by the hour, all of it in one period");
  return false;
}

/// "Irradiance Time Offset (h): -0.8239" somewhere in the head.
std::optional<double> stated_offset(const Text& text) {
  constexpr std::string_view name = "Irradiance Time Offset";
  for (std::size_t line = 0; line < 8; ++line) {
    const auto found = text[line].find(name);
    if (found == std::string_view::npos) continue;
    std::string_view rest = text[line].substr(found + name.size());
    rest.remove_prefix(std::min(rest.find_first_of("+-.0123456789"), rest.size()));
    rest = rest.substr(0, rest.find_first_not_of("+-.0123456789"));
    const auto hours = parse_double(rest);
    if (hours && std::abs(*hours) <= 24.0) return hours;
  }
  return std::nullopt;
}

std::optional<Layout> epw(Text& text, WeatherFile& file) {
  Fields f;
  split(text[0], f);
  if (!has_fields(text, f, 10,
                  "LOCATION,city,region,country,source,station,latitude,longitude,zone,elevation"))
    return std::nullopt;
  read_place(text, {f[6], f[7], f[8], f[9]}, file);
  file.title = title_of({f[1], f[2], f[3]});
  if (!hourly_periods(text)) return std::nullopt;
  Layout layout{8, 32, 35, false, false, {}, epw_stamp, "1999,1,31,24", {}, {}};
  layout.columns = {{{wanted_values[global], 13, 9999.0},
                     {wanted_values[beam], 14, 9999.0},
                     {wanted_values[diffuse], 15, 9999.0},
                     {wanted_values[air], 6, 99.9},
                     {wanted_values[wind], 21, {}},
                     {wanted_values[uncertainty], {}, {}}}};
  layout.time_offset = stated_offset(text);
  layout.origin =
      title_of({"EPW", f[4], text[5].substr(std::min(text[5].find(',') + 1, text[5].size()))});
  return layout;
}

/// Finds the columns by their heads. Beam and wind may be missing.
bool find_columns(Text& text, std::size_t line,
                  const std::array<std::string_view, column_count>& names, Layout& layout) {
  Fields heads;
  split(text[line], heads);
  layout.first_row = line + 1;
  layout.fewest = layout.most = heads.size();
  bool all = true;
  for (std::size_t c = 0; c < column_count; ++c) {
    layout.columns[c].wanted = wanted_values[c];
    const auto found =
        names[c].empty() ? heads.end() : std::find(heads.begin(), heads.end(), names[c]);
    if (found != heads.end()) layout.columns[c].at = std::size_t(found - heads.begin());
    else if (!may_be_missing(c)) {
      text.error(line, text[line], wanted_values[c].key,
                 fmt::format("wants a column \"{}\"", names[c]),
                 "get the file with all of its columns");
      all = false;
    }
  }
  return all;
}

std::optional<Layout> tmy3(Text& text, WeatherFile& file) {
  Fields f;
  split(text[0], f);
  if (!has_fields(text, f, 7, "station,\"name\",region,zone,latitude,longitude,elevation"))
    return std::nullopt;
  read_place(text, {f[4], f[5], f[3], f[6]}, file);
  file.title = title_of({f[1], f[2]});
  Layout layout{2, 0, 0, false, false, {}, tmy3_stamp, "01/31/1988,24:00", {}, {}};
  layout.origin = title_of({"TMY3 csv", f[0]});
  for (Column& column : layout.columns) column.missing = -9900.0;
  if (!find_columns(text, 1,
                    {"GHI (W/m^2)", "DNI (W/m^2)", "DHI (W/m^2)", "Dry-bulb (C)", "Wspd (m/s)",
                     "GHI uncert (%)"},
                    layout))
    return std::nullopt;
  return layout;
}

/// Of a line "Latitude (decimal degrees): 45.0" above the table.
std::optional<double> noted(Text& text, std::size_t heads, std::string_view label,
                            const Wanted& wanted) {
  for (std::size_t line = 0; line < heads; ++line)
    if (text[line].starts_with(label))
      return text
          .number(line, trimmed(text[line].substr(label.size())), wanted,
                  fmt::format("write \"{} 45.0\"", label))
          .value_or(0.0);
  return std::nullopt;
}

std::optional<Layout> pvgis(Text& text, std::size_t heads, WeatherFile& file) {
  const auto needed = [&](std::string_view label, const Wanted& wanted) {
    const auto value = noted(text, heads, label, wanted);
    if (!value)
      text.error(heads, {}, wanted.key,
                 fmt::format("wants a line \"{} …\" above the table, found none", label),
                 fmt::format("add the line \"{} 45.0\" at the top, with the place's own {}; north "
                             "and east are positive",
                             label, wanted.key));
    return value.value_or(0.0);
  };
  const double north = needed("Latitude (decimal degrees):", latitude);
  const double east = needed("Longitude (decimal degrees):", wanted_longitude);
  file.latitude = north * degree;
  file.longitude = east * degree;
  file.zone = std::round(east / 15.0) * hour;
  file.elevation = noted(text, heads, "Elevation (m):", elevation).value_or(0.0) * metre;
  file.title = fmt::format("{:.2f}° {}, {:.2f}° {}", std::abs(north), north < 0.0 ? "S" : "N",
                           std::abs(east), east < 0.0 ? "W" : "E");
  Layout layout{0, 0, 0, true, true, {}, pvgis_stamp, "20180131:2300", {}, {}};
  layout.origin = "PVGIS TMY csv";
  if (!find_columns(text, heads, {"G(h)", "Gb(n)", "Gd(h)", "T2m", "WS10m", ""}, layout))
    return std::nullopt;
  return layout;
}

bool has_commas(Text& text, std::size_t line, std::string_view first) {
  const auto next = text[line].substr(first.size(), 1);
  if (next == ",") return true;
  text.error(line, next, "", fmt::format("wants commas between its fields, got {}", quoted(next)),
             "save it again with commas between fields and points in numbers: 2.04, not 2,04");
  return false;
}

}  // namespace

std::optional<Layout> read_head(Text& text, WeatherFile& file) {
  constexpr std::string_view of_epw = "LOCATION", of_tmy3 = "Date (MM/DD/YYYY)",
                             of_pvgis = "time(UTC)";
  if (text.size() > 0 && text[0].starts_with(of_epw))
    return has_commas(text, 0, of_epw) ? epw(text, file) : std::nullopt;
  if (text.size() > 1 && text[1].starts_with(of_tmy3))
    return has_commas(text, 1, of_tmy3) ? tmy3(text, file) : std::nullopt;
  for (std::size_t line = 0; line < std::min<std::size_t>(text.size(), 50); ++line)
    if (text[line].starts_with(of_pvgis))
      return has_commas(text, line, of_pvgis) ? pvgis(text, line, file) : std::nullopt;
  const auto first = text.size() > 0 ? text[0] : std::string_view{};
  text.error(0, {}, "",
             "wants hourly weather as EPW, TMY3 csv or PVGIS TMY csv, got " +
                 (first.empty() ? "an empty line" : quoted(first)),
             "an EPW file begins with \"LOCATION,\", the second line of a TMY3 csv with \"Date "
             "(MM/DD/YYYY),\", the table of a PVGIS TMY csv with \"time(UTC),\"");
  return std::nullopt;
}

}  // namespace housepower::tables::weather
