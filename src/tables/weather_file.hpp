// SPDX-License-Identifier: Apache-2.0
// The inside of the reader of weather files: its text with the problems in it, and what each of the
// formats says of itself.
#pragma once

#include <array>
#include <cmath>

#include "housepower/tables/weather_file.hpp"

namespace housepower::tables::weather {

using Fields = std::vector<std::string_view>;

/// Blanks off both ends; what is left lies in the text, also where nothing is.
[[nodiscard]] std::string_view trimmed(std::string_view text);
/// The fields of a line, commas between them; a comma in double quotes is none.
void split(std::string_view line, Fields& fields);
[[nodiscard]] std::string quoted(std::string_view text);

/// What a number must be: "`zone` wants h from -12 to 14".
struct Wanted {
  std::string_view key, unit;
  double least, most;
};

/// The lines of a file and what is wrong in them, up to twenty problems. Lines count from 0 here.
class Text {
public:
  Text(std::string_view file, std::string_view text, Diagnostics& diagnostics);
  [[nodiscard]] std::size_t size() const { return lines_.size(); }
  [[nodiscard]] std::string_view operator[](std::size_t line) const { return lines_[line]; }
  [[nodiscard]] bool sound() const { return errors_ == 0; }
  [[nodiscard]] bool full() const { return errors_ == 20; }

  /// `part` lies in the line. Nothing is added once it is full.
  void error(std::size_t line, std::string_view part, std::string_view key, std::string message,
             std::string hint);
  /// Nothing, and an error, where the part is not such a number.
  std::optional<double> number(std::size_t line, std::string_view part, const Wanted& wanted,
                               std::string_view hint);

private:
  std::string file_;
  std::vector<std::string_view> lines_;
  Diagnostics& diagnostics_;
  int errors_ = 0;
};

/// The hour of a row by its beginning: 0 to 23.
struct Stamp {
  int year = 0, month = 0, day = 0, hour = 0;
};

struct Column {
  Wanted wanted;
  std::optional<std::size_t> at{};  // among the fields; nothing: the file has no such column
  std::optional<double> missing{};  // what stands for a value that is missing
};
enum : std::size_t { global, beam, diffuse, air, wind, uncertainty, column_count };
/// A long gap in it is no error.
constexpr bool may_be_missing(std::size_t column) { return column == beam || column >= wind; }
/// A value that cannot be is a missing one.
constexpr bool is_forgiven(std::size_t column) { return column >= wind; }

/// How the rows of a file are laid out.
struct Layout {
  std::size_t first_row = 0;
  std::size_t fewest = 0, most = 0;  // fields; all rows have as many as the first
  bool legend = false;               // an empty line ends the rows, and other text may follow
  bool universal_time = false;
  std::optional<double> time_offset{};  // h, of the radiation against its stamp, as the head says
  std::optional<Stamp> (*stamp)(const Fields&) = nullptr;
  std::string_view stamp_example;
  std::array<Column, column_count> columns{};
  std::string origin;  // the format and what the file says of its making
};

/// What the stamps mean for the radiation.
struct Clock {
  Duration shift{};             // see WeatherFile::sun_shift
  bool universal_time = false;  // of all columns
  std::string_view read_as;     // in words; empty: as the format has it
  Duration left{};  // by which clear days stand behind the sun's noon by the nearest reading
  /// To a sixth of an hour: in four files they do to two minutes, the clearest by chance to three.
  [[nodiscard]] bool centred() const { return std::abs(left / hour) <= 1.0 / 6.0; }
};
[[nodiscard]] Clock clock_of(const std::vector<double>& global, const Layout&,
                             const WeatherFile& place);

/// Recognises the format and reads its head: the place into `file`, and how the rows are laid out.
[[nodiscard]] std::optional<Layout> read_head(Text& text, WeatherFile& file);

}  // namespace housepower::tables::weather
