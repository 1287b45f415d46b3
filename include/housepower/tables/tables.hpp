// SPDX-License-Identifier: Apache-2.0
// Published facts as values. A look-up returns the row it used, so that a finding can name it.
// `Tables` is an ordinary value made by `read_tables`; there is no global and no lazy cache.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "housepower/reading/diagnostic.hpp"
#include "housepower/units/number.hpp"
#include "housepower/working/source.hpp"

namespace housepower::tables {

/// How fine the strands are, by IEC 60228: stranded, flexible, very flexible.
enum class StrandClass { class_2, class_5, class_6 };

/// A size as the trade names it; the copper in it is what counts.
struct Conductor {
  std::string name;         // as written in a design: "35 mm2", "2/0 awg", "6 auto-od"
  std::string_view series;  // the table it stands in: "iec-60228-5", "nec-8", "auto-od"
  std::optional<StrandClass> strands{};  // of a metric size; a gauge states none
  bool tinned = false;
  Area nominal{};  // what the name says; equals `copper` where it names no mm²
  Area copper{};   // true copper, the smaller where sources disagree
  ResistancePerLength resistance_at_20{};
  Source source{};  // of the resistance
  Source area_source{};
};

/// Correction of an ampacity for the ambient, in one of three shapes.
struct AmbientFactors {
  enum class Shape { bands, square_root };
  struct Band {
    Temperature up_to;
    std::vector<std::optional<Ratio>> factors;
  };  // a factor a column
  Shape shape =
      Shape::square_root;  // √((T_max − T_a)/(T_max − T_base)), never above 1 below the base
  std::vector<Band> bands{};  // rising; a temperature between two takes the hotter, one beyond
                              // the last is reckoned on from that by the heat balance
  Source source{};
};

/// Correction for what lies together, by the number of circuits or of conductors, never between:
/// the next larger group counts.
struct GroupingFactors {
  enum class Counts { circuits, conductors };
  struct Group {
    int up_to;
    Ratio factor;
  };
  Counts counts = Counts::circuits;
  std::vector<Group> groups{};  // rising; beyond the last the last, × √(its circuits / circuits)
  Source source{};
};

/// What a lie bears of what the same cable bears clipped to a surface. A table states its own lie;
/// a run that lies worse is reduced by the ratio of the two, one that lies better gains nothing.
struct LieFactor {
  std::string lie;                // a design's word: "clipped", "in-insulation"
  std::optional<Length> up_to{};  // lies so without a break; nothing: any length
  Ratio relative = 1.0;           // to clipped
  Source source;
};

/// Current-carrying capacity by conductor and insulation, with the table's own conditions.
struct AmpacityTable {
  struct Row {
    std::string size;  // as printed: "35", "2/0 AWG"
    Area area;         // that the row stands for
    std::vector<std::optional<Current>> columns;
    std::vector<Source> sources;  // of each cell
  };
  std::string name;  // "bs-7671-4f2-90"
  std::string title;
  std::vector<Temperature> insulation;      // one for each column, rising
  std::optional<Temperature> base_ambient;  // nothing where it was not stated
  std::string lies;                         // for which lie the currents stand, in a design's word
  std::string profile;  // to which it belongs: whose limit at terminals goes with it
  AmbientFactors ambient;
  GroupingFactors grouping;
  std::vector<Row> rows;  // rising area
  Source source;
};

/// The envelope within which a device of a type opens: a time for each multiple of its rating.
struct Gate {
  Ratio multiple;
  std::optional<Duration> fastest, slowest;
  Source source;
};

/// A kind of overcurrent device, by its open standard or its form. Absent is absent.
struct FuseType {
  struct Breaking {
    Current capacity;
    Voltage at;
    Source source, at_source{};
  };  // of each of the two
  struct Gates {
    Current from, to;
    std::vector<Gate> gates;
  };  // for ratings from … to
  struct Cold {
    Current rating;
    Resistance resistance;
    std::optional<LetThrough> melting;
    Source source;
  };
  struct Rerated {
    Current rating;
    Temperature ambient;
    Current carries;
    Source source;
  };                             // what it carries in another ambient
  std::string name;              // "ul-248-class-t"
  std::string title;             // "class T fuse, UL 248"
  std::string plain;             // as the trade says it: "class T"
  std::vector<Current> ratings;  // steps that can be bought, rising; empty: not read
  Source ratings_source;
  std::vector<Breaking> breaking;  // rising voltage; where sources disagree the safe one first
  std::vector<Gates> gates;
  std::vector<Cold> cold;
  std::vector<Rerated> rerated;  // rising ambient; the rating itself holds up to the first
  std::string note;
};

/// What an insulation bears in a short circuit: k of copper, from the conductor's temperature before
/// to the limit at its end.
struct WithstandFactor {
  std::string insulation;  // "pvc", "xlpe", "rubber", "butyl", "silicone"
  Temperature from, to;
  Ratio k;  // A·√s/mm²; the smaller of what is printed and what the formula gives
  Source source;
};

/// One way to satisfy "the first device is near enough to the source".
struct NearSource {
  enum class Condition { always, outside_enclosure, enclosed, sheathed_from_battery, sheathed };
  std::optional<Length> longest;  // nothing: the condition alone suffices
  bool strict = false;            // less than that, not equal to it
  Condition condition = Condition::always;
  Source source;
};

/// How much voltage a class of appliances may lose.
struct DropClass {
  std::string name;              // the profile's own word, "other"
  std::optional<Voltage> volts;  // either this
  std::optional<Ratio> share;    // or this, of nominal voltage
  bool fails = false;            // a limit that was really read fails; a habit cautions
  Source source;
};

/// Local requirements as data. It summarises and does not replace its standard.
struct RuleProfile {
  struct LithiumPlace {
    enum class Says { fail_inside, caution_inside, silent } says{};
    std::string passes_with;  // the inspection item that, ticked, lets it sit inside; may be empty
    Source source;
    std::string note;
  };
  struct Inspection {
    std::string item;
    Source source;
  };
  /// A small conductor's device may be no larger than this, whatever its ampacity.
  struct DeviceLimit {
    std::string conductor;  // as the standard names it, "14 AWG"
    Area up_to;             // its own; a size between two counts as the thinner one
    Current at_most;
    bool fails = false;  // a limit that was really read; else a caution
    Source source;
  };
  /// Within 1 m of a device or terminal a conductor bears no more than at this temperature.
  struct TerminalLimit {
    Temperature limit;
    std::optional<Current> up_to;  // where the current at that limit is no more; else the next one
    std::optional<Temperature> as_printed_to;  // ambient up to which no factor is taken
    Source source;
  };
  std::string name, title, standard, legal_status;
  std::vector<DropClass> drop_classes;  // the mildest last; "other" is among them
  enum class DropJudged { path, segment } drop_judged = DropJudged::path;
  std::optional<Area> smallest;  // nothing: silent
  std::optional<Area> smallest_in_sheath;
  std::optional<Length> smallest_beyond;  // asked of longer conductors only
  std::string smallest_name;              // "16 AWG"
  bool smallest_fails = false;
  Source smallest_source;
  std::vector<NearSource> first_device;  // one suffices
  bool first_device_fails = false;
  Source first_device_source;
  Ratio loading = 0.75;
  Source loading_source;
  std::vector<DeviceLimit> device_limits;  // thin ones first
  std::optional<Duration> clearing_time;   // of the smallest fault; nothing: no limit
  Source clearing_time_source;
  Length links_exempt = 0.35 * metre;  // links between batteries without a device of their own
  Source links_exempt_source{SourceKind::from_memory, "short links in a box",
                             "links and leads of up to 0.35 m inside the box"};
  std::optional<Charge> device_each_above;  // of a parallel bank: then a device for each battery
  Source device_each_source;
  std::string ampacity_above, ampacity_below_90;  // tables for insulation ≥ 90 °C and 70–89 °C
  std::string ampacity_small;                     // below the first row of those; may be empty
  std::string ampacity_conduit;                   // for runs in conduit; may be empty
  std::vector<TerminalLimit> terminals;           // cool ones first; empty: no such limit
  LithiumPlace lithium;
  std::string sizes;  // "metric" or "awg"
  std::vector<Inspection> inspection;
  std::string silent_on;  // what was not read, in words

