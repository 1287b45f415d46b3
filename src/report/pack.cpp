// SPDX-License-Identifier: Apache-2.0
// A sized pack: the curve of choices, the best one with its wiring, one more and one less, what
// binds, and what the search did.
#include "housepower/report/pack.hpp"

#include <algorithm>
#include <cmath>

#include "answer_shapes.hpp"
#include "housepower/energy/stay.hpp"
#include "housepower/report/plots.hpp"
#include "housepower/report/stay.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"

namespace housepower::report {
namespace {

using pack::PackChoice;

std::string_view promise_name(pack::PromiseKept::What what) {
  return what == pack::PromiseKept::What::stay ? "stay" : "time without charging";
}

/// With a stay only where it was asked for: else its figures say nothing.
struct Offered {
  const PackChoice& choice;
  bool with_stay = false, best = false;
};
template <auto Member> auto of_pack(const Offered& o) { return o.choice.pack.*Member; }
template <auto Member> auto of_kept(const Offered& o) { return o.choice.kept.*Member; }
template <auto Member> std::optional<Duration> of_stay(const Offered& o) {
  return o.with_stay ? std::optional<Duration>(o.choice.kept.*Member) : std::nullopt;
}
std::string equipment_of(const Offered& o) {
  std::string text;
  for (const auto& e : o.choice.pack.equipment)
    text += (text.empty() ? "" : ", ") + e[0] + ": " + e[1];
  return text;
}
std::optional<double> price_offered(const Offered& o) {
  const auto& price = o.choice.pack.price;
  return price ? std::optional(double(price->amount)) : std::nullopt;
}

const Columns<Offered>& pack_columns() {
  using pack::Kept, pack::Pack;
  static const Columns<Offered> list{
      {"batteries", "batteries", of_pack<&Pack::batteries>},
      {"battery", "battery", of_pack<&Pack::battery>},
      {"modules", "modules", of_pack<&Pack::modules>},
      {"module", "module", of_pack<&Pack::module>},
      {"in_series", "in series", of_pack<&Pack::in_series>},
      {"equipment", "equipment", equipment_of},
      {"mass_kg", "mass", "kg", of_pack<&Pack::mass>},
      {"cable_kg", "cable", "kg", [](const Offered& o) { return o.choice.cable; }},
      {"price", "price", price_offered},
      {"currency", "",
       [](const Offered& o) {
         return o.choice.pack.price ? o.choice.pack.price->currency : std::string();
       }},
      {"chance", "chance", [](const Offered& o) { return double(o.choice.kept.chance); }},
      {"parked_d", "parked", "d", of_stay<&Kept::parked>},
      {"stay_d", "stay", "d", of_stay<&Kept::stay>},
      {"autonomy_d", "autonomy", "d", of_kept<&Kept::autonomy>},
      {"place", "place", of_kept<&Kept::place>},
      {"month", "month", [](const Offered& o) { return energy::month_name(o.choice.kept.month); }},
      {"verdict", "verdict", [](const Offered& o) { return word_of(o.choice.verdict); }}};
  return list;
}

std::string in_days(const std::optional<Duration>& d, int longest) {
  if (!d) return "";
  return *d >= double(longest) * day ? "≥ " + std::to_string(longest) + " d"
                                     : print(Number(energy::half_days(*d)));
}
std::string strings_of(const pack::Pack& p) {
  if (p.modules == 0) return "no modules";
  return std::to_string(p.modules) + " × " + p.module +
         (p.in_series > 1 ? ", " + std::to_string(p.in_series) + " in series" : "");
}
/// For people: fewer columns, shares in percent.
Columns<Offered> line_columns(bool with_stay, bool with_price) {
  Columns<Offered> list{
      {"mark", "", [](const Offered& o) { return o.best ? "least" : ""; }},
      {"batteries", "batteries",
       [](const Offered& o) {
         return std::to_string(o.choice.pack.batteries) + " × " + o.choice.pack.battery;
       }},
      {"modules", "modules", [](const Offered& o) { return strings_of(o.choice.pack); }},
      {"mass", "mass", [](const Offered& o) { return print(Number(o.choice.pack.mass)); }}};
  if (with_price)
    list += {{"price", "price", [](const Offered& o) {
                const auto& price = o.choice.pack.price;
                return price ? print(*price) : std::string();
              }}};
  if (with_stay)
    list +=
        {{"chance", "chance", [](const Offered& o) { return print(Number(o.choice.kept.chance)); }},
         {"parked", "parked", [](const Offered& o) { return in_days(o.choice.kept.parked, 30); }},
         {"stay", "with travel", [](const Offered& o) { return in_days(o.choice.kept.stay, 30); }}};
  list += {{"autonomy", "autonomy",
            [](const Offered& o) {
              const auto& autonomy = o.choice.kept.autonomy;
              return autonomy ? print_in(Number(*autonomy), *unit_named("d")) : std::string();
            }},
           {"verdict", "check", [](const Offered& o) {
              return o.choice.falls_short.empty() ? word_of(o.choice.verdict) : "falls short";
            }}};
  return list;
}

/// The same choices as points: what each costs and what it achieves.
Figure trade_off_figure(const PackReport& r) {
  const bool by_mass = r.least == design::Least::mass;
  std::vector<TradeOff> points;
  std::string currency;
  const Unit mass = shown_unit(*unit_named("kg"));
  for (const auto& c : r.answer.choices) {
    if (!by_mass && !c.pack.price) continue;
    if (!by_mass) currency = c.pack.price->currency;
    points.push_back(
        {by_mass ? in_unit(c.pack.mass, mass) : double(c.pack.price->amount), double(c.kept.chance),
         std::to_string(c.pack.batteries) + " × " + c.pack.battery + ", " + strings_of(c.pack)});
  }
  const Axis cost{
      by_mass ? "mass" : "price", by_mass ? std::string(mass.symbol) : currency, {}, {}};
  const Plot plot = trade_off_plot(points, cost, r.design->promise.chance);
  return {plot.title, plot.says, svg(plot, SvgFor::page), {}, ""};
}

std::string promise_in_words(const PackReport& r) {
  const auto& p = r.design->promise;
  std::string text;
  const auto add = [&](const std::string& more) { text += (text.empty() ? "" : ", ") + more; };
  if (p.stay)
    add("stays of " + print(Number(*p.stay)) + " in " + print(Number(p.chance)) + " of tries" +
        (stay_travel(r.design).empty() ? "" : ", counting " + stay_travel(r.design)));
  if (p.unlimited)
    add("a stay without end in every simulated start, also with less sun and more use");
  if (p.autonomy) add(print(Number(*p.autonomy)) + " without charging");
  return text + ", with the bank " + print(Number(p.bank_age)) + " old";
}

/// "; without charging in July": where that is another month.
std::string month_of_autonomy(const pack::Kept& k) {
  if (!k.autonomy || k.month_of_autonomy == k.month) return "";
  return "; without charging in " + std::string(energy::month_name(k.month_of_autonomy));
}
/// ", Hobart in June; without charging in July".
std::string where_judged(const pack::Kept& k) {
  return ", " + k.place + " in " + std::string(energy::month_name(k.month)) + month_of_autonomy(k);
}

std::string signed_money(const design::Money& m) {
  design::Money plain = m;
  plain.amount = Ratio(std::abs(double(m.amount)));
  return (double(m.amount) < 0.0 ? "−" : "+") + print(plain);
}
std::string signed_mass(Mass m) {
  return (m < 0.0 * kilogram ? "−" : "+") + print(Number(m < 0.0 * kilogram ? Mass(-m) : m));
}

std::string marginal_line(const pack::Marginal& m, bool with_stay) {
  std::string text = "  " + m.change + ": ";
  if (!m.why_not.empty()) return text + m.why_not;
  text += signed_mass(m.mass);
  if (m.price) text += ", " + signed_money(*m.price);
  if (with_stay)
    text += "; chance " + print(Number(m.choice.kept.chance)) + ", stay " +
            in_days(m.choice.kept.stay, 30);
  if (m.choice.kept.autonomy)
    text +=
        "; " + print_in(Number(*m.choice.kept.autonomy), *unit_named("d")) + " without charging";
  text += "; check: " + std::string(word_of(m.choice.verdict));
  if (!m.choice.against.empty()) return text + ", " + m.choice.against;
  return m.choice.falls_short.empty() ? text : text + ", " + m.choice.falls_short;
}

TableBlock surface_table(const pack::Surface& s) {
  TableBlock t;
  t.title = "Chance by batteries and modules (simulated; wiring and rules not checked)";
  t.heads.push_back("batteries");
  std::vector<std::size_t> shown;  // numbers of modules that make strings
  for (std::size_t m = 0; m < s.modules.size(); ++m)
    if (std::any_of(s.chance.begin(), s.chance.end(),
                    [&](const auto& row) { return row[m].has_value(); }))
      shown.push_back(m);
  for (const auto m : shown)
    t.heads.push_back(std::to_string(s.modules[m]) + (m == shown.front() ? " modules" : ""));
  t.numbers.assign(t.heads.size(), true);
  for (std::size_t b = 0; b < s.batteries.size(); ++b) {
    auto& row = t.rows.emplace_back();
    row.push_back(std::to_string(s.batteries[b]));
    for (const auto m : shown) {
      const auto& chance = s.chance[b][m];
      row.push_back(chance ? print_plain(std::floor(100.0 * double(*chance) + 1e-9), 3) + " %"
                           : "–");
    }
  }
  return t;
}

std::string effort_in_words(const pack::Effort& e) {
  return std::to_string(e.choices) + " combinations, " + std::to_string(e.within) +
         " within the limits of mass and roof. Of those below the best one " +
         std::to_string(e.by_bound) + " fall short even with no losses" +
         (e.by_energy ? ", " + std::to_string(e.by_energy) + " by autonomy or balance" : "") +
         ". " + std::to_string(e.simulated) + " were simulated, " + std::to_string(e.judged) +
         " wired and judged by every rule. " +
         (e.complete ? "Nothing below the best one that could keep the promise was left out."
                     : "THE SEARCH ENDED AT ITS LIMIT: something less may exist.");
}

// ---- Where nothing keeps the promise ----

using pack::Addition, pack::Nearest, pack::PromiseKept;

std::string in_days_told(const std::optional<Duration>& d) {
  return d ? print_in(Number(*d), *unit_named("d")) : std::string();
}
std::string pack_of_nearest(const Nearest& n) {
  return std::to_string(n.pack.batteries) + " × " + n.pack.battery + " and " + strings_of(n.pack);
}

/// "The best of it falls 4.5 d short of the promised stay."
std::string shortfall_in_words(const pack::PackAnswer& a) {
  if (!a.nearest) return "";
  std::vector<std::string> broken;
  for (const PromiseKept& one : a.nearest->promises)
    if (one.kept < one.asked)
      broken.push_back(in_days_told(Duration(one.asked - one.kept)) + " short of the promised " +
                       std::string(promise_name(one.what)));
  const auto& additions = a.nearest->additions;
  std::string text = " The nearest, " + pack_of_nearest(*a.nearest) + ", ";
  text += broken.empty() ? "keeps each length, but not often enough"
                         : "falls " + listed(broken, " and ");
  if (additions.empty()) return text + "; nothing that was tried helps.";
  return text + ". First: " + additions.front().change +
         (additions.front().suffices ? ", which is enough." : ".");
}

const Columns<PromiseKept>& promise_columns() {
  static const Columns<PromiseKept> list{
      {"promise", "promise", [](const PromiseKept& p) { return promise_name(p.what); }},
      {"asked_d", "promised", "d", &PromiseKept::asked},
      {"kept_d", "kept", "d", &PromiseKept::kept},
      {"short_d", "short by", "d",
       [](const PromiseKept& p) {
         return p.kept < p.asked ? Duration(p.asked - p.kept) : Duration{};
       }},
      {"chance", "chance", &PromiseKept::chance},
      {"asked_chance", "promised chance", [](const PromiseKept& p) {
         return p.chance ? std::optional(p.asked_chance) : std::nullopt;
       }}};
  return list;
}
const Columns<Addition>& addition_columns() {
  static const Columns<Addition> list{{"change", "change", &Addition::change},
                                      {"stay_d", "stay", "d", &Addition::stay},
                                      {"chance", "chance", &Addition::chance},
                                      {"autonomy_d", "without charging", "d", &Addition::autonomy},
                                      {"suffices", "keeps all of it", &Addition::suffices}};
  return list;
}

void append_nearest(Page& page, const Nearest& n) {
  page.blocks.emplace_back(table_of("How far the nearest gets: " + pack_of_nearest(n) + ", " +
                                        print(Number(n.pack.mass)) + where_judged(n.kept),
                                    promise_columns(), n.promises));
  if (!n.additions.empty())
    page.blocks.emplace_back(table_of("What helps most, each tried by itself on that pack",
                                      addition_columns(), n.additions));
}

Json nearest_json(const std::optional<Nearest>& n) {
  if (!n) return nullptr;
  return {{"batteries", n->pack.batteries},
          {"battery", n->pack.battery},
          {"modules", n->pack.modules},
          {"module", n->pack.module},
          {"mass_kg", json_of(Number(n->pack.mass))},
          {"place", n->kept.place},
          {"month", energy::month_name(n->kept.month)},
          {"promises", rows_json(promise_columns(), n->promises)},
          {"add_first", rows_json(addition_columns(), n->additions)}};
}

}  // namespace

std::string pack_in_words(const PackReport& r) {
  const auto& a = r.answer;
  const std::string by = r.least == design::Least::mass ? "lightest" : "cheapest";
  if (!a.best)
    return "None of the choices keeps the promise: " + promise_in_words(r) + "." +
           shortfall_in_words(a);
  const PackChoice& c = a.choices[*a.best];
  std::string text = "The " + by + " pack that keeps the promise (" + promise_in_words(r) +
                     "): " + std::to_string(c.pack.batteries) + " × " + c.pack.battery + " and " +
                     strings_of(c.pack);
  for (const auto& e : c.pack.equipment) text += ", " + e[0] + ": " + e[1];
  text += "; " + print(Number(c.pack.mass));
  if (c.pack.price) text += ", " + print(*c.pack.price);
  text += " (equipment, without cable and devices).";
  if (!c.kept.place.empty())
    text += (c.kept.place.starts_with("between ") || c.kept.place.starts_with("near ")
                 ? " It was judged "
                 : " It was judged at ") +
            c.kept.place + " in " + std::string(energy::month_name(c.kept.month)) +
            ", the hardest that was asked" + month_of_autonomy(c.kept) + ".";
  if (c.verdict != checks::Verdict::pass)
    text += " Its check says " + std::string(word_of(c.verdict)) +
            ": not all of it is checked and passed.";
  return text;
}

Page pack_page(const PackReport& r) {
  const auto& a = r.answer;
  const bool with_stay = a.measure == "chance";
  Page page{r.design->name + ": " +
                (a.best ? "a pack that keeps the promise" : "no pack keeps the promise"),
            {}};
  page.blocks.emplace_back(Paragraph{pack_in_words(r)});
  std::vector<Offered> lines;
  bool with_price = false;
  for (std::size_t i = 0; i < a.choices.size(); ++i) {
    lines.push_back({a.choices[i], with_stay, a.best == i});
    with_price = with_price || a.choices[i].pack.price;
  }
  if (!lines.empty())
    page.blocks.emplace_back(table_of(with_stay ? "The best pack for each chance of the stay"
                                                : "The best pack for each length without charging",
                                      line_columns(with_stay, with_price), lines));
  if (with_stay && lines.size() > 1) page.blocks.emplace_back(trade_off_figure(r));
  if (a.best) {
    const PackChoice& best = a.choices[*a.best];
    if (best.wiring.empty())
      page.blocks.emplace_back(
          Paragraph{"Its runs stay as the design has them: every rule holds."});
    else
      page.blocks.emplace_back(choice_table("Conductors and devices chosen for it", best.wiring));
    page.blocks.emplace_back(Heading{"One more, one less"});
    for (const auto& m : a.marginal)
      page.blocks.emplace_back(Paragraph{marginal_line(m, with_stay)});
  }
  if (a.nearest) append_nearest(page, *a.nearest);
  page.blocks.emplace_back(Heading{a.best ? "What binds" : "What is in the way"});
  for (const auto& line : a.binding) page.blocks.emplace_back(Paragraph{"  " + line});
  if (!a.surface.chance.empty()) page.blocks.emplace_back(surface_table(a.surface));
  page.blocks.emplace_back(Heading{"What was looked at"});
  page.blocks.emplace_back(Paragraph{effort_in_words(a.effort)});
  for (const auto& note : a.notes) page.blocks.emplace_back(Paragraph{"  " + note});
  return page;
}

std::string pack_json(const PackReport& r) {
  const auto& a = r.answer;
  const bool with_stay = a.measure == "chance";
  const auto choice_json = [&](const PackChoice& c) {
    Json json = row_json(pack_columns(), Offered{c, with_stay});
    json["parts"] = Json::array();
    for (const auto& e : c.pack.equipment)
      json["parts"].push_back({{"equipment", e[0]}, {"part", e[1]}});
    json["against"] = c.against.empty() ? Json() : Json(c.against);
    json["wiring"] = choices_json(c.wiring);
    return json;
  };
  Json json = head();
  json["design"] = {
      {"name", r.design->name}, {"file", r.design->file}, {"inputs_digest", r.inputs_digest}};
  json["least"] = r.least == design::Least::mass ? "mass" : "price";
  json["measure"] = a.measure;
  json["asked_d"] = double(a.asked / day);
  json["choices"] = Json::array();
  for (const auto& c : a.choices) json["choices"].push_back(choice_json(c));
  json["best"] = a.best ? choice_json(a.choices[*a.best]) : Json();
  json["binding"] = a.binding;
  json["marginal"] = Json::array();
  for (const auto& m : a.marginal) {
    Json one{{"change", m.change}, {"why_not", m.why_not.empty() ? Json() : Json(m.why_not)}};
    if (m.why_not.empty()) {
      one["mass_kg"] = json_of(Number(m.mass));
      one["price"] = m.price ? Json(double(m.price->amount)) : Json();
      one["choice"] = choice_json(m.choice);
    }
    json["marginal"].push_back(std::move(one));
  }
  json["surface"] = {{"batteries", a.surface.batteries},
                     {"modules", a.surface.modules},
                     {"chance", Json::array()}};
  for (const auto& row : a.surface.chance) {
    Json list = Json::array();
    for (const auto& c : row) list.push_back(c ? Json(double(*c)) : Json());
    json["surface"]["chance"].push_back(std::move(list));
  }
  json["effort"] = {{"choices", a.effort.choices},     {"within_limits", a.effort.within},
                    {"by_bound", a.effort.by_bound},   {"by_energy", a.effort.by_energy},
                    {"simulated", a.effort.simulated}, {"judged", a.effort.judged},
                    {"complete", a.effort.complete}};
  json["notes"] = a.notes;
  json["nearest"] = nearest_json(a.nearest);
  json["warnings"] = diagnostics_list(r.warnings);
  return dump(json);
}

namespace {

Json nearest_shape() {
  return is::object({{"batteries", is::whole()},
                     {"battery", is::text()},
                     {"modules", is::whole()},
                     {"module", is::text()},
                     {"mass_kg", is::number()},
                     {"place", is::text()},
                     {"month", is::text()},
                     {"promises", is::rows(promise_columns())},
                     {"add_first", is::rows(addition_columns())}});
}

}  // namespace

JsonKeys pack_answer() {
  constexpr std::string_view least[] = {"mass", "price"}, measures[] = {"chance", "autonomy"};
  const Json part = is::object({{"equipment", is::text()}, {"part", is::text()}});
  const Json choice =
      is::object(keys_of(pack_columns()) + JsonKeys{{"parts", is::list(part)},
                                                    {"against", is::or_null(is::text())},
                                                    {"wiring", is::list(is::a("choice"))}});
  const Json marginal = is::object(
      JsonKeys{{"change", is::text()}, {"why_not", is::or_null(is::text())}} +
      sometimes(
          {{"mass_kg", is::number()}, {"price", is::or_null(is::number())}, {"choice", choice}}));
  const Json surface = is::object({{"batteries", is::list(is::whole())},
                                   {"modules", is::list(is::whole())},
                                   {"chance", is::list(is::list(is::or_null(is::number())))}});
  JsonKeys effort{};
  for (const char* key :
       {"choices", "within_limits", "by_bound", "by_energy", "simulated", "judged"})
    effort += {{key, is::whole()}};
  return {{"design", is::object(design_keys())},
          {"least", is::words(least)},
          {"measure", is::words(measures)},
          {"asked_d", is::number()},
          {"choices", is::list(choice)},
          {"best", is::or_null(choice)},
          {"binding", is::list(is::text())},
          {"marginal", is::list(marginal)},
          {"surface", surface},
          {"effort", is::object(effort + JsonKeys{{"complete", is::flag()}})},
          {"nearest", is::or_null(nearest_shape())},
          {"warnings", is::list(is::a("diagnostic"))},
          {"notes", is::list(is::text())}};
}

}  // namespace housepower::report
