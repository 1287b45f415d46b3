// SPDX-License-Identifier: Apache-2.0
// One vehicle's system, ready to calculate: every name resolved, every size looked up, every
// default chosen and listed. Only `resolve` makes a Design and it cannot hold nonsense (lengths
// are positive, a run ends at posts that exist), so the engines have no input errors.
#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "housepower/design/document.hpp"
#include "housepower/design/list.hpp"
#include "housepower/design/money.hpp"
#include "housepower/reading/fields.hpp"
#include "housepower/tables/tables.hpp"

namespace housepower::design {

namespace resolved {

enum class PostKind {
  bank,
  node,
  appliance,
  inverter,
  charger_in,
  charger_out,
  controller_in,
  controller_out,
  array,
  feed
};

/// A piece of the van that is wired before it is fitted, and where on the line that is done.
struct Assembly {
  std::string name;
  std::optional<std::string> station{}, fitted_at{};
};
using AssemblyId = Id<Assembly>;  // without a value: on the line, in none

/// What joins the looms of two assemblies. What is absent was not stated.
struct Connector {
  std::string name;
  std::array<AssemblyId, 2> between{};
  int cavities = 1;                                      // numbered from 1
  std::optional<Current> rating{}, rating_all_loaded{};  // of one cavity
  std::optional<tables::Conductor> largest_conductor{};
  std::optional<Resistance> resistance{};  // of one mated contact
  std::optional<std::string> contact{};    // name of its contact
  std::optional<Length> strip{};
};
using ConnectorId = Id<Connector>;

/// A place in the van with a positive and a negative side, where conductors meet.
struct Post {
  std::string name;  // "panel", "bank", "drive charger.in"
  PostKind kind = PostKind::node;
  Sits sits = Sits::inside;
  std::optional<NodeKind> node{};
  std::optional<Current> rating{};
  std::optional<int> slots{};
  std::optional<Purpose> purpose{};         // of a jump post
  std::optional<std::string> stud{};        // thread, for the lugs
  std::optional<Current> largest_device{};  // before it, as its maker says
  std::optional<Temperature> terminals{},
      ambient{};      // as stated: what they are made for, and where
  Temperature air{};  // the hottest that is usual where it sits
  AssemblyId assembly{};
  int part = -1;  // of the network: posts that runs join share it
};
using PostId = Id<Post>;
/// A value for each post of the design.
template <class Value> using PerPost = List<Value, Post>;

/// An overcurrent device on a run. What is absent was neither stated nor published.
struct Protection {
  RunEnd end = RunEnd::from;
  std::string type;                        // "ul-248-class-t", or the name of a [[device]]
  const tables::FuseType* fuse = nullptr;  // null where a maker's device is meant
  DeviceKind kind = DeviceKind::fuse;
  Current rating{};
  std::optional<Length> distance{};  // along the conductor from that end
  bool enclosed = false;
  Sits sits = Sits::inside;
  Temperature ambient{};  // the hottest where it sits
  std::optional<Current> breaking_capacity{};
  std::optional<Voltage> rated_voltage{};  // at which the breaking capacity holds
  Source breaking_source{}, voltage_source{};
  std::vector<CurvePoint> curve{}, curve_fast{};
  std::string backed_by{};
  bool distance_assumed = false, sits_assumed = false;  // written by a program, not yet confirmed
  /// As the trade says it: "blade", or the name of a [[device]].
  [[nodiscard]] const std::string& plain_name() const { return fuse ? fuse->plain : type; }
};

/// Something on the way of a run. A plug that is a connector has a contact in each cavity that it
/// uses of either pole; anything else sits in one pole.
struct InlineItem {
  InlineKind kind{};
  std::optional<Current> rating{}, largest_device{};
  std::optional<bool> breaks_load{};
  Pole pole = Pole::outgoing;  // of what is no connector
  Resistance resistance{};     // between its terminals; of a connector's one mated contact
  std::optional<ConnectorId> connector{};
  std::vector<int> outgoing{}, back{};  // cavities
  std::optional<Length> distance{};     // from the run's `from`, along the outgoing conductor