  /// What limits the device of a conductor of this area; null beyond the last limit.
  [[nodiscard]] const DeviceLimit* device_limit(Area) const;
};

/// Climate of a town: means by month, January first. Sunshine is hours a day of bright sun.
struct Town {
  std::string name, title, country;  // name: "hobart"
  Angle latitude, longitude;         // north and east positive
  Length elevation;
  Duration zone;  // standard time less UTC
  std::array<Duration, 12> sunshine;
  std::array<Temperature, 12> highest, lowest;  // mean daily maximum and minimum
  std::optional<Temperature> record_low;  // as recorded, where it was; the engines take 3 K off
  std::optional<std::array<Irradiation, 12>> measured;  // a day, on the level
  bool only_measured = false;  // known hour by hour: `measured` counts, and sunshine is not used
  std::string quality, note;
  Source source;
};

/// How clear days follow one another in months of a mean clearness (Aguiar et al. 1988).
struct ClearnessChain {
  Ratio up_to;                                    // of the month's mean clearness
  Ratio least, most;                              // the ten states divide what lies between evenly
  std::array<std::array<Ratio, 10>, 10> chances;  // of tomorrow's state, by today's; a row is 1
  Source source;
};

/// A curve given by points; straight between them, constant beyond.
struct Curve {
  std::vector<double> x, y;
  Source source;
  [[nodiscard]] double at(double where) const;
};

/// Curves of lithium iron phosphate cells (reference A1). x is a state of charge from 0 to 1, or °C.
struct CellCurves {
  Curve open_circuit;  // V of one cell by state of charge, resting, 25 °C
  Curve hysteresis;    // V, full gap between the branches
  Curve capacity;      // share of rated by °C
  Curve charge_limit;  // C-rate by °C, steps: a value holds from its x on
};

/// The generic form of every table, for `housepower tables` and for comparing with its reference.
struct View {
  struct Column {
    std::string key, unit, says;
  };
  struct Cell {
    std::string text;
    std::optional<double> value;
    Source source;
    std::string note;
  };
  std::string name, title, note, conditions;
  Source source;
  std::vector<Column> columns;
  std::vector<std::vector<Cell>> rows;
};

struct WeatherFile;  // weather_file.hpp

struct Tables {
  /// A list a series, rising size; where there is tinned wire, a second list of the same series.
  std::vector<std::vector<Conductor>> conductors;
  std::vector<AmpacityTable> ampacities;
  std::vector<LieFactor> lies;  // of one lie by rising length
  std::vector<WithstandFactor> withstand;
  std::vector<FuseType> fuses;
  std::vector<RuleProfile> profiles;
  std::vector<Town> towns;
  std::vector<ClearnessChain> clearness;  // rising mean clearness
  CellCurves cells;
  /// Hourly files by their paths as a design names them; each has its months among the towns.
  std::vector<std::pair<std::string, std::shared_ptr<const WeatherFile>>> weather;
  std::vector<View> views;           // of every file; only if asked for
  std::shared_ptr<const void> kept;  // the texts that sources and names view into

