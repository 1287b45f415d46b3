// SPDX-License-Identifier: Apache-2.0
// The design file as written: one struct for each of its tables, a member for each of its keys.
// The lists that read, describe and default them are in src/design/fields.cpp; docs/FORMAT.md is
// printed from those. Nothing is resolved here: names are text and absent is absent.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "housepower/reading/diagnostic.hpp"
#include "housepower/units/quantity.hpp"

namespace housepower::design {

enum class Behaviour { constant_power, constant_current, resistive };
enum class Pitch { open, part_shade, under_trees };
enum class Insulation { pvc, xlpe, rubber, silicone };
enum class Laid { free, clipped, conduit, touching_insulation, in_insulation };
enum class Sits { inside, box, box_wall, underfloor, roof, tow_vehicle };
enum class NodeKind { panel, bus_bar, stud, plug, jump_post, point };
enum class Purpose { wake, charge, start_a_vehicle };
enum class RunEnd { from, to };
enum class Pole { outgoing, return_ };
enum class InlineKind { isolator, shunt, contactor, plug };
enum class DeviceKind { fuse, breaker };
enum class BankPlace { outside_sealed, inside_sealed_vented_out, inside };
enum class UsedBy { people, van };
enum class BoxSits { drawbar, underfloor };
enum class HeaterSupply { charge, bank };
enum class Mount { roof_flat, tilted, ground };
enum class ControllerKind { step_down, direct, step_up };
enum class ChargerKind { dc_dc, mains, generator };
enum class InverterRuns { always, while_used, search };
enum class InverterLoads { any, listed };
enum class SizeSeries { metric, awg };
enum class Chemistry { lfp };
enum class Least { mass, price };
enum class PartKind { battery, module, controller, charger, inverter, conductor, device };

/// A key whose value is a size of the trade ("35 mm2", "2/0 awg"): text until tables are at hand.
using SizeText = std::string;

struct CurvePoint {  // [1.35, "600 s"]: multiple of the rating, and a time
  Ratio multiple{};
  Duration time{};
};

struct Vehicle {
  std::string name;
  Voltage system_voltage{};
  std::optional<Mass> electrical_mass_allowance;
};

struct Rules {
  std::string profile;
  std::optional<std::string> ampacity_table;
  std::optional<SizeSeries> sizes;
  std::vector<std::string> inspected;
};

struct Location {
  std::optional<std::string> name, weather;
  std::optional<Angle> latitude, longitude;
  std::optional<Length> height;
  std::optional<std::string> month;
  std::optional<Temperature> record_low;
  std::optional<Pitch> pitch;
};

struct Promise {
  std::optional<Duration> autonomy, stay;
  std::optional<bool> unlimited;
  std::optional<Ratio> chance;
  std::optional<Duration> bank_age;
  std::optional<Ratio> arrive_at, reserve;
  std::optional<std::string> arrive_time;  // "16:00"
  std::optional<int> people;
};

struct WiringDefaults {
  std::optional<Temperature> insulation;
  std::optional<Insulation> insulation_material;
  std::optional<Laid> laid;
  std::optional<Temperature> ambient;
  std::optional<int> circuits_together, joints;
  std::optional<Resistance> joint_resistance;
};

struct MakersDevice {
  std::string name;
  std::optional<DeviceKind> kind;
  std::optional<Current> breaking_capacity;
  std::optional<Voltage> rated_voltage;
  std::vector<CurvePoint> curve, curve_fast;
  std::vector<Current> ratings;
  Place place;
};

struct Travel {
  std::optional<Duration> driving, every, generator, parked;
  std::optional<int> mains_nights;
};

struct Starting {
  Current current{};
  Duration time{};
};

struct DutyInCold {
  Temperature at{};
  Ratio per_kelvin{};
};
struct Appliance {
  std::string name;
  std::optional<Power> power;
  std::optional<Current> current;
  std::optional<Voltage> rated_at;
  std::optional<Ratio> power_factor;
  std::optional<std::string> supply;
  std::optional<Behaviour> behaves;
  std::optional<int> quantity;
  std::vector<std::string> between;  // "22:00-06:00"
  std::optional<Duration> per_day;
  std::optional<Ratio> duty, duty_per_kelvin;
  std::optional<Temperature> duty_at;
  std::optional<DutyInCold> duty_in_cold;
  std::optional<UsedBy> used_by;
  std::optional<int> days_of_seven;
  std::optional<bool> while_parked;
  std::optional<Starting> starting;
  std::optional<int> starts;
  std::optional<Voltage> lowest_voltage, highest_voltage;
  std::optional<std::string> drop_class, on;
  std::optional<std::string> assembly;
  Place place;
};

struct ResistanceRange {
  std::optional<Resistance> low, high;
};
struct Peak {
  Current current{};
  Duration time{};
};
struct Storage {
  std::optional<Ratio> charge;
  std::optional<Temperature> temperature;
};
struct Terminal {
  std::optional<std::string> stud;
  std::optional<SizeText> largest_conductor;
};
struct Link {
  SizeText conductor;
  Length length{};
  std::optional<Resistance> resistance;
};
struct Links {
  std::optional<Link> positive, negative;
};
struct DeviceAtBattery {
  std::string type;
  Current rating{};
  std::optional<Current> breaking_capacity;
};
struct EachBattery {
  std::optional<Link> lead;
  std::optional<DeviceAtBattery> protection;
};
struct Heater {
  Power power{};
  std::optional<HeaterSupply> supplied_by;
  std::optional<Temperature> on_below, off_above;
};
struct Box {
  std::vector<Length> size;
  std::optional<BoxSits> sits;
  std::optional<HeatTransfer> heat_transfer;
  std::optional<Ratio> absorptance;
  std::optional<Heater> heater;
};

struct Bank {
  std::optional<Chemistry> chemistry;
  std::optional<int> quantity, in_series;
  std::optional<Charge> capacity;
  std::optional<Voltage> nominal_voltage;
  std::optional<ResistanceRange> resistance;
  std::optional<Current> charge_limit, discharge_limit;
  std::optional<Peak> peak;
  std::optional<Temperature> charge_cut_off_below, charge_cut_off_above;
  std::optional<bool> no_cold_cut_off;
  std::optional<Mass> mass;
  std::optional<Voltage> open_circuit_full, charge_voltage_highest;  // of the whole bank
  std::vector<Length> size;
  std::optional<std::string> price;
  std::optional<Current> own_draw;
  std::optional<Storage> storage;
  std::optional<int> cycles_per_year;
  std::optional<Ratio> cycle_depth;
  std::optional<Terminal> terminal;
  std::optional<BankPlace> mounted;
  std::vector<int> takeoff_from;
  std::optional<Links> links;
  std::optional<EachBattery> each_battery;
  std::optional<Box> box;
  std::optional<std::string> assembly;
  Place place;
};

struct Module {
  Power power{};
  std::optional<Voltage> voc, vmp;
  std::optional<Current> isc, imp, largest_series_fuse;
  std::optional<PerKelvin> voc_coefficient, power_coefficient;
  std::vector<Length> size;
  std::optional<Mass> mass;
  std::optional<std::string> price;
};
struct Array {
  std::string name;
  int modules = 0;
  std::optional<int> in_series;
  Module module;
  std::optional<Angle> tilt, azimuth;
  std::optional<Mount> mount;
  std::optional<Ratio> shade;
  std::vector<Ratio> shade_by_hour;
  std::optional<Ratio> soiling;
  std::vector<Ratio> covered;  // twelve
  std::string to;
  std::optional<std::string> assembly;
  Place place;
};

struct Controller {
  std::string name;
  std::optional<ControllerKind> kind;
  Voltage max_voltage{};
  std::optional<Current> max_short_circuit_current;
  Current max_charge_current{};
  std::optional<Ratio> efficiency;
  std::optional<Power> own_draw;
  std::optional<Voltage> charge_voltage;
  std::optional<Mass> mass;
  std::optional<std::string> price, stud, assembly;
  Place place;
};

struct InputVoltage {
  std::optional<Voltage> low, normal;
};
struct Charger {
  std::string name;
  ChargerKind kind{};
  Current current{};
  std::optional<Ratio> efficiency;
  std::optional<Voltage> input_cut_out, charge_voltage;
  std::optional<InputVoltage> input_voltage;
  std::optional<Mass> mass;
  std::optional<std::string> price, stud, assembly;
  Place place;
};

struct VoltageRange {
  std::optional<Voltage> low, high;
};
struct SourceFeed {
  std::string name;
  std::optional<std::string> kind;
  std::optional<VoltageRange> voltage;
  std::optional<ResistanceRange> resistance;
  std::optional<Current> spare_current;
  std::optional<std::string> assembly;
  Place place;
};

struct Surge {
  Power power{};
  Duration time{};
};
struct Loss {
  std::optional<Ratio> k;
};
struct Inverter {
  std::string name;
  Power rating{};
  std::optional<Surge> surge;
  std::optional<Power> no_load;
  std::optional<Loss> loss;
  std::optional<Ratio> efficiency;
  std::optional<InverterRuns> runs;
  std::optional<InverterLoads> loads;
  std::optional<Voltage> cut_out;
  std::optional<Ratio> ripple;
  std::optional<Mass> mass;
  std::optional<std::string> price, stud, assembly;
  Place place;
};

struct MeetingNode {
  std::string name;
  std::optional<NodeKind> kind;
  std::optional<Current> rating;
  std::optional<int> slots;
  std::optional<Sits> sits;
  std::optional<Purpose> purpose;
  std::optional<std::string> stud, assembly;
  std::optional<Current> largest_device;
  std::optional<Temperature> terminals, ambient;
  Place place;
};

/// A piece of the van that is wired before it is fitted.
struct Assembly {
  std::string name;
  std::optional<std::string> station, fitted_at;
  Place place;
};

/// What joins the looms of two assemblies: a housing on each, with numbered cavities.
struct Connector {
  std::string name;
  std::vector<std::string> between;  // two assemblies
  int cavities = 0;
  std::optional<Current> rating, rating_all_loaded;  // of one cavity
  std::optional<SizeText> largest_conductor;
  std::optional<Resistance> resistance;  // of one mated contact
  std::optional<std::string> contact;
  std::optional<Length> strip;
  Place place;
};

struct SectionOfRun {
  Length length{};
  std::optional<Temperature> ambient;
  std::optional<Laid> laid;
  std::optional<int> circuits_together;
};
struct ReturnOfRun {
  std::optional<SizeText> conductor;
  std::optional<Length> length;
  std::optional<std::string> to;
};
struct InlineItem {
  InlineKind kind{};
  std::optional<Current> rating, largest_device;
  std::optional<bool> breaks_load;
  std::optional<Resistance> resistance;
  std::optional<Pole> pole;
  std::optional<std::string> connector;
  std::vector<int> outgoing, return_;  // cavities of the connector
  std::optional<Length> distance;      // along the conductor from the run's `from`
  Place place;
};
struct ProtectionOfRun {
  RunEnd end{};
  std::string type;
  Current rating{};
  std::optional<Length> distance;
  std::optional<bool> enclosed;
  std::optional<Sits> sits;
  std::vector<CurvePoint> curve, curve_fast;
  std::optional<Current> breaking_capacity;
  std::optional<Voltage> rated_voltage;
  std::optional<std::string> backed_by;
  std::vector<std::string> assumed;  // keys that a program wrote and nobody has confirmed
  Place place;
};
struct Run {
  std::string name, from, to;
  std::optional<std::string> label;
  Length length{};
  std::optional<SizeText> conductor;
  std::optional<Temperature> insulation;
  std::optional<Insulation> insulation_material;
  std::optional<Laid> laid;
  std::optional<Temperature> ambient;
  std::optional<int> circuits_together;
  std::optional<Temperature> conductor_temperature;  // held at it, instead of what the load makes
  std::vector<SectionOfRun> sections;
  std::optional<int> parallel;
  std::optional<ReturnOfRun> return_;
  std::optional<bool> chassis_return;
  std::optional<int> joints;
  std::optional<Resistance> joint_resistance;
  std::vector<InlineItem> inline_items;
  std::vector<ProtectionOfRun> protection;
  Place place;
};

struct Case {
  std::string name;
  std::vector<std::string> running;
  std::optional<Ratio> charge;
  std::optional<Temperature> temperature;
  std::optional<std::string> starting;
  std::vector<std::string> charging;
  Place place;
};

struct Chassis {
  std::optional<Resistance> resistance;
  std::optional<std::string> bonded_at;  // where the negative is joined to it
  std::optional<SizeText> bond;          // by what conductor
};

/// How the wiring is made up on the line: for the build list.
struct Build {
  std::optional<std::string> colours;  // name of a table of colours
  std::optional<Length> allowance;     // added to each conductor that is cut
  // The works' own habits; what a key does not name is not stated.
  std::map<std::string, Length> strip;     // by stud: "M8"
  std::map<std::string, Torque> torque;    // by stud
  std::map<std::string, std::string> lug;  // by stud, or by size and stud: "35 mm2 M8"
  std::map<std::string, std::string> die;  // by size
};

/// What stands in the frame of a drawing.
struct Drawing {
  std::optional<std::string> number, revision, date, drawn_by, checked_by;
};

/// What `size` may choose, and by what it judges.
struct Sizing {
  std::optional<std::string> catalogue;  // file of parts, beside the design
  std::optional<Least> least;
  std::vector<std::string> places;  // towns at which the promise has to hold
  std::optional<Area> roof_area;
  std::optional<int> most_batteries, most_modules;
  std::vector<std::string> keep;  // equipment that stays as it is
};

/// A size of conductor and a type of device as a store holds them. Where a kind's parts say which of
/// them are in stock, nothing else of that kind is chosen.
struct StockedConductor {
  SizeText size;
  std::optional<std::string> price;  // of a metre
  std::optional<bool> in_stock;
};
struct StockedDevice {
  std::string type;  // of the tables, or a [[device]]
  std::vector<Current> ratings;
  std::optional<std::string> price;  // of a piece in each of these ratings
  std::optional<bool> in_stock;
};

/// A part that can be bought, with the keys that the design has for its kind; a battery's are those
/// of [bank] that one battery has. What is not stated stays as the design says, or unknown.
struct Part {
  std::string name;
  std::variant<Bank, Module, Controller, Charger, Inverter, StockedConductor, StockedDevice> is;
  Place place;
  [[nodiscard]] PartKind kind() const { return static_cast<PartKind>(is.index()); }
};

struct Document {
  int schema = 1;
  Vehicle vehicle;
  Rules rules;
  std::optional<Location> location;  // [place]
  std::optional<Promise> promise;
  std::optional<WiringDefaults> wiring;
  std::vector<MakersDevice> device;
  std::optional<Travel> travel;
  std::vector<Appliance> appliance;
  std::optional<Bank> bank;
  std::vector<Array> array;
  std::vector<Controller> controller;
  std::vector<Charger> charger;
  std::vector<SourceFeed> feed;
  std::vector<Inverter> inverter;
  std::vector<MeetingNode> node;
  std::vector<Assembly> assembly;
  std::vector<Connector> connector;
  std::vector<Run> run;
  std::vector<Case> load_case;  // [[case]]
  std::optional<Chassis> chassis;
  std::optional<Build> build;
  std::optional<Drawing> drawing;
  std::optional<Sizing> sizing;
  std::vector<Part> part;  // to choose from, where they are not in a file of their own
  Place place;             // of the whole, in the file that was asked for

  // Their code is made once, not in every source that moves one.
  Document();
  Document(const Document&);
  Document(Document&&) noexcept;
  Document& operator=(const Document&);
  Document& operator=(Document&&) noexcept;
  ~Document();
};

}  // namespace housepower::design
