// SPDX-License-Identifier: Apache-2.0
// What the line and the buyer need of a design: labels of the conductors, prices as stated.
#include <set>

#include "housepower/tables/colours.hpp"
#include "resolving.hpp"

namespace housepower::design {
namespace {

/// "W07": as many digits as the number of runs has, two at least.
std::string numbered(std::size_t number, std::size_t runs) {
  const std::string digits = std::to_string(number);
  const std::size_t width = std::max<std::size_t>(2, std::to_string(runs).size());
  return "W" + std::string(width - std::min(width, digits.size()), '0') + digits;
}

void check_price(Resolving& r, const std::optional<std::string>& stated, const Place& place,
                 const std::string& path) {
  if (stated && !money_of(*stated))
    r.error(RestsOn::itself, place, path,
            quoted(*stated) + " is not a price: a number and its currency in three letters",
            "for example price = \"420 EUR\"");
}

void add_price(Resolving& r, std::string what, int count, const std::optional<std::string>& stated,
               const Place& place, const std::string& path) {
  auto& priced = r.out.prices.emplace_back();
  priced.what = std::move(what);
  priced.count = count;
  if (!stated) return;
  priced.each = money_of(*stated);
  check_price(r, stated, place, path);
}

/// "2026-03-14": a day of the calendar, as answers sort and print it.
bool is_date(std::string_view text) {
  constexpr std::string_view shape = "0000-00-00";
  if (text.size() != shape.size()) return false;
  for (std::size_t i = 0; i < shape.size(); ++i)
    if (shape[i] == '-' ? text[i] != '-' : text[i] < '0' || text[i] > '9') return false;
  const auto two = [&](std::size_t at) { return 10 * (text[at] - '0') + (text[at + 1] - '0'); };
  return two(5) >= 1 && two(5) <= 12 && two(8) >= 1 && two(8) <= 31;
}

void check_date(Resolving& r, const std::optional<std::string>& date) {
  if (date && !is_date(*date))
    r.error(RestsOn::itself, r.document.place, "drawing/date", quoted(*date) + " is not a date",
            "for example date = \"2026-03-14\": year, month and day");
}

/// The name of a table of colours, where one is stated.
void check_colours(Resolving& r, const Build& build) {
  if (build.colours && !tables::colours_named(r.tables, *build.colours))
    r.error(RestsOn::itself, r.document.place, "build/colours",
            "there is no table of colours " + quoted(*build.colours),
            hint_for(*build.colours, tables::colour_names(r.tables)));
}

}  // namespace

void resolve_labels(Resolving& r) {
  const auto& runs = r.document.run;
  std::set<std::string> taken;
  for (std::size_t i = 0; i < runs.size(); ++i)
    if (runs[i].label && !taken.insert(*runs[i].label).second)
      r.error(RestsOn::names, runs[i].place, r.path("run", i, runs[i].name) + "/label",
              quoted(*runs[i].label) + " is on two runs", "no two labels may be the same");
  for (std::size_t i = 0; i < runs.size(); ++i) {
    std::string label = runs[i].label.value_or(numbered(i + 1, runs.size()));
    while (!runs[i].label && !taken.insert(label).second) label += "a";
    r.out.runs[i].label = std::move(label);
  }
}

void check_stock(Resolving& r) {
  for (const Part& part : r.document.part) {
    const std::string path = "part/" + part.name;
    if (const auto* conductor = std::get_if<StockedConductor>(&part.is)) {
      find_conductor(r, conductor->size, part.place, path + "/size");
      check_price(r, conductor->price, part.place, path + "/price");
    } else if (const auto* device = std::get_if<StockedDevice>(&part.is)) {
      for (const Current& rating : device->ratings)
        device_of(r, device->type, rating, {}, part.place, path);
      check_price(r, device->price, part.place, path + "/price");
    }
  }
}

void resolve_prices(Resolving& r) {
  const Document& d = r.document;
  if (d.bank)
    add_price(r, "bank", d.bank->quantity.value_or(1) * d.bank->in_series.value_or(1),
              d.bank->price, d.bank->place, "bank/price");
  for (const auto& a : d.array)
    add_price(r, a.name, a.modules, a.module.price, a.place, "array/" + a.name + "/module/price");
  for (const auto& c : d.controller)
    add_price(r, c.name, 1, c.price, c.place, "controller/" + c.name + "/price");
  for (const auto& c : d.charger)
    add_price(r, c.name, 1, c.price, c.place, "charger/" + c.name + "/price");
  for (const auto& i : d.inverter)
    add_price(r, i.name, 1, i.price, i.place, "inverter/" + i.name + "/price");
  r.out.build = d.build.value_or(Build{});
  r.out.drawing = d.drawing.value_or(Drawing{});
  check_date(r, r.out.drawing.date);
  check_colours(r, r.out.build);
}

}  // namespace housepower::design