  [[nodiscard]] const AmpacityTable* ampacity(std::string_view name) const;
  /// Of what lies so over that length without a break; of the lie alone its mildest.
  [[nodiscard]] const LieFactor* lie(std::string_view lie, Length stretch = {}) const;
  [[nodiscard]] const FuseType* fuse(std::string_view name) const;
  [[nodiscard]] const RuleProfile* profile(std::string_view name) const;
  [[nodiscard]] const Town* town(std::string_view name) const;
};

/// A text under the name of its file: "ampacity/bs-7671-4f2-90.toml".
struct NamedText {
  std::string_view name, text;
};
/// What is built into the program.
[[nodiscard]] std::span<const NamedText> embedded_tables();

/// Which parts to read; a command reads no more than it needs.
struct Needed {
  bool towns = true;
  bool views = false;
  /// Of a design: its profile and its own ampacity table. Then only these are read, and the ampacity
  /// tables that the profile names; all where one of them is not there, for the message.
  std::string_view profile{}, ampacity{};
  std::string_view town{};  // only this one; all where it is not there
};

/// Later texts replace earlier ones of the same name, so a user's folder goes last.
[[nodiscard]] std::optional<Tables> read_tables(std::span<const NamedText>, const Needed&,
                                                Diagnostics&);

/// What a written size means: "<size> [awg|sae|b&s|auto-od|mm2] [class 2|5|6] [tinned]", in any
/// order after the size; the name of a series may follow ("2/0 awg astm-b258"), and every name of
/// a Conductor reads as itself. Default class 5 plain; AWG: NEC ch. 9 table 8 stranded uncoated.
/// "6 mm" alone is refused and the message shows both readings (outside diameter, or mm²).
struct SizeProblem {
  std::string message, hint;
};
[[nodiscard]] std::variant<Conductor, SizeProblem> conductor_named(const Tables&,
                                                                   std::string_view written);

/// The name of a bare size, "35" or "2/0", in the series in use ("metric", "awg"); nothing where it is
/// not bare, or the series has no such size.
[[nodiscard]] std::optional<std::string> named_in_series(const Tables&, std::string_view written,
                                                         std::string_view series);

/// The name of a conductor as people are shown it: where US units are shown, a metric size has its gauge
/// beside it, where metric ones are, a gauge its area. As usual: the name.
[[nodiscard]] std::string shown_name(const Conductor&);

/// The series to choose from: "metric" (IEC 60228 class 5) or "awg" (NEC ch. 9 table 8), or the
/// name of any series; plain wire, or tinned where " tinned" follows the name. Rising; empty where
/// there is no such series.
[[nodiscard]] std::span<const Conductor> series_named(const Tables&, std::string_view name);

}  // namespace housepower::tables
