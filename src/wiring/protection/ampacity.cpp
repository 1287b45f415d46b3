// SPDX-License-Identifier: Apache-2.0
// Ampacity of a run, section by section; the least counts. One function computes a section, silent
// for the comparison and recorded for the governing one.
#include "housepower/wiring/ampacity.hpp"

#include <algorithm>
#include <cmath>
#include <span>

#include "housepower/design/words.hpp"
#include "housepower/units/unit.hpp"
#include "housepower/wiring/formulas.hpp"

namespace housepower::wiring {
namespace {

using design::Laid;
using design::resolved::PostId;
using design::resolved::PostKind;
using design::resolved::Protection;
using design::resolved::Run;
using design::resolved::Section;
using tables::AmpacityTable;
using Limit = tables::RuleProfile::TerminalLimit;

constexpr Temperature hot_insulation = celsius(90.0);
constexpr Length terminal_reach = Length::from_value(1.0);
constexpr Length at_the_post = Length::from_value(0.1);  // a device there is part of it
constexpr Source array_connectors{SourceKind::from_memory,
                                  "connectors of modules are rated for 90 °C", ""};
constexpr Source of_the_node{SourceKind::supplier, "the node's terminals", "as stated"};

/// Where a conductor stands in a table.
struct Cell {
  const AmpacityTable* table;
  const AmpacityTable::Row* row;
  std::size_t column;
  bool begins_above = false;  // the conductor is thinner than this, the first row of the column
  [[nodiscard]] Current listed() const { return *row->columns[column]; }
  [[nodiscard]] Temperature limit() const { return table->insulation[column]; }
  [[nodiscard]] const Source& source() const { return row->sources[column]; }
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

/// The hottest column that the insulation bears and where the row has a value; where that column and
/// those below it begin with a thicker conductor, their first row.
std::optional<Cell> cell_of(const AmpacityTable& table, const tables::Conductor& c,
                            Temperature bears) {
  const auto* row = row_of(table, c);
  std::optional<Cell> above;
  for (std::size_t i = table.insulation.size(); i-- > 0;) {
    if (table.insulation[i] > bears) continue;
    if (row && row->columns[i]) return Cell{&table, row, i};
    const auto first = std::find_if(table.rows.begin(), table.rows.end(),
                                    [&](const auto& one) { return one.columns[i].has_value(); });
    if (!above && first != table.rows.end() && first->area > c.copper)
      above = Cell{&table, &*first, i, true};
  }
  return above;
}

/// The same row in the column of that very temperature.
std::optional<Cell> column_at(const Cell& cell, Temperature limit) {
  const auto& columns = cell.table->insulation;
  const auto exact = std::find(columns.begin(), columns.end(), limit);
  if (exact == columns.end()) return std::nullopt;
  const auto column = std::size_t(exact - columns.begin());
  if (!cell.row->columns[column]) return std::nullopt;
  return Cell{cell.table, cell.row, column};
}

struct Choice {
  std::optional<Cell> cell;
  std::string why;     // no cell
  bool small = false;  // the table for small conductors, because the main one begins above
};

/// Where a table begins, for who is below it.
std::string begins_at(const AmpacityTable& table, Temperature insulation) {
  if (table.rows.empty() || table.insulation.empty()) return {};
  if (insulation < table.insulation.front())
    return "; it is for " + print(Number(table.insulation.front())) + " and above";
  return "; it begins at " + table.rows.front().size;
}

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
  if (cords) {
    table = cords;
    choice.cell = cell_of(*table, c, run.insulation);
    choice.small = choice.cell && !choice.cell->begins_above;
  }
  if (!choice.cell)
    choice.why = table->name + " holds no current for " + c.name + " with insulation for " +
                 print(Number(run.insulation)) + begins_at(*table, run.insulation);
  return choice;
}

struct Factor {
  std::optional<Ratio> value;
  Source source;
  std::string why;     // no value
  std::string beyond;  // the end of its table: how it was reckoned on
};

/// The last band that has a factor in this column.
const tables::AmbientFactors::Band* last_band(const Cell& cell) {
  const auto& bands = cell.table->ambient.bands;
  for (std::size_t i = bands.size(); i-- > 0;)
    if (bands[i].factors[cell.column]) return &bands[i];
  return nullptr;
}

Factor by_root(const Cell& cell, Temperature ambient, Working* working) {
  const AmpacityTable& t = *cell.table;
  if (!t.base_ambient) return {{}, {}, t.name + " does not say for which ambient it holds", {}};
  const Temperature reckoned = std::max(ambient, *t.base_ambient);  // no credit for the cool
  return {step(working, ambient_factor, cell.limit(), reckoned, *t.base_ambient),
          t.ambient.source,
          {},
          {}};
}

/// Between two bands the hotter; beyond the last reckoned on from it.
Factor by_bands(const Cell& cell, Temperature ambient, Working* working) {
  const AmpacityTable& t = *cell.table;
  const auto* last = last_band(cell);
  if (!last) {
    Factor root = by_root(cell, ambient, working);
    root.source = weaker(root.source, ambient_beyond.source);
    root.beyond = "no ambient factor of its own: by the heat balance";
    return root;
  }
  for (const auto& band : t.ambient.bands)
    if (ambient <= band.up_to && band.factors[cell.column])
      return {given(working, "k_a", "ambient factor", *band.factors[cell.column], t.ambient.source),
              t.ambient.source,
              {},
              {}};
  const Ratio end =
      given(working, "k_e", "last ambient factor", *last->factors[cell.column], t.ambient.source);
  return {step(working, ambient_beyond, end, cell.limit(), ambient, last->up_to),
          weaker(t.ambient.source, ambient_beyond.source),
          {},
          "hotter than the last ambient factor, that of " + print(Number(last->up_to)) +
              ": continued by the heat balance"};
}

Factor ambient_of(const Cell& cell, Temperature ambient, Working* working) {
  if (ambient >= cell.limit())
    return {given(working, "k_a", "ambient factor: the air is at the limit of the insulation",
                  Ratio(0.0), cell.source()),
            cell.source(),
            {},
            ambient > cell.limit()
                ? "the air of " + print(Number(ambient)) + " is hotter than the " +
                      print(Number(cell.limit())) + " for which the current holds"
                : "the air is as hot as the " + print(Number(cell.limit())) +
                      " for which the current holds"};
  return cell.table->ambient.shape == tables::AmbientFactors::Shape::bands
             ? by_bands(cell, ambient, working)
             : by_root(cell, ambient, working);
}

Factor grouping_of(const AmpacityTable& t, const Run& run, int circuits, Working* working) {
  const bool by_circuits = t.grouping.counts == tables::GroupingFactors::Counts::circuits;
  const int together = circuits * run.parallel * (by_circuits ? 1 : 2);
  if (t.grouping.groups.empty()) return {1.0, t.source, {}, {}};
  for (const auto& group : t.grouping.groups)
    if (together <= group.up_to)
      return {given(working, "k_g", "grouping factor", group.factor, t.grouping.source),
              t.grouping.source,
              {},
              {}};
  const auto& last = t.grouping.groups.back();
  const Ratio end = given(working, "k_e", "last grouping factor", last.factor, t.grouping.source);
  return {step(working, grouping_beyond, end, Ratio(double(last.up_to)), Ratio(double(together))),
          weaker(t.grouping.source, grouping_beyond.source),
          {},
          std::to_string(together) + (by_circuits ? " circuits" : " conductors") +
              " together, more than the " + std::to_string(last.up_to) +
              " of the last grouping factor"};
}

/// By the ratio of this lie and the table's own.
Factor lie_of(const design::Design& d, const AmpacityTable& t, Laid laid, Length stretch,
              Working* working) {
  const auto* own = d->tables->lie(t.lies);
  const auto* here = d->tables->lie(word(laid), stretch);
  if (!own || !here) return {{}, {}, "no factor for a cable laid " + std::string(word(laid)), {}};
  if (here->relative >= own->relative)
    return {given(working, "k_l", "factor of how it is laid: as the table's cables or better",
                  Ratio(1.0), t.source),
            t.source,
            {},
            {}};
  given(working, "k_r", "what it carries as laid, of clipped", here->relative, here->source);
  given(working, "k_o", "what the table's cables carry as laid, of clipped", own->relative,
        own->source);
  return {step(working, lie_factor, here->relative, own->relative),
          weaker(here->source, own->source),
          {},
          {}};
}

/// A device or terminal within reach: what it bears, and the air there.
struct Terminal {
  std::optional<Limit> own;        // its own limit; else
  std::span<const Limit> profile;  // that of the profile; both empty: the insulation in this air
  Temperature ambient{};
};

/// The first limit whose current is within what it is for; none: the insulation counts.
const Limit* terminal_limit(const Cell& cell, const Terminal& t) {
  if (t.own) return &*t.own;
  for (const Limit& limit : t.profile) {
    if (!limit.up_to) return &limit;
    const auto column = column_at(cell, limit.limit);
    const auto& base = cell.table->base_ambient;
    if (!column && !base) return &limit;
    const Current printed =
        column ? column->listed()
               : cell.listed() * double(terminal_factor(limit.limit, *base, cell.limit(), *base));
    if (printed <= *limit.up_to) return &limit;
  }
  return nullptr;
}

/// Why such a terminal leaves nothing.
std::string too_hot_for(const Limit& limit, Temperature air) {
  if (air < limit.limit) return {};
  return "the air at its terminals has " + print(Number(air)) + ", and they are rated for " +
         print(Number(limit.limit));
}

/// What it leaves of the current by the insulation, whose ambient factor is `k_a`.
Factor terminal_of(const Cell& cell, const Terminal& t, Ratio k_a, Working* working) {
  const Limit* limit = terminal_limit(cell, t);
  if (!limit || limit->limit >= cell.limit()) {  // the insulation, in the air of that place
    Factor there = ambient_of(cell, t.ambient, working);
    if (there.value) there.value = step(working, terminal_by_heat, *there.value, k_a);
    return there;
  }
  const bool as_printed = limit->as_printed_to && t.ambient <= *limit->as_printed_to;
  const std::string too_hot = as_printed ? std::string() : too_hot_for(*limit, t.ambient);
  if (const auto column = column_at(cell, limit->limit)) {
    Factor there = as_printed ? Factor{given(working, "k_c", "the column is used as printed",
                                             Ratio(1.0), limit->source),
                                       limit->source,
                                       {},
                                       {}}
                              : ambient_of(*column, t.ambient, working);
    if (!there.value) return there;
    given(working, "I_c", "current of the terminal's column", column->listed(), column->source());
    there.value =
        step(working, terminal_of_column, column->listed(), *there.value, cell.listed(), k_a);
    there.source = weaker(there.source, limit->source);
    if (!too_hot.empty()) there.beyond = too_hot;
    return there;
  }
  const auto& base = cell.table->base_ambient;
  if (!base) return {{}, {}, cell.table->name + " does not say for which ambient it holds", {}};
  const Temperature reckoned = as_printed ? *base : std::max(t.ambient, *base);
  given(working, "T_t", "limit of the terminal", limit->limit, limit->source);
  const Ratio there = step(working, terminal_factor, limit->limit, reckoned, cell.limit(), *base);
  return {step(working, terminal_by_heat, there, k_a), limit->source, {}, too_hot};
}

/// A stretch of a run with one ambient and lie.
struct Stretch {
  const Section* section;
  Length in_insulation;             // how long it lies so without a break
  std::vector<Terminal> terminals;  // within reach of it
};

void add(std::string& notes, const std::string& more) {
  if (!more.empty()) notes += (notes.empty() ? "" : "; ") + more;
}

/// No table rates it, and a thinner conductor than one that fails is no open question.
Ampacity nothing_listed(const Cell& cell, const Section& section, Working* working) {
  const Current none = given(working, "I_z", "ampacity: the table begins with a thicker conductor",
                             Current{}, cell.source());
  return {none,
          cell.table->name,
          cell.row->size,
          none,
          cell.table->base_ambient,
          section.ambient,
          cell.limit(),
          1.0,
          1.0,
          1.0,
          1.0,
          false,
          cell.source(),
          {},
          "thinner than " + cell.row->size +
              ", where the table begins for this insulation: counted "
              "as carrying nothing"};
}

/// By the insulation, or by one terminal within reach. `terminal`: null for the insulation alone.
AmpacityAnswer of_stretch(const design::Design& d, const Run& run, const Choice& choice,
                          const Stretch& s, const Terminal* terminal, Working* working) {
  const Cell& cell = *choice.cell;
  if (cell.begins_above) return nothing_listed(cell, *s.section, working);
  const Factor k_a = ambient_of(cell, s.section->ambient, working);
  if (!k_a.value) return NoAmpacity{k_a.why};
  const Factor k_g = grouping_of(*cell.table, run, s.section->circuits_together, working);
  const Factor k_l = lie_of(d, *cell.table, s.section->laid, s.in_insulation, working);
  if (!k_l.value) return NoAmpacity{k_l.why};
  given(working, "I_t", "current of the table", cell.listed(), cell.source());
  Ampacity found{step(working, corrected_ampacity, Ratio(double(run.parallel)), cell.listed(),
                      *k_a.value, *k_g.value, *k_l.value),
                 cell.table->name,
                 cell.row->size,
                 cell.listed(),
                 cell.table->base_ambient,
                 s.section->ambient,
                 cell.limit(),
                 *k_a.value,
                 *k_g.value,
                 *k_l.value,
                 1.0,
                 false,
                 weaker(weaker(cell.source(), k_a.source), weaker(k_g.source, k_l.source)),
                 {},
                 {}};
  if (choice.small) found.note = "below the first row of the main table; as a flexible cord";
  add(found.beyond, k_a.beyond);
  add(found.beyond, k_g.beyond);
  if (!terminal || found.ambient <= 0.0) return found;
  const Factor k_t = terminal_of(cell, *terminal, found.ambient, working);
  if (!k_t.value) return NoAmpacity{k_t.why};
  if (*k_t.value >= 1.0) return found;
  found.terminal = *k_t.value;
  found.value = step(working, ampacity_at_terminal, found.value, found.terminal);
  const Limit* limit = terminal_limit(cell, *terminal);
  found.at_terminal = limit && limit->limit < cell.limit();
  if (found.at_terminal) found.limit = limit->limit;
  found.ambient_used = terminal->ambient;
  found.source = weaker(found.source, k_t.source);
  if (found.terminal > 0.0) add(found.beyond, k_t.beyond);
  else found.beyond = k_t.beyond;  // whatever else would lower it
  return found;
}

/// A terminal in the air of its own place: as its node says, else as the run says, else as is usual
/// where it sits; never cooler than a stated one.
Terminal terminal_at(const design::Design& d, PostId id, const Section& there) {
  const auto& post = d[id];
  Terminal t{{}, d->profile->terminals, post.air};
  if (post.ambient) t.ambient = *post.ambient;
  if (there.ambient_stated)
    t.ambient = post.ambient ? std::max(t.ambient, there.ambient) : there.ambient;
  const auto as_printed_to =
      t.profile.empty() ? std::optional<Temperature>{} : t.profile.front().as_printed_to;
  if (post.terminals) t.own = Limit{*post.terminals, {}, as_printed_to, of_the_node};
  else if (post.kind == PostKind::array && !t.profile.empty())
    t.own = Limit{celsius(90.0), {}, as_printed_to, array_connectors};
  return t;
}

/// Where terminals are, along the outgoing conductor.
struct Placed {
  Length at;
  Terminal terminal;
};
std::vector<Placed> terminals_of(const design::Design& d, const Run& run, design::Pole pole) {
  Length whole{};
  for (const auto& s : run.sections) whole += s.length;
  const PostId near = pole == design::Pole::return_ ? run.back.to : run.from;
  std::vector<Placed> all{{Length{}, terminal_at(d, near, run.sections.front())},
                          {whole, terminal_at(d, run.to, run.sections.back())}};
  for (const Protection& device : run.protection) {
    if (!device.distance || *device.distance <= at_the_post) continue;  // sits at the post itself
    const Length at =
        device.end == design::RunEnd::from ? *device.distance : Length(whole - *device.distance);
    Length start{};
    const Section* there = &run.sections.front();
    for (const auto& s : run.sections) {
      if (start > at) break;
      there = &s;
      start += s.length;
    }
    all.push_back(
        {at, {{}, d->profile->terminals, there->ambient_stated ? there->ambient : device.ambient}});
  }
  return all;
}

std::vector<Stretch> stretches_of(const design::Design& d, const Run& run, design::Pole pole) {
  const auto terminals = terminals_of(d, run, pole);
  Length start{}, inside{};
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
    Stretch stretch{&s, inside, {}};
    const Length end = start + s.length;
    for (const Placed& t : terminals)
      if (start - t.at < terminal_reach && t.at - end < terminal_reach)
        stretch.terminals.push_back(t.terminal);
    start = end;
    all.push_back(std::move(stretch));
  }
  return all;
}

AmpacityAnswer least_of(const design::Design& d, std::string_view named, const Run& run,
                        const tables::Conductor& c, design::Pole pole, Working* working) {
  if (pole == design::Pole::return_ && run.back.chassis)
    return NoAmpacity{"it returns through the chassis"};
  if (run.sections.empty()) return NoAmpacity{"the run has no length"};
  const auto stretches = stretches_of(d, run, pole);
  std::optional<Ampacity> least;
  std::pair<const Stretch*, const Terminal*> governing{};
  for (const Stretch& s : stretches) {
    const Choice choice = choose(d, named, run, c, s.section->laid);
    if (!choice.cell) return NoAmpacity{choice.why};
    for (std::size_t i = 0; i <= s.terminals.size(); ++i) {
      const Terminal* terminal = i == 0 ? nullptr : &s.terminals[i - 1];
      auto answer = of_stretch(d, run, choice, s, terminal, nullptr);
      auto* found = std::get_if<Ampacity>(&answer);
      if (!found) return answer;
      if (least && least->value <= found->value) continue;
      least = std::move(*found);
      governing = {&s, terminal};
    }
  }
  if (working) {
    const auto& [s, terminal] = governing;
    (void)of_stretch(d, run, choose(d, named, run, c, s->section->laid), *s, terminal, working);
  }
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
