// SPDX-License-Identifier: Apache-2.0
// A small document type for the tests of this room: one key of each shape, tables in tables.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/reading/fields.hpp"

namespace small {

using namespace housepower;

enum class Lie { free, clipped };

struct Guard {
  std::string type;
  Current rating{};
  Place place;
};
struct Wire {
  std::string name;
  Length length{};
  std::optional<Ratio> duty;
  std::optional<Power> power;
  std::optional<Current> current;
  std::optional<Lie> lie;
  std::optional<bool> earthed;
  std::optional<int> count;
  std::optional<Temperature> ambient;
  std::vector<Duration> times;
  std::vector<Guard> guard;
  Place place;
};
struct Box {
  std::optional<Length> depth;
  std::optional<Guard> guard;
};
struct File {
  int schema = 0;
  std::optional<Box> box;
  std::vector<Wire> wire;
};

}  // namespace small

namespace housepower {
template <>
inline constexpr auto words<small::Lie> = std::array<std::string_view, 2>{"free", "clipped"};

template <>
inline constexpr auto fields<small::Guard> = std::array{
    field<&small::Guard::type>("type", "Its type.", "blade"),
    field<&small::Guard::rating>("rating", "Rated current.", "15 A").more_than(0.0 * ampere)};

template <>
inline constexpr auto fields<small::Wire> = std::array{
    field<&small::Wire::name>("name", "Its name.", "fridge"),
    field<&small::Wire::length>("length", "One way.", "2.4 m").more_than(0.0 * metre),
    field<&small::Wire::duty>("duty", "Share of the time.", "40 %")
        .at_least(Ratio(0.0))
        .at_most(Ratio(1.0))
        .or_else("100 %"),
    field<&small::Wire::power>("power", "At the terminals.", "45 W"),
    field<&small::Wire::current>("current", "At the terminals.", "4 A"),
    field<&small::Wire::lie>("lie", "How it lies.", "free").or_else("clipped", "free"),
    field<&small::Wire::earthed>("earthed", "To the chassis.", "true").or_else("false"),
    field<&small::Wire::count>("count", "How many | alike.", "2")
        .at_least(Ratio(1.0))
        .at_most(Ratio(9.0))
        .or_else("1", "3"),
    field<&small::Wire::ambient>("ambient", "Air beside it.", "45 °C").at_least(celsius(-40.0)),
    field<&small::Wire::times>("times", "When.", "2 h"),
    field<&small::Wire::guard>("guard", "Its fuses."),
    exactly_one({"power", "current"}),
    at_most_one({"count", "times"})};

template <>
inline constexpr auto fields<small::Box> =
    std::array{field<&small::Box::depth>("depth", "Inside.", "0.3 m").or_else("0.5 m"),
               field<&small::Box::guard>("guard", "Its fuse.")};

template <>
inline constexpr auto fields<small::File> =
    std::array{field<&small::File::schema>("schema", "Format.", "1").at_least(Ratio(1.0)),
               field<&small::File::box>("box", "The box."),
               field<&small::File::wire>("wire", "A run.")};
}  // namespace housepower

namespace small {

/// Everything that reading a text says, and what it gave.
struct Read {
  Diagnostics diagnostics;
  std::optional<Node> node;
  std::optional<File> file;
};

inline Read read_text_of_file(std::string_view text) {
  Read out;
  out.node = parse_toml(text, "small.toml", out.diagnostics);
  if (!out.node) return out;
  Reading reading{out.diagnostics};
  out.file = read<File>(*out.node, reading);
  out.diagnostics.sort_by_place();
  return out;
}

/// A sound wire with one more line.
inline std::string wire_with(std::string_view line) {
  return "schema = 1\n[[wire]]\nname = \"fridge\"\nlength = \"2 m\"\npower = \"45 W\"\n" +
         std::string(line) + "\n";
}

}  // namespace small