  /// The cavities of a connector that one pole uses; they carry its current together.
  [[nodiscard]] const std::vector<int>& cavities(Pole p) const {
    return p == Pole::outgoing ? outgoing : back;
  }
  [[nodiscard]] bool sits_in(Pole p) const { return connector ? !cavities(p).empty() : p == pole; }
  /// What one pole passes here; nothing where it does not sit in it. Contacts in parallel share:
  ///   R = R_contact / n
  [[nodiscard]] Resistance in(Pole p) const {
    if (!sits_in(p)) return Resistance{};
    return connector ? resistance / double(cavities(p).size()) : resistance;
  }
};

struct Section {
  Length length{};
  Temperature ambient{};
  Laid laid = Laid::in_insulation;
  int circuits_together = 4;
  bool ambient_stated = false;  // here or for the whole run
};

struct Return {
  bool chassis = false;
  std::optional<tables::Conductor> conductor{};  // absent: to be chosen with the outgoing one
  Length length{};
  PostId to{};  // its far end; usually the run's `from`
};

struct Run {
  std::string name;
  std::string label;  // on its conductors; no two alike
  PostId from, to;
  Length length{};                               // of the outgoing conductor
  std::optional<tables::Conductor> conductor{};  // absent: to be chosen
  Temperature insulation{};
  Insulation material = Insulation::pvc;
  std::optional<Temperature> held_at{};  // conductor temperature by decree, for drops
  std::vector<Section> sections;         // the whole length, at least one
  int parallel = 1;                      // conductors per pole
  Return back;
  int joints = 0;  // of both poles
  std::optional<Resistance>
      joint_resistance{};  // each; absent: 0.1 m of the conductor, 0.05–0.5 mΩ
  std::vector<InlineItem> inline_items;
  std::vector<Protection> protection;
  /// Things on its way, a connector in both poles twice: two joints at each.
  [[nodiscard]] int things() const;
  /// Of them, those that break one pole: devices stand in the outgoing one.
  [[nodiscard]] int things_in(Pole) const;
};
using RunId = Id<Run>;

/// What joins the negative to the chassis: the way home of all runs that return by it.
struct Bond {
  PostId at;
  std::optional<tables::Conductor> conductor{};
};
/// A value for each run of the design.
template <class Value> using PerRun = List<Value, Run>;

struct Window {
  Duration from{}, to{};
};  // of the day; to > from, at most 24 h

struct Inverter {
  std::string name;
  PostId post;
  Power rating{};
  std::optional<Surge> surge{};
  Power no_load{};
  std::optional<Ratio> k{};           // loss = no_load + k · P² / rating …
  std::optional<Ratio> efficiency{};  // … or a flat efficiency
  InverterRuns runs = InverterRuns::always;
  InverterLoads loads = InverterLoads::any;
  Voltage cut_out{};
  Ratio ripple = 1.22;
  std::optional<Mass> mass{};
};
using InverterId = Id<Inverter>;

struct Appliance {
  std::string name;
  PostId post;  // its own, or the one it hangs on; the inverter's for a.c.
  std::optional<InverterId> inverter{};
  Power power{};  // at its terminals, at `rated_at`; of one
  Voltage rated_at{};
  Behaviour behaves = Behaviour::constant_power;
  Ratio power_factor = 1.0;
  int quantity = 1;
  std::vector<Window> windows;  // rising, not overlapping
  std::optional<Duration> per_day{};
  Ratio duty = 1.0;
  PerKelvin duty_per_kelvin{};  // relative
  Temperature duty_at{};
  std::optional<DutyInCold> duty_in_cold{};
  UsedBy used_by = UsedBy::people;  // the van's own use does not change with habits
  int days_of_seven = 7;
  std::optional<bool> while_parked{};  // as stated
  std::optional<Starting> starting{};
  int starts = 0;  // in a day of use, of each; 0 where nothing is said of starting
  Voltage lowest{}, highest{};
  bool limits_stated = false;  // lowest or highest was written, not assumed
  std::size_t drop_class = 0;  // of the profile's
};
using ApplianceId = Id<Appliance>;

struct Lead {
  tables::Conductor conductor;
  Length length{};
  std::optional<Resistance>
      resistance{};    // with its joints, as measured; absent: copper and joints
  bool joints = true;  // false: those that nobody stated count nothing
};
struct BatteryDevice {
  Protection device;
};

struct Bank {
  PostId post;
  int parallel = 1, in_series = 1;
  Charge capacity{};                        // of each
  Voltage nominal_voltage{};                // of each
  std::optional<Resistance> low{}, high{};  // of each as stated; `high` may be 2.5 · low
  std::optional<Current> charge_limit{}, discharge_limit{};
  std::optional<Peak> peak{};
  std::optional<Voltage> open_circuit_full{}, charge_voltage_highest{};  // of the whole bank
  std::optional<Temperature> charge_cut_off_below{}, charge_cut_off_above{};
  bool no_cold_cut_off = false;
  std::optional<Mass> mass{};
  Current own_draw{};
  Ratio storage_charge = 1.0;
  Temperature storage_temperature{};
  int cycles_per_year = 100;
  Ratio cycle_depth = 0.8;
  std::optional<std::string> stud{};
  std::optional<Area> largest_conductor{};
  std::optional<BankPlace> mounted{};
  std::array<int, 2> takeoff{1, 1};  // battery numbers of + and −, from 1
  std::optional<Lead> link_positive{}, link_negative{}, lead{};
  std::optional<BatteryDevice> each_device{};
  std::optional<Box> box{};
  /// Nominal voltage of the whole bank and its rated charge.
  [[nodiscard]] Voltage voltage() const { return nominal_voltage * double(in_series); }
  [[nodiscard]] Charge rated() const { return capacity * double(parallel); }
};

struct Controller {
  std::string name;
  PostId in, out;
  ControllerKind kind = ControllerKind::step_down;
  Voltage max_voltage{};
  std::optional<Current> max_short_circuit_current{};
  Current max_charge_current{};
  Ratio efficiency = 0.95;
  Power own_draw{};
  Voltage charge_voltage{};
  std::optional<Mass> mass{};
};
using ControllerId = Id<Controller>;

struct Array {
  std::string name;
  PostId post;
  int modules = 1, in_series = 1;
  Module module;
  Angle tilt{}, azimuth{};
  Mount mount = Mount::roof_flat;
  std::array<Ratio, 24> shade{};  // by hour of the day
  Ratio soiling = 0.03;
  std::array<Ratio, 12> covered{};  // share of each month's days without any sun on it
  ControllerId controller;
};
using ArrayId = Id<Array>;

struct Charger {
  std::string name;
  std::optional<PostId> in;  // of a dc-dc charger
  PostId out;
  ChargerKind kind = ChargerKind::dc_dc;
  Current current{};
  Ratio efficiency = 0.85;
  Voltage input_cut_out{}, charge_voltage{};
  std::optional<Voltage> input_low{}, input_normal{};
  std::optional<Mass> mass{};
};
using ChargerId = Id<Charger>;

struct Feed {
  std::string name;
  PostId post;
  std::string kind;
  Voltage low{}, high{};
  std::optional<Resistance> resistance_low{}, resistance_high{};
  std::optional<Current> spare_current{};
};
using FeedId = Id<Feed>;

struct Case {
  std::string name;
  std::vector<ApplianceId> running;
  Ratio charge = 0.3;
  Temperature temperature{};
  std::optional<ApplianceId> starting{};
  std::vector<std::string> charging;
};

struct Site {
  const tables::Town* town = nullptr;  // of the climate table, or made of the weather file's months
  std::string weather;
  std::shared_ptr<const tables::Town> made{};   // `town`, where it is made of those around a place
  std::string made_of;                          // their titles
  bool far = false;                             // a town of them is farther than 300 km
  const tables::WeatherFile* hourly = nullptr;  // null: none is named, or it was not read
  std::optional<int> month{};                   // 0 January … 11; absent: the worst
  std::optional<Temperature> record_low{};      // as written, or the table's less 3 K
  Pitch pitch = Pitch::open;
};

struct Promised {
  std::optional<Duration> autonomy{}, stay{};
  bool unlimited = false;
  Ratio chance = 0.9;
  Duration bank_age{};
  Ratio arrive_at = 1.0, reserve = 0.1;
  Duration arrive_time = 16.0 * hour;  // after midnight
  int people = 2;                      // for whom the appliances' hours are written
};

struct Travelling {
  Duration driving{}, every{}, generator{}, parked{};
  int mains_nights = 0;
};

/// What a part costs, as stated.
struct Priced {
  std::string what;  // "bank", name of the equipment
  int count = 1;
  std::optional<Money> each{};
};

/// The plain content of a Design; read through `Design::operator->`.
struct Content {
  std::string name, file;
  Voltage nominal{};  // 12 V or 24 V; what drops are shares of
  std::optional<Mass> mass_allowance{};
  const tables::Tables* tables = nullptr;
  const tables::RuleProfile* profile = nullptr;
  std::string ampacity_table;  // overrides the profile's; may be empty
  std::string sizes;           // series to choose from: "metric", "awg"
  std::vector<std::string> inspected;
  Site site;
  Promised promise;
  Travelling travel;
  List<Assembly> assemblies;
  List<Connector> connectors;
  List<Post> posts;
  List<Run> runs;
  List<Appliance> appliances;
  std::optional<Bank> bank;
  List<Array> arrays;
  List<Controller> controllers;
  List<Charger> chargers;
  List<Feed> feeds;
  List<Inverter> inverters;
  std::vector<Case> cases;
  std::optional<Resistance> chassis;
  std::optional<Bond> bond;    // of the negative to the chassis
  std::vector<Priced> prices;  // bank, modules, controllers, chargers, inverters
  Build build;
  Drawing drawing;
  std::vector<Assumption> assumptions;  // every default that was used
  std::set<std::string> assumed;        // their paths

