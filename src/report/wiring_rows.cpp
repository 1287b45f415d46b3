// SPDX-License-Identifier: Apache-2.0
#include "wiring_rows.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "housepower/design/words.hpp"

namespace housepower::report {
namespace {

using design::resolved::Protection;
using design::resolved::Run;

void add(std::string& list, const std::string& text, const char* between = ", ") {
  if (!text.empty()) list += (list.empty() ? "" : between) + text;
}

/// The return, told by what is not as in the outgoing conductor.
std::string return_of(const design::Design& design, const Run& run, const wiring::RunFacts& facts) {
  if (!facts.back) return "chassis";
  const std::string& name = facts.back->conductor.name;
  std::string text =
      name == facts.outgoing.conductor.name
          ? "as outgoing"
          : tables::shown_name(facts.back->conductor) + (facts.back->chosen ? " (open)" : "");
  if (run.back.length != run.length) add(text, print(run.back.length));
  if (run.back.to != run.from) add(text, "to " + design[run.back.to].name);
  if (facts.current.back > 1.001 * facts.current.outgoing)  // not by the last digits of a solution
    add(text, "carries " + print(facts.current.back));
  const auto* out = std::get_if<wiring::Ampacity>(&facts.ampacity);
  const auto* back = std::get_if<wiring::Ampacity>(&facts.ampacity_back);
  if (out && back && back->value < out->value) add(text, "ampacity " + print(back->value));
  if (out && !back) add(text, "ampacity not known");
  return text;
}

std::string device_text(const Protection& p) {
  std::string text = p.type + " " + print(p.rating);
  text += p.end == design::RunEnd::from ? " at its beginning" : " at its end";
  const bool away = p.distance && *p.distance > Length{};
  return away ? text + ", " + print(*p.distance) + " along" : text;
}

const Run& run_of(const RunAt& r) { return r.design->runs[r.index]; }
const wiring::RunFacts& facts_of(const RunAt& r) { return r.wiring.runs[r.index]; }
const wiring::RunInCase* in_case(const RunAt& r) { return r.in ? &r.in->runs[r.index] : nullptr; }
const wiring::Ampacity* ampacity_of_run(const RunAt& r) {
  return std::get_if<wiring::Ampacity>(&facts_of(r).ampacity);
}

/// A member of what may be absent.
template <auto Of, auto Member> auto member(const RunAt& r) {
  const auto* known = Of(r);
  return known ? std::optional(known->*Member) : std::nullopt;
}
template <auto Member> auto of_ampacity(const RunAt& r) {
  return member<ampacity_of_run, Member>(r);
}
template <auto Member> auto of_case(const RunAt& r) { return member<in_case, Member>(r); }

std::string name_of_run(const RunAt& r) { return run_of(r).name; }
Length length_of(const RunAt& r) { return run_of(r).length; }
std::string conductor_of(const RunAt& r) {
  const auto& outgoing = facts_of(r).outgoing;
  return tables::shown_name(outgoing.conductor) + (outgoing.chosen ? " (open)" : "");
}

/// How its sections lie, each way once.
std::string lay_of(const RunAt& r) {
  std::string lay;
  for (const auto& section : run_of(r).sections) {
    const std::string how(word(section.laid));
    if (lay.find(how) == std::string::npos) add(lay, how);
  }
  return lay;
}
template <auto Member> auto most_of_sections(const RunAt& r) {
  const auto& sections = run_of(r).sections;
  auto most = sections.front().*Member;
  for (const auto& section : sections) most = std::max(most, section.*Member);
  return most;
}

Current design_current_of_run(const RunAt& r) { return facts_of(r).current.outgoing; }
std::string design_case_of(const RunAt& r) { return facts_of(r).current.in_case; }

/// The device of the lowest rating, at whichever end.
const Protection* least_device(const RunAt& r) {
  const auto& all = run_of(r).protection;
  const auto least = std::min_element(
      all.begin(), all.end(), [](const auto& a, const auto& b) { return a.rating < b.rating; });
  return least == all.end() ? nullptr : &*least;
}
std::optional<Current> least_rating(const RunAt& r) {
  const Protection* device = least_device(r);
  return device ? std::optional(device->rating) : std::nullopt;
}
std::string type_of_least(const RunAt& r) {
  const Protection* device = least_device(r);
  return device ? device->type : "none here";
}
std::string what_lowers_ampacity(const RunAt& r) {
  const wiring::Ampacity* iz = ampacity_of_run(r);
  return iz ? least_factor(*iz) : "not known";
}

std::optional<Current> first_device(const RunAt& r) {
  const auto& all = run_of(r).protection;
  return all.empty() ? std::nullopt : std::optional(all.front().rating);
}
std::string devices_of(const RunAt& r) {
  std::string text;
  for (const Protection& p : run_of(r).protection) add(text, device_text(p), "; ");
  return text;
}

/// Why a figure is missing or may not be relied on.
std::string note_of(const RunAt& r) {
  const auto& facts = facts_of(r);
  std::string note;
  if (!facts.current.why_unknown.empty())
    note = "the design current is too small: " + facts.current.why_unknown;
  if (const auto* none = std::get_if<wiring::NoAmpacity>(&facts.ampacity))
    add(note, "no ampacity: " + none->why, "; ");
  if (const auto* iz = ampacity_of_run(r)) add(note, iz->note, "; "), add(note, iz->beyond, "; ");
  add(note, r.remark, "; ");
  return note;
}

const Protection& device_of(const DeviceAt& d) { return wiring::device_of(d.design, d.facts); }
template <auto Member> auto of_device(const DeviceAt& d) { return device_of(d).*Member; }
template <auto Member> auto of_faults(const DeviceAt& d) { return d.facts.*Member; }
const Run* run_of(const DeviceAt& d) { return d.facts.run ? &d.design[*d.facts.run] : nullptr; }
std::string end_of(const DeviceAt& d) {
  if (!d.facts.run) return "battery";
  return device_of(d).end == design::RunEnd::from ? "from" : "to";
}
std::optional<Current> smallest_fault(const DeviceAt& d) {
  return d.facts.smallest ? std::optional(d.facts.smallest->value) : std::nullopt;
}

}  // namespace

std::string least_factor(const wiring::Ampacity& iz) {
  const std::array<std::pair<std::string_view, Ratio>, 4> factors{{{"ambient", iz.ambient},
                                                                   {"terminals", iz.terminal},
                                                                   {"grouping", iz.grouping},
                                                                   {"laid", iz.laid}}};
  const auto& least =
      *std::min_element(factors.begin(), factors.end(),
                        [](const auto& a, const auto& b) { return a.second < b.second; });
  if (double(least.second) > 0.999) return "the table";
  return std::string(least.first) + " " + print_plain(double(least.second), 2);
}

const Columns<RunAt>& run_columns() {
  using wiring::Ampacity, wiring::RunInCase;
  static const Columns<RunAt> columns{
      {"name", "run", name_of_run},
      {"conductor", "conductor", conductor_of},
      {"length_m", "length", "m", length_of},
      {"current_A", "current", "A", of_case<&RunInCase::current>},
      {"device_A", "device", "A", first_device},
      {"ampacity_A", "ampacity", "A", of_ampacity<&Ampacity::value>},
      {"drop_V", "drop", "V", of_case<&RunInCase::drop>},
      {"drop_share", "drop", of_case<&RunInCase::drop_share>},
      {"conductor_temperature_C", "copper", "°C", of_case<&RunInCase::conductor>},
      {"ampacity_table", "table", of_ampacity<&Ampacity::table>},
      {"ampacity_row", "row", of_ampacity<&Ampacity::row>}};
  return columns;
}

const Columns<RunAt>& governing_columns() {
  using wiring::Ampacity, wiring::RunInCase;
  static const Columns<RunAt> columns{{"name", "run", name_of_run},
                                      {"conductor", "size", conductor_of},
                                      {"design_current_A", "I_B", "A", design_current_of_run},
                                      {"device_A", "I_n", "A", least_rating},
                                      {"device", "by", type_of_least},
                                      {"ampacity_A", "I_z", "A", of_ampacity<&Ampacity::value>},
                                      {"factor", "by", what_lowers_ampacity},
                                      {"drop_V", "drop", "V", of_case<&RunInCase::drop>}};
  return columns;
}

const Columns<RunAt>& factor_columns() {
  using wiring::Ampacity;
  static const Columns<RunAt> columns{{"ambient", "ambient", of_ampacity<&Ampacity::ambient>},
                                      {"grouping", "grouping", of_ampacity<&Ampacity::grouping>},
                                      {"laid", "laid", of_ampacity<&Ampacity::laid>},
                                      {"terminal", "terminal", of_ampacity<&Ampacity::terminal>}};
  return columns;
}

const Columns<RunAt>& schedule_columns() {
  using namespace runs_in;
  using design::resolved::Section;
  using wiring::Ampacity, wiring::RunInCase;
  using Its = ColumnOf<RunAt>;
  static const Columns<RunAt> columns{
      Its("label", "label", [](const RunAt& r) { return run_of(r).label; })
          .in(laid | borne | lost | guarded),
      Its("run", "run", name_of_run).in(laid),
      Its("from", "from", [](const RunAt& r) { return r.design[run_of(r).from].name; }).in(laid),
      Its("to", "to", [](const RunAt& r) { return r.design[run_of(r).to].name; }).in(laid),
      Its("conductor", "conductor", conductor_of).in(laid),
      {"area_mm2", "area", "mm²",
       [](const RunAt& r) { return facts_of(r).outgoing.conductor.nominal; }},
      Its("conductors_per_pole", "per pole", [](const RunAt& r) { return run_of(r).parallel; })
          .in(guarded),
      Its("insulation_material", "insulation",
          [](const RunAt& r) { return word(run_of(r).material); })
          .in(guarded),
      Its("insulation_C", "insulation for", "°C",
          [](const RunAt& r) { return run_of(r).insulation; })
          .in(guarded),
      Its("length_m", "length", "m", length_of).in(laid),
      Its("return", "return",
          [](const RunAt& r) { return return_of(r.design, run_of(r), facts_of(r)); })
          .in(laid),
      Its("laid_as", "laid as", lay_of).in(laid),
      Its("ambient_C", "hottest around", "°C", most_of_sections<&Section::ambient>).in(laid),
      Its("circuits_together", "circuits together", most_of_sections<&Section::circuits_together>)
          .in(laid),
      Its("design_current_A", "design current", "A", design_current_of_run).in(borne),
      Its("design_case", "in case", design_case_of).in(borne),
      Its("ampacity_A", "ampacity", "A", of_ampacity<&Ampacity::value>).in(borne),
      Its("ampacity_table", "ampacity table", of_ampacity<&Ampacity::table>).in(borne),
      Its("ampacity_row", "its row", of_ampacity<&Ampacity::row>).in(borne),
      Its("ambient_factor", "× ambient", of_ampacity<&Ampacity::ambient>).in(borne),
      Its("terminal_factor", "× terminal", of_ampacity<&Ampacity::terminal>).in(borne),
      Its("grouping_factor", "× grouping", of_ampacity<&Ampacity::grouping>).in(borne),
      Its("laid_factor", "× laid", of_ampacity<&Ampacity::laid>).in(borne),
      Its("drop_case", "loses most in case",
          [](const RunAt& r) { return r.in ? r.in->load_case.name : std::string(); })
          .in(lost),
      Its("current_A", "current in it", "A", of_case<&RunInCase::current>).in(lost),
      Its("drop_V", "drop", "V", of_case<&RunInCase::drop>).in(lost),
      Its("drop_share", "drop", of_case<&RunInCase::drop_share>).in(lost),
      Its("conductor_temperature_C", "copper", "°C", of_case<&RunInCase::conductor>).in(lost),
      Its("devices", "devices", devices_of).in(guarded),
      Its("note", "note", note_of).in(guarded)};
  return columns;
}

std::vector<DeviceAt> devices_at(const design::Design& design, const wiring::Assessment& w) {
  std::vector<DeviceAt> all;
  for (const auto& facts : w.devices) all.push_back({design, facts});
  return all;
}

const Columns<DeviceAt>& device_columns() {
  using namespace devices_in;
  using wiring::DeviceFacts;
  using Its = ColumnOf<DeviceAt>;
  static const Columns<DeviceAt> columns{
      Its("label", "label",
          [](const DeviceAt& d) { return run_of(d) ? run_of(d)->label : std::string(); })
          .in(schedule | schedule_clearing),
      Its("run", "run",
          [](const DeviceAt& d) { return run_of(d) ? run_of(d)->name : "bank/each_battery"; })
          .in(json | breaking | clearing | schedule),
      Its("end", "end", end_of).in(json | breaking | clearing | schedule | schedule_clearing),
      Its("distance_m", "along", "m", of_device<&Protection::distance>).in(schedule),
      Its("type", "type", of_device<&Protection::type>).in(json | breaking | schedule),
      Its("rating_A", "rating", "A", of_device<&Protection::rating>).in(json | breaking | schedule),
      Its("prospective_max_A", "largest fault", "A", of_faults<&DeviceFacts::largest>)
          .in(json | breaking | schedule),
      Its("breaking_capacity_A", "can break", "A", of_device<&Protection::breaking_capacity>)
          .in(json | breaking | schedule),
      Its("prospective_min_A", "smallest fault", "A", smallest_fault)
          .in(json | clearing | schedule_clearing),
      Its("clearing_s", "opens within", "s", of_faults<&DeviceFacts::clearing>)
          .in(json | clearing | schedule_clearing),
      Its("let_through_A2s", "lets through", "A2s", of_faults<&DeviceFacts::let_through>)
          .in(json | clearing | schedule_clearing),
      Its("withstand_A2s", "withstood", "A2s", of_faults<&DeviceFacts::withstand>)
          .in(json | clearing | schedule_clearing)};
  return columns;
}

}  // namespace housepower::report
