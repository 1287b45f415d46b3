// SPDX-License-Identifier: Apache-2.0
// The page that is handed over with a van.
#include <algorithm>

#include "answer_shapes.hpp"
#include "housepower/diagram/diagram.hpp"
#include "housepower/report/record.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/wiring/switched_off.hpp"
#include "json.hpp"
#include "pieces.hpp"
#include "record_parts.hpp"

namespace housepower::report {
namespace {

using design::Design;

std::string count_of(int n, const std::string& what) {
  return n == 1 ? what : std::to_string(n) + " × " + what;
}

std::string bank_of(const Design& d) {
  if (!d->bank) return "none";
  const auto& bank = *d->bank;
  return count_of(bank.parallel * bank.in_series,
                  print(bank.capacity) + " lithium, " + print(bank.nominal_voltage)) +
         "; " + print(bank.rated()) + " at " + print(bank.voltage()) + " together";
}

/// Names of a list of things.
template <class List> std::vector<std::string> names_of(const List& list) {
  std::vector<std::string> names;
  for (const auto& one : list) names.push_back(one.name);
  return names;
}

Facts fitted_in(const Design& d) {
  Facts facts;
  const auto add = [&](const char* name, std::string value, std::string note = {}) {
    if (!value.empty()) facts.facts.push_back({name, std::move(value), std::move(note)});
  };
  add("Bank", bank_of(d));
  for (const auto& array : d->arrays)
    add("Sun", count_of(array.modules, print(array.module.power)), array.name);
  add("Charged by", listed(names_of(d->chargers)));
  for (const auto& inverter : d->inverters)
    add("Inverter", inverter.name, print(inverter.rating) + " at the most");
  return facts;
}

std::vector<std::string> can_do(const Design& d, const energy::Assessment& e) {
  std::vector<std::string> says;
  if (!e.months.empty()) says.push_back(energy_answer(d, e));
  for (const auto& inverter : d->inverters)
    says.push_back("Appliances on the inverter may draw " + print(inverter.rating) +
                   " together, no more.");
  return says;
}

/// Below freezing charge plates the cells, whatever their electronics allow.
std::string never_in_the_cold(const design::resolved::Bank& bank) {
  const std::string text = "Never charge it below 0 °C: ";
  if (bank.no_cold_cut_off) return text + "nothing prevents it.";
  const auto& stops = bank.charge_cut_off_below;
  if (!stops) return text + "whether anything prevents it is not stated.";
  if (*stops < celsius(0.0))
    return text + "nothing prevents it down to " + print(*stops) + ", where it stops by itself.";
  return "Never force it to charge below 0 °C: below " + print(*stops) +
         " it stops by itself, and starts again when warmer.";
}

std::vector<std::string> never(const Design& d) {
  std::vector<std::string> says{
      "Only ever fit a fuse of the rating and type in the table, and never bridge one: the cable "
      "can "
      "catch fire before the fuse blows.",
      "Never open the battery box, loosen a lug or connect anything to the bank: that is for a "
      "licensed electrician.",
      "Never lay metal across the bank's terminals: they can drive thousands of amperes."};
  if (!d->bank) return says;
  const auto& bank = *d->bank;
  says.push_back(never_in_the_cold(bank));
  for (const auto& post : d->posts)
    if (post.purpose && *post.purpose != design::Purpose::start_a_vehicle)
      says.push_back("Never start a vehicle from " + post.name + ": it is not made for that.");
  if (!d->inverters.empty())
    says.emplace_back("Never plug in more at once than the inverter gives, and nothing into a "
                      "socket that is wet.");
  return says;
}

std::string where_of(const Design& d, const design::resolved::Run& run,
                     const design::resolved::Protection& p) {
  const std::string end = d[p.end == design::RunEnd::from ? run.from : run.to].name;
  return p.distance && p.distance->value() > 0.0 ? print(*p.distance) + " from " + end
                                                 : "at " + end;
}

TableBlock fuses(const Design& d) {
  TableBlock table{"Where the fuses are",
                   {"on the sleeve", "protects the cable to", "rating", "type", "where"},
                   {false, false, true, false, false},
                   {}};
  for (const auto& run : d->runs)
    for (const auto& p : run.protection)
      table.rows.push_back(
          {run.label, d[run.to].name, print(p.rating), p.plain_name(), where_of(d, run, p)});
  return table;
}

bool charges_from(const Design& d, design::ChargerKind kind) {
  return std::any_of(d->chargers.begin(), d->chargers.end(),
                     [&](const auto& charger) { return charger.kind == kind; });
}
bool has_mains(const Design& d) { return charges_from(d, design::ChargerKind::mains); }
bool has_generator(const Design& d) { return charges_from(d, design::ChargerKind::generator); }
bool has_tow_vehicle(const Design& d) {
  return charges_from(d, design::ChargerKind::dc_dc) || !d->feeds.empty();
}

/// "disconnect the mains and the tow vehicle, ": of what the design has.
std::string to_disconnect(const Design& d) {
  std::vector<std::string> sources;
  if (has_mains(d)) sources.emplace_back("the mains");
  if (has_generator(d)) sources.emplace_back("the generator");
  if (has_tow_vehicle(d)) sources.emplace_back("the tow vehicle");
  return sources.empty() ? "" : "disconnect " + listed(sources, " and ") + ", ";
}

/// "plug in the mains or start the tow vehicle".
std::string to_charge(const Design& d) {
  std::vector<std::string> ways;
  if (has_mains(d)) ways.emplace_back("plug in the mains");
  if (has_generator(d)) ways.emplace_back("start the generator");
  if (has_tow_vehicle(d)) ways.emplace_back("start the tow vehicle");
  if (ways.empty()) ways.emplace_back("ask its maker");
  return listed(ways, " or ");
}

bool is_from_bank(const Design& d, const design::resolved::Run& run) {
  return d->bank && (run.from == d->bank->post || run.to == d->bank->post);
}
bool is_isolator(const design::resolved::InlineItem& item) {
  return item.kind == design::InlineKind::isolator;
}

std::string to_isolate(const Design& d) {
  const auto fed = wiring::fed_while_open(d, [&](const auto& run, const auto& item) {
    return is_from_bank(d, run) && is_isolator(item);
  });
  std::vector<std::string> ways, live;
  for (const auto& run : d->runs) {
    if (!is_from_bank(d, run)) continue;
    const std::string ends = run.label + ", " + d[run.from].name + " to " + d[run.to].name;
    if (std::any_of(run.inline_items.begin(), run.inline_items.end(), is_isolator))
      ways.push_back("the isolator in " + ends);
    if (fed[run.from] && fed[run.to]) live.push_back(ends);
  }
  const auto still_on = wiring::drawing_at(d, fed);
  if (ways.empty())
    return "To isolate the bank: the design states no isolator at it; ask the maker before "
           "anything "
           "is done to the wiring.";
  return "To isolate the bank: switch everything off, " + to_disconnect(d) + "then turn off " +
         listed(ways, "; and ") +
         ". Still live then: " + (live.empty() ? "" : listed(live, "; ") + "; and ") +
         "everything between the bank and its isolators." +
         (still_on.empty() ? "" : " Still fed: " + listed(still_on) + ".") +
         (d->arrays.empty() ? "" : " The sun still feeds its controller: cover the modules.");
}

std::string to_wake(const Design& d) {
  std::vector<std::string> posts;
  for (const auto& post : d->posts)
    if (post.purpose && *post.purpose == design::Purpose::wake) posts.push_back(post.name);
  if (posts.empty())
    return "To wake a bank that has switched itself off: " + to_charge(d) +
           "; the design states no posts for it.";
  return "To wake a bank that has switched itself off: connect a lithium charger of the bank's "
         "voltage to " +
         listed(posts, " or ") +
         ", plus to plus, until it shows its voltage; then charge it. A second battery only "
         "through a fuse of its own, and only by a licensed electrician.";
}

std::vector<std::pair<std::string, std::string>> of_record(const Handover& h) {
  const auto& v = h.van;
  const auto or_none = [](const std::string& text, const char* none) {
    return text.empty() ? std::string(none) : text;
  };
  std::vector<std::pair<std::string, std::string>> rows{
      {"Serial", v.serial},
      {"Built by", v.design_file + ", " + v.design_digest},
      {"Design", or_none(v.design_verdicts, "its verdicts are not recorded")}};
  if (!v.fitted.options.empty()) rows.emplace_back("Options", listed(v.fitted.options));
  rows.emplace_back("Tested", v.tested_at.empty()
                                  ? "no readings are recorded"
                                  : v.tested_at + ", " + v.tested_by + ": " + v.verdict);
  for (const auto& one : v.not_tested) rows.emplace_back("Not tested", one);
  rows.emplace_back("Released",
                    v.released_by.empty() ? "not released" : v.released_at + ", " + v.released_by);
  if (!v.released_despite.empty()) rows.emplace_back("Released despite", v.released_despite);
  rows.emplace_back("Entries", std::to_string(h.record.entries.size()));
  rows.emplace_back("Seal of the record", or_none(h.record.seal(), "none"));
  return rows;
}

TableBlock record_table(const Handover& h) {
  TableBlock table{"This van's record", {"what", "as recorded"}, {false, false}, {}};
  for (const auto& [what, value] : of_record(h)) table.rows.push_back({what, value});
  return table;
}

TableBlock runs_table(const Design& d) {
  TableBlock table{"As it was built",
                   {"run", "from", "to", "conductor", "length"},
                   {false, false, false, false, true},
                   {}};
  for (const auto& run : d->runs)
    table.rows.push_back({run.label, d[run.from].name, d[run.to].name,
                          run.conductor ? run.conductor->name : "to be chosen", print(run.length)});
  return table;
}

void add_diagram(Page& page, const answers::Opening& built) {
  const auto drawn =
      diagram::diagram_of(built.checked_design(), diagram::worst_drop_case(built.checked.wiring));
  for (std::size_t sheet = 0; sheet < drawn.sheets.size(); ++sheet)
    page.blocks.emplace_back(
        Figure{drawn.title, drawn.says, svg(drawn, sheet, SvgFor::page), {}, drawn.paper});
}

}  // namespace

Page handover_page(const Handover& h) {
  const Design& d = *h.built.design;
  Page page{d->name + " " + h.van.serial + ": your house power", {}};
  const auto say = [&](std::string what) { page.blocks.emplace_back(Paragraph{std::move(what)}); };
  const auto head = [&](const char* what) { page.blocks.emplace_back(Heading{what}); };
  if (h.record.broken)
    page.blocks.emplace_back(VerdictLine{checks::Verdict::fail,
                                         "the record is not intact: " + h.record.broken->message});
  if (h.van.released_by.empty())
    page.blocks.emplace_back(VerdictLine{checks::Verdict::caution, "this van is not released yet"});
  page.blocks.emplace_back(fitted_in(d));
  if (!d->appliances.empty()) say("It feeds: " + listed(names_of(d->appliances)) + ".");
  head("What it can do");
  for (auto& one : can_do(d, h.built.checked.energy)) say(std::move(one));
  head("What never to do");
  for (auto& one : never(d)) say(std::move(one));
  head("To wake and to isolate the bank");
  say(to_wake(d));
  say(to_isolate(d));
  if (auto table = fuses(d); !table.rows.empty()) page.blocks.emplace_back(std::move(table));
  page.blocks.emplace_back(Heading{"For a later workshop", true});
  page.blocks.emplace_back(record_table(h));
  if (!h.van.fitted.parts.empty())
    page.blocks.emplace_back(parts_table(h.van.fitted.parts, "Parts by their serials"));
  page.blocks.emplace_back(runs_table(d));
  add_diagram(page, h.built);
  return page;
}

std::string handover_json(const Handover& h) {
  const Design& d = *h.built.design;
  Json json = housepower::report::head();
  json["serial"] = h.van.serial;
  json["van"] = d->name;
  json["fitted"] = Json::array();
  for (const auto& fact : fitted_in(d).facts)
    json["fitted"].push_back({{"what", fact.name}, {"value", fact.value}, {"note", fact.note}});
  json["can_do"] = can_do(d, h.built.checked.energy);
  json["never"] = never(d);
  json["wake"] = to_wake(d);
  json["isolate"] = to_isolate(d);
  json["fuses"] = Json::array();
  for (const auto& row : fuses(d).rows)
    json["fuses"].push_back({{"label", row[0]},
                             {"to", row[1]},
                             {"rating", row[2]},
                             {"type", row[3]},
                             {"where", row[4]}});
  json["tested"] = {{"at", h.van.tested_at}, {"by", h.van.tested_by}, {"verdict", h.van.verdict}};
  json["not_tested"] = h.van.not_tested;
  json["released"] = {
      {"at", h.van.released_at}, {"by", h.van.released_by}, {"despite", h.van.released_despite}};
  json["design_verdicts"] = h.van.design_verdicts;
  json["options"] = h.van.fitted.options;
  json["parts"] = parts_list(h.van.fitted.parts);
  json["intact"] = !h.record.broken.has_value();
  json["seal"] = h.record.seal();
  return dump(json);
}

JsonKeys handover_answer() {
  const Json text = is::text(), texts = is::list(text);
  const Json fact = is::object({{"what", text}, {"value", text}, {"note", text}});
  const Json fuse = is::object(
      {{"label", text}, {"to", text}, {"rating", text}, {"type", text}, {"where", text}});
  return {{"serial", text},
          {"van", text},
          {"fitted", is::list(fact)},
          {"can_do", texts},
          {"never", texts},
          {"wake", text},
          {"isolate", text},
          {"fuses", is::list(fuse)},
          {"tested", is::object({{"at", text}, {"by", text}, {"verdict", text}})},
          {"not_tested", texts},
          {"released", is::object({{"at", text}, {"by", text}, {"despite", text}})},
          {"design_verdicts", text},
          {"options", texts},
          {"parts", is::list(part_shape())},
          {"intact", is::flag()},
          {"seal", text}};
}

}  // namespace housepower::report