  // Their code is made once, not in every source that moves one.
  Content();
  Content(const Content&);
  Content(Content&&) noexcept;
  Content& operator=(const Content&);
  Content& operator=(Content&&) noexcept;
  ~Content();
};

}  // namespace resolved

class Design {
public:
  const resolved::Content* operator->() const { return &content_; }
  const resolved::Content& operator*() const { return content_; }
  const resolved::Run& operator[](resolved::RunId id) const { return content_.runs[id]; }
  const resolved::Post& operator[](resolved::PostId id) const { return content_.posts[id]; }
  const resolved::Appliance& operator[](resolved::ApplianceId id) const {
    return content_.appliances[id];
  }
  const resolved::Inverter& operator[](resolved::InverterId id) const {
    return content_.inverters[id];
  }
  const resolved::Controller& operator[](resolved::ControllerId id) const {
    return content_.controllers[id];
  }

private:
  friend std::optional<Design> resolve(Document, const tables::Tables&, Defaults, Diagnostics&);
  Design() = default;
  resolved::Content content_;
};

/// Our own limit: so many runs, and so many nodes and appliances together.
inline constexpr std::size_t largest_design = 2500;

/// Reads the tree into a Document: every key checked against the field list.
[[nodiscard]] std::optional<Document> document_of(const Node&, Diagnostics&);
/// What can be read of a tree with mistakes in it, examples in the place of what has to be there, and
/// the paths of what could not be read. For looking at the rest only: never to be calculated.
struct MendedDocument {
  Document document;
  std::vector<std::string> broken;
};
[[nodiscard]] MendedDocument mended_document_of(const Node&);
/// And back: what is stated in it, each value as text that reads back the same.
[[nodiscard]] Node node_of(const Document&);

/// Names to indices, sizes to rows, defaults in place. Every problem goes to the list. The Tables
/// must outlive the Design.
[[nodiscard]] std::optional<Design> resolve(Document, const tables::Tables&, Defaults,
                                            Diagnostics&);

/// The field list of the whole design file: for the schema, the manual and `new`.
[[nodiscard]] FieldList document_fields();

}  // namespace housepower::design
