// SPDX-License-Identifier: Apache-2.0
// Ampacity of a run, section by section; the least counts. One function computes a section, silent
// for the comparison and recorded for the governing one.
#include "housepower/wiring/ampacity.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/units/unit.hpp"
#include "housepower/wiring/formulas.hpp"

namespace housepower::wiring {
namespace {

using design::Laid;
using design::resolved::Run;
using tables::AmpacityTable;

constexpr Temperature hot_insulation = celsius(90.0);
constexpr Length terminal_reach = Length::from_value(1.0);
constexpr Length short_in_insulation = Length::from_value(0.5);

/// Where a conductor stands in a table.
struct Cell {
  const AmpacityTable* table;
  const AmpacityTable::Row* row;
  std::size_t column;
  [[nodiscard]] Current listed() const { return *row->columns[column]; }
  [[nodiscard]] Temperature limit() const { return table->insulation[column]; }
};

/// The row of that very size, else the next one down by copper.
const AmpacityTable::Row* row_of(const AmpacityTable& table, const tables::Conductor& c) {
  const AmpacityTable::Row* found = nullptr;
  for (const auto& row : table.rows) {
    const bool same = std::abs(double(row.area / c.nominal) - 1.0) < 0.003;  // rounded areas
    if (!same && row.area > c.copper) break;
    found = &row;
    if (same) break;
  }
  return found;
}

/// The hottest column that the insulation bears and where the row has a value.
std::optional<Cell> cell_of(const AmpacityTable& table, const tables::Conductor& c,
                            Temperature bears) {
  const auto* row = row_of(table, c);
  if (!row) return std::nullopt;
  for (std::size_t i = table.insulation.size(); i-- > 0;)
    if (table.insulation[i] <= bears && row->columns[i]) return Cell{&table, row, i};
  return std::nullopt;
}

struct Choice {
  std::optional<Cell> cell;
  std::string why;     // no cell
  bool small = false;  // the table for small conductors, because the main one begins above
};

Choice choose(const design::Design& d, std::string_view named, const Run& run,
              const tables::Conductor& c, Laid laid) {
  Choice choice;
  const bool hot = run.insulation >= hot_insulation;
  std::string_view name = hot ? d->profile->ampacity_above : d->profile->ampacity_below_90;
  std::string_view small = d->profile->ampacity_small;
  if (laid == Laid::conduit && hot && !d->profile->ampacity_conduit.empty())
    name = d->profile->ampacity_conduit;
  if (!named.empty()) {
    name = named;
    small = {};
  }
  const auto* table = d->tables->ampacity(name);
  if (!table) {
    choice.why = "there is no ampacity table \"" + std::string(name) + "\"";
    return choice;
  }
  choice.cell = cell_of(*table, c, run.insulation);
  const auto* cords = small.empty() || row_of(*table, c) ? nullptr : d->tables->ampacity(small);
  if (!choice.cell && cords) {
    table = cords;
    choice.cell = cell_of(*table, c, run.insulation);
    choice.small = choice.cell.has_value();
  }
  if (!choice.cell)
    choice.why = table->name + " holds no current for " + c.name + " with insulation for " +
                 print(Number(run.insulation)) +
                 (table->rows.empty() ? "" : "; it begins at " + table->rows.front().size);
  return choice;
}

constexpr Source by_hand{SourceKind::from_memory, "heat of a cable within thermal insulation",
                         "0.5 over 0.5 m, else 0.75"};
constexpr Source clipped{SourceKind::from_memory, "BS 7671 table 4E1A",
                         "derived: least ratio of method C to F"};
constexpr Source in_conduit{SourceKind::from_memory, "heat of a cable in conduit",
                            "free air × 0.75"};
constexpr Source as_laid{SourceKind::published, "", "the table's own lie"};

struct LaidFactor {
  Ratio factor;
  Source source;
};
LaidFactor laid_factor(const Choice& choice, Laid laid, Length stretch) {
  if (!choice.cell->table->free_air) return {1.0, as_laid};
  switch (laid) {
  case Laid::free: return {1.0, as_laid};
  case Laid::clipped: return {0.88, clipped};
  case Laid::conduit: return {0.75, in_conduit};
  case Laid::touching_insulation: return {0.75, by_hand};
  case Laid::in_insulation: return {stretch > short_in_insulation ? 0.5 : 0.75, by_hand};
  }
  return {0.5, by_hand};
}

/// Which band of the table holds that ambient; between two the hotter.
const tables::AmbientFactors::Band* band_of(const AmpacityTable& table, Temperature ambient) {
  for (const auto& band : table.ambient.bands)
    if (ambient <= band.up_to) return &band;
  return nullptr;
}

struct Factor {
  std::optional<Ratio> value;
  Source source;
  std::string why;
};

Factor ambient_of(const Cell& cell, Temperature ambient, Working* working) {
  const AmpacityTable& t = *cell.table;
  if (t.ambient.shape == tables::AmbientFactors::Shape::bands) {
    const auto* band = band_of(t, ambient);
    if (!band || !band->factors[cell.column])
      return {{}, {}, t.name + " gives no factor for an ambient of " + print(Number(ambient))};
    return {given(working, "k_a", "ambient factor", *band->factors[cell.column], t.ambient.source),
            t.ambient.source,
            {}};
  }
  if (!t.base_ambient) return {{}, {}, t.name + " does not say for which ambient it stands"};
  const Temperature reckoned = std::max(ambient, *t.base_ambient);  // no credit for the cool
  return {
      step(working, ambient_factor, cell.limit(), reckoned, *t.base_ambient), t.ambient.source, {}};
}

Factor grouping_of(const AmpacityTable& t, const Run& run, int circuits, Working* working) {
  const bool by_circuits = t.grouping.counts == tables::GroupingFactors::Counts::circuits;
  const int together = circuits * run.parallel * (by_circuits ? 1 : 2);
  const std::string counted =
      std::to_string(together) + (by_circuits ? " circuits" : " conductors");
  if (t.grouping.groups.empty()) {
    if (circuits * run.parallel == 1) return {1.0, t.source, {}};
    return {{}, {}, t.name + " gives no factor for " + counted + " together"};
  }
  for (const auto& group : t.grouping.groups)
    if (together <= group.up_to)
      return {given(working, "k_g", "grouping factor", group.factor, t.grouping.source),
              t.grouping.source,
              {}};
  return {{}, {}, t.name + " gives no factor for " + counted + " together"};
}

/// A stretch of a run with one ambient and lie.
struct Stretch {
  Temperature ambient;
  Laid laid;
  int circuits;
  Length in_insulation;                 // how long it lies so without a break
  std::optional<Temperature> terminal;  // its limit where a terminal is within reach
};

AmpacityAnswer value_of(const Run& run, const Choice& choice, const Cell& cell, const Stretch& s,
                        const Factor& k_a, Working* working) {
  if (!k_a.value) return NoAmpacity{k_a.why};
  const Factor k_g = grouping_of(*cell.table, run, s.circuits, working);
  if (!k_g.value) return NoAmpacity{k_g.why};
  const LaidFactor k_l = laid_factor(choice, s.laid, s.in_insulation);
  given(working, "k_l", "factor of how it lies", k_l.factor, k_l.source);
  given(working, "I_t", "current of the table", cell.listed(), cell.row->sources[cell.column]);
  const Current value = step(working, corrected_ampacity, Ratio(double(run.parallel)),
                             cell.listed(), *k_a.value, *k_g.value, k_l.factor);
  const Source weakest =
      weaker(weaker(cell.row->sources[cell.column], k_a.source), weaker(k_g.source, k_l.source));
  std::string note;
  if (choice.small) note = "below the first row of the main table; as a flexible cord";
  if (!cell.table->free_air && s.laid != Laid::free)
    note = "the table states its own lie; no factor for how this run lies";
  return Ampacity{value,
                  cell.table->name,
                  cell.row->size,
                  cell.listed(),
                  cell.table->base_ambient,
                  s.ambient,
                  cell.limit(),
                  *k_a.value,
                  *k_g.value,
                  k_l.factor,
                  false,
                  weakest,
                  note};
}

/// Near a terminal: the column of its limit where there is one, else the heat balance at it.
AmpacityAnswer at_terminal(const Run& run, const Choice& choice, const Stretch& s,
                           Working* working) {
  Cell cell = *choice.cell;
  const auto& columns = cell.table->insulation;
  const auto exact = std::find(columns.begin(), columns.end(), *s.terminal);
  Factor k_a;
  if (exact != columns.end() && cell.row->columns[std::size_t(exact - columns.begin())]) {
    cell.column = std::size_t(exact - columns.begin());
    k_a = ambient_of(cell, s.ambient, working);
  } else if (!cell.table->base_ambient) {
    return NoAmpacity{cell.table->name + " does not say for which ambient it stands"};
  } else {
    const Temperature reckoned = std::max(s.ambient, *cell.table->base_ambient);
    k_a = {step(working, terminal_factor, *s.terminal, reckoned, cell.limit(),
                *cell.table->base_ambient),
           terminal_factor.source,
           {}};
  }
  auto answer = value_of(run, choice, cell, s, k_a, working);
  if (auto* a = std::get_if<Ampacity>(&answer)) {
    a->at_terminal = true;
    a->limit = *s.terminal;
    a->source = weaker(a->source, terminal_factor.source);
  }
  return answer;
}

/// By the insulation, or by a terminal within reach that bears less than it.
AmpacityAnswer of_stretch(const Run& run, const Choice& choice, const Stretch& s, bool terminal,
                          Working* working) {
  if (terminal) return at_terminal(run, choice, s, working);
  return value_of(run, choice, *choice.cell, s, ambient_of(*choice.cell, s.ambient, working),
                  working);
}

std::vector<Stretch> stretches_of(const design::Design& d, const Run& run) {
  const auto limit_at = [&](design::resolved::PostId post) {
    return d[post].kind == design::resolved::PostKind::array ? celsius(90.0) : celsius(75.0);
  };
  Length whole{}, start{}, inside{};
  for (const auto& s : run.sections) whole += s.length;
  std::vector<Stretch> all;
  for (std::size_t i = 0; i < run.sections.size(); ++i) {
    const auto& s = run.sections[i];
    if (s.laid == Laid::in_insulation &&
        (i == 0 || run.sections[i - 1].laid != Laid::in_insulation)) {
      inside = Length{};
      for (std::size_t j = i;
           j < run.sections.size() && run.sections[j].laid == Laid::in_insulation; ++j)
        inside += run.sections[j].length;
    }
    Stretch stretch{s.ambient, s.laid, s.circuits_together, inside, {}};
    const bool near_from = start < terminal_reach;
    const bool near_to = whole - (start + s.length) < terminal_reach;
    if (near_from) stretch.terminal = limit_at(run.from);
    if (near_to) {
      const Temperature there = limit_at(run.to);
      stretch.terminal = std::min(stretch.terminal.value_or(there), there);
    }
    start += s.length;
    all.push_back(stretch);
  }
  return all;
}

AmpacityAnswer least_of(const design::Design& d, std::string_view named, const Run& run,
                        const tables::Conductor& c, design::Pole pole, Working* working) {
  if (pole == design::Pole::return_ && run.back.chassis)
    return NoAmpacity{"it returns through the chassis"};
  std::optional<Ampacity> least;
  std::pair<Stretch, bool> governing{};
  for (const Stretch& s : stretches_of(d, run)) {
    const Choice choice = choose(d, named, run, c, s.laid);
    if (!choice.cell) return NoAmpacity{choice.why};
    for (const bool terminal : {false, true}) {
      if (terminal && !(s.terminal && choice.cell->limit() > *s.terminal)) continue;
      auto answer = of_stretch(run, choice, s, terminal, nullptr);
      auto* found = std::get_if<Ampacity>(&answer);
      if (!found) return answer;
      if (least && least->value <= found->value) continue;
      least = std::move(*found);
      governing = {s, terminal};
    }
  }
  if (!least) return NoAmpacity{"the run has no length"};
  const auto& [stretch, terminal] = governing;
  if (working)
    (void)of_stretch(run, choose(d, named, run, c, stretch.laid), stretch, terminal, working);
  return *std::move(least);
}

}  // namespace

AmpacityAnswer ampacity_of(const design::Design& d, const Run& run, const tables::Conductor& c,
                           design::Pole pole, Working* working) {
  return least_of(d, d->ampacity_table, run, c, pole, working);
}

AmpacityAnswer heating_ampacity_of(const design::Design& d, const Run& run,
                                   const tables::Conductor& c, design::Pole pole) {
  return least_of(d, {}, run, c, pole, nullptr);
}

}  // namespace housepower::wiring
