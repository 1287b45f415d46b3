// SPDX-License-Identifier: Apache-2.0
// The climate table against the collection it was made from, every cell, where that collection
// stands beside the project; and against a few printed climate normals that stand here in full.
#include <doctest/doctest.h>

#include <functional>

#include "collection.hpp"
#include "shipped.hpp"

namespace housepower::test::published_climate {
namespace {

const tables::Town& town(std::string_view name) {
  const tables::Town* found = shipped().town(name);
  REQUIRE_MESSAGE(found, "no town " << name);
  return *found;
}

const char* const months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                              "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

// Prints nothing where a value is equal: 90 towns of 36 and more values each.
void check_months(const Record& record, const std::string& head,
                  const std::function<double(std::size_t)>& ours) {
  for (std::size_t m = 0; m < 12; ++m) {
    const double theirs = std::stod(record.at(head + months[m]));
    CAPTURE(head);
    CAPTURE(months[m]);
    CHECK(std::abs(ours(m) - theirs) < 1e-9 * (1.0 + std::abs(theirs)));
  }
}

TEST_CASE("every town's climate equals the collection it was taken from") {
  const std::vector<Record> all = collection("climate/climate.csv");
  if (all.empty()) return;
  CHECK(shipped().towns.size() == all.size());
  for (const Record& record : all) {
    const tables::Town& ours = town(record.at("slug"));
    CAPTURE(ours.name);
    CHECK(ours.title == record.at("name"));
    CHECK(ours.country == record.at("country"));
    CHECK(ours.latitude / degree == exactly(std::stod(record.at("lat"))));
    CHECK(ours.longitude / degree == exactly(std::stod(record.at("lon"))));
    CHECK(ours.elevation / metre == exactly(std::stod(record.at("elev_m"))));
    CHECK(ours.zone / hour == exactly(std::stod(record.at("tz_h"))));
    check_months(record, "sun_", [&](std::size_t m) { return ours.sunshine[m] / hour; });
    check_months(record, "tmax_", [&](std::size_t m) { return in_celsius(ours.highest[m]); });
    check_months(record, "tmin_", [&](std::size_t m) { return in_celsius(ours.lowest[m]); });
    const std::string& record_low = record.at("record_low_C");
    CHECK(ours.record_low.has_value() == !record_low.empty());
    if (ours.record_low && !record_low.empty())
      CHECK(in_celsius(*ours.record_low) == about(std::stod(record_low), 1e-9));
    const bool measured = !record.at("ghi_measured_Jan").empty();
    CHECK(ours.measured.has_value() == measured);
    if (measured && ours.measured)
      check_months(record, "ghi_measured_", [&](std::size_t m) {
        return (*ours.measured)[m].value() / 3.6e6;  // kWh/m² a day
      });
    CHECK(ours.quality == record.at("quality"));
    CHECK(word_of(ours.source.kind) == published);
    CHECK(ours.source.title.find(record.at("source_title").substr(0, 18)) !=
          std::string_view::npos);
  }
}

TEST_CASE("three towns have no record low in the collection, and none is invented") {
  for (const std::string_view name : {"vienna", "athens", "reykjavik"}) {
    CAPTURE(name);
    CHECK_FALSE(town(name).record_low.has_value());
  }
}

TEST_CASE("Toronto by the Canadian Climate Normals 1981-2010") {
  // Environment Canada, Station Data, TORONTO (climate ID 6158350): bright sunshine, hours a month,
  // over the days of the month; °C.
  const tables::Town& t = town("toronto");
  CHECK(t.sunshine[6] / hour == exactly(9.02));
  CHECK(in_celsius(t.highest[0]) == to(-0.7, 0.1));
  CHECK(in_celsius(t.lowest[0]) == to(-6.7, 0.1));
  CHECK(in_celsius(t.highest[6]) == to(26.6, 0.1));
  REQUIRE(t.record_low.has_value());
  CHECK(in_celsius(*t.record_low) == to(-32.8, 0.1));
  CHECK(t.latitude / degree == exactly(43.67));
  CHECK(t.longitude / degree == exactly(-79.40));  // west is negative
}

TEST_CASE("the far south has its winter in July") {
  // WMO CLIMAT monthly reports 2003-2021, station 87938, Ushuaia; 94672, Adelaide.
  CHECK(town("ushuaia").sunshine[5] / hour == exactly(1.54));
  CHECK(in_celsius(town("ushuaia").lowest[6]) == to(0.4, 0.1));
  CHECK(town("adelaide").sunshine[0] / hour == exactly(10.83));
  CHECK(town("adelaide").zone / hour == exactly(9.5));
}

}  // namespace
}  // namespace housepower::test::published_climate
