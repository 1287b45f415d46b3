// SPDX-License-Identifier: Apache-2.0
// What a written size means. The trade has several things called "6": nothing is guessed.
#include <algorithm>
#include <array>
#include <cctype>

#include "housepower/units/phrases.hpp"
#include "loaders.hpp"

namespace housepower::tables {
namespace {

constexpr std::string_view grammar = "write \"<size> [awg|sae|b&s|auto-od|mm2] [class 2|5|6] "
                                     "[tinned]\", as in \"35 mm2\" or \"2/0 awg\"";

struct Written {
  std::string all, size, unit, strands, series;
  bool tinned = false;
};

std::vector<std::string> words_of(std::string_view written) {
  std::string text;
  for (std::size_t i = 0; i < written.size(); ++i) {
    if (written.substr(i, 2) == "²") text += "2", ++i;
    else text += static_cast<char>(std::tolower(static_cast<unsigned char>(written[i])));
  }
  // "35mm2": the size ends where its figures do.
  const auto end = text.find_first_not_of("0123456789./", text.find_first_not_of(" \t"));
  if (end != text.npos) text.insert(end, " ");
  std::vector<std::string> words;
  for (std::size_t from = 0; (from = text.find_first_not_of(" \t", from)) != text.npos;) {
    const auto to = std::min(text.find_first_of(" \t", from), text.size());
    words.push_back(text.substr(from, to - from));
    from = to;
  }
  return words;
}

// Each word but the first; the one that was not understood comes back.
std::string understand(Written& out, const std::vector<std::string>& words, const Tables& tables) {
  static constexpr std::array<std::string_view, 7> units{"mm2", "mm",  "awg",    "kcmil",
                                                         "sae", "b&s", "auto-od"};
  for (std::size_t i = 1; i < words.size(); ++i) {
    const std::string& word = words[i];
    const bool unit = std::find(units.begin(), units.end(), word) != units.end();
    if (unit && (out.unit.empty() || out.unit == "mm")) out.unit = word;
    else if (word == "tinned" && !out.tinned) out.tinned = true;
    else if (word == "class" && i + 1 < words.size() && out.strands.empty())
      out.strands = words[++i];
    else if (!unit && out.series.empty() && !series_named(tables, word).empty()) out.series = word;
    else return word;
  }
  return {};
}

SizeProblem both_readings(const Written& w, const Tables& tables) {
  SizeProblem problem{quoted(w.all) + " alone may be an outside diameter or an area", {}};
  const auto* cable = sized(series_named(tables, "auto-od"), w.size);
  problem.hint = quoted(w.size + " auto-od") + " is cable of " + w.size + " mm outside diameter";
  if (cable) problem.hint += " with " + print(cable->copper) + " of copper";
  problem.hint += "; " + quoted(w.size + " mm2") + " is " + w.size + " mm² of conductor";
  return problem;
}

/// What may follow a size, and the series that it is then of; a bare size is asked for the first five.
struct SizeReading {
  std::string_view unit, series;
};
constexpr std::array size_readings{
    SizeReading{"mm2", "iec-60228-5"}, SizeReading{"awg", "nec-8"},
    SizeReading{"auto-od", "auto-od"}, SizeReading{"sae", "sae"},
    SizeReading{"b&s", "b&s"},         SizeReading{"kcmil", "nec-8"}};
constexpr std::size_t readings_of_a_bare_size = 5;

std::string_view series_of_unit(std::string_view unit) {
  const auto found = std::find_if(size_readings.begin(), size_readings.end(),
                                  [&](const SizeReading& r) { return r.unit == unit; });
  return found == size_readings.end() ? unit : found->series;
}

SizeProblem no_unit(const Written& w, const Tables& tables) {
  SizeProblem problem{quoted(w.all) + " is a number without what it counts", {}};
  for (const auto& reading : std::span(size_readings).first<readings_of_a_bare_size>())
    if (const auto* wire = sized(series_named(tables, reading.series), w.size))
      problem.hint += (problem.hint.empty() ? "" : ", ") +
                      quoted(w.size + " " + std::string(reading.unit)) + " has " +
                      housepower::written(wire->copper) + " of copper";
  if (problem.hint.empty()) problem.hint = grammar;
  return problem;
}

std::optional<StrandClass> class_of(const Written& w) {
  if (w.strands == "2") return StrandClass::class_2;
  if (w.strands == "5") return StrandClass::class_5;
  if (w.strands == "6") return StrandClass::class_6;
  return std::nullopt;
}

std::string series_of(const Written& w) {
  if (!w.series.empty()) return w.series;
  if (class_of(w) == StrandClass::class_2) return "iec-60228-2";
  return std::string(series_of_unit(w.unit));
}

/// A unit and the name of a series that has no sizes in it.
std::optional<SizeProblem> wrong_unit(const Written& w, const Tables& tables) {
  const bool is_area = w.unit == "mm2", is_gauge = w.unit == "awg" || w.unit == "kcmil";
  if (w.series.empty() || (!is_area && !is_gauge)) return std::nullopt;
  const auto series = series_named(tables, w.series);
  const bool of_areas = std::any_of(series.begin(), series.end(), [](const Conductor& wire) {
    return words_of(wire.name).at(1) == "mm2";
  });
  if (of_areas == is_area) return std::nullopt;
  return SizeProblem{quoted(w.all) + ": " + w.series + " has no sizes in " + w.unit,
                     "write the size with its unit, or with the name of its table, not with both"};
}

std::optional<SizeProblem> wrong_class(const Written& w) {
  if (w.strands.empty()) return std::nullopt;
  if (w.unit != "mm2" || !w.series.empty())
    return SizeProblem{quoted(w.all) + ": classes are of metric sizes (IEC 60228) only",
                       "leave \"class " + w.strands + "\" out, or write an area in mm2"};
  if (class_of(w)) return std::nullopt;
  return SizeProblem{quoted(w.all) + ": no class " + w.strands + " is in the tables",
                     "class 2 is stranded, class 5 flexible, class 6 very flexible"};
}

SizeProblem no_such_size(const Written& w, std::string_view series, const Tables& tables) {
  std::string known;
  for (const auto& wire : series_named(tables, series))
    known += (known.empty() ? "" : ", ") + std::string(size_in(wire.name));
  return {quoted(w.all) + " is not a size of " + std::string(series), "it has " + known};
}

}  // namespace

std::string plain_size(std::string_view size) {
  if (!size.empty() && size.find_first_not_of('0') == size.npos)
    return std::to_string(size.size()) + "/0";
  std::string plain(size);
  if (plain.find('.') == plain.npos) return plain;
  if (plain.find('/') != plain.npos) return plain;
  while (plain.back() == '0') plain.pop_back();
  if (plain.back() == '.') plain.pop_back();
  return plain;
}

std::string_view size_in(std::string_view name) { return name.substr(0, name.find(' ')); }

const Conductor* sized(std::span<const Conductor> series, std::string_view size) {
  const std::string wanted = plain_size(size);
  for (const auto& wire : series)
    if (plain_size(size_in(wire.name)) == wanted) return &wire;
  return nullptr;
}

std::span<const Conductor> series_named(const Tables& tables, std::string_view name) {
  constexpr std::string_view ending = " tinned";
  const bool tinned = name.ends_with(ending);
  if (tinned) name.remove_suffix(ending.size());
  if (name == "metric") name = "iec-60228-5";
  if (name == "awg") name = "nec-8";
  std::span<const Conductor> other;  // aircraft wire exists tinned only
  for (const auto& series : tables.conductors) {
    if (series.empty() || series.front().series != name) continue;
    if (series.front().tinned == tinned) return series;
    if (!tinned) other = series;
  }
  return other;
}

std::optional<std::string> named_in_series(const Tables& tables, std::string_view written,
                                           std::string_view series) {
  const auto words = words_of(written);
  if (words.size() != 1 || words.front().find_first_not_of("0123456789./") != std::string::npos)
    return std::nullopt;
  const auto* wire = sized(series_named(tables, series), words.front());
  return wire ? std::optional(wire->name) : std::nullopt;
}

std::string shown_name(const Conductor& c) {
  const bool metric = c.strands.has_value();
  if (units_shown() == UnitsShown::us && metric) return c.name + " (" + gauge_of(c.nominal) + ")";
  if (units_shown() == UnitsShown::metric && !metric)
    return c.name + " (" + housepower::written(c.copper) + ")";
  return c.name;
}

std::variant<Conductor, SizeProblem> conductor_named(const Tables& tables,
                                                     std::string_view written) {
  Written w;
  w.all = written;
  const auto words = words_of(written);
  if (words.empty() || words.front().find_first_not_of("0123456789./") != std::string::npos)
    return SizeProblem{quoted(written) + " does not begin with a size", std::string(grammar)};
  w.size = words.front();
  if (const auto word = understand(w, words, tables); !word.empty())
    return SizeProblem{quoted(written) + ": " + quoted(word) + " is not a word of a size",
                       std::string(grammar)};
  if (w.unit == "mm") return both_readings(w, tables);
  if (w.unit.empty() && w.series.empty()) return no_unit(w, tables);
  if (auto problem = wrong_unit(w, tables)) return *problem;
  if (auto problem = wrong_class(w)) return *problem;

  const std::string series = series_of(w);
  const auto* wire = sized(series_named(tables, series + (w.tinned ? " tinned" : "")), w.size);
  if (!wire) return no_such_size(w, series, tables);
  Conductor found = *wire;
  if (class_of(w) == StrandClass::class_6) {
    found.strands = StrandClass::class_6;
    found.name = std::string(size_in(wire->name)) + " mm2 class 6" + (w.tinned ? " tinned" : "");
  }
  return found;
}

}  // namespace housepower::tables
