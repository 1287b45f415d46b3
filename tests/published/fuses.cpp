// SPDX-License-Identifier: Apache-2.0
// Overcurrent devices by their open standard: rating steps, breaking capacities, time-current gates
// and cold data, each with its word of provenance. What was not read must be absent.
#include <doctest/doctest.h>

#include "shipped.hpp"

namespace housepower::test::published_fuses {
namespace {

const tables::FuseType& fuse(std::string_view name) {
  const tables::FuseType* found = shipped().fuse(name);
  REQUIRE_MESSAGE(found, "no fuse type " << name);
  return *found;
}

struct Series {
  std::string_view name;
  std::vector<double> amperes;
  std::string_view kind;
};

TEST_CASE("rating steps of blade fuses: ISO 8820-3, as listed on a German electronics hobby page") {
  const std::vector<double> small = {1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40};
  for (const Series& row :
       {Series{"iso-8820-3-c", small, published}, Series{"iso-8820-3-f", small, published},
        Series{"iso-8820-3-e", {20, 30, 40, 50, 60, 70, 80, 100}, published},
        Series{"iso-8820-5-sf30", {30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200}, from_memory},
        Series{"iso-8820-5-sf51", {60, 80, 100, 125, 150, 175, 200, 225, 250, 300}, from_memory}}) {
    CAPTURE(row.name);
    std::vector<double> steps;
    for (const Current& rating : fuse(row.name).ratings) steps.push_back(rating / ampere);
    // Type E reaches (120) and the large bolt-in (350 to 500) in brackets: they may follow or not.
    REQUIRE(steps.size() >= row.amperes.size());
    for (std::size_t i = 0; i < row.amperes.size(); ++i) CHECK(steps[i] == exactly(row.amperes[i]));
    CHECK(std::is_sorted(steps.begin(), steps.end()));
    CHECK(word_of(fuse(row.name).ratings_source.kind) == row.kind);
  }
}

TEST_CASE("where steps were not read, NEC 240.6 serves within the type's range, labelled") {
  // NEC 240.6, a public builders' reference; the ranges 35…750, 30…300 and 1…1200 A from memory.
  const std::vector<double> nec = {15,  20,  25,  30,  35,  40,  45,  50,  60,  70,  80,  90,  100,
                                   110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600};
  struct Range {
    std::string_view name;
    double from, to;
  };
  for (const Range& range : {Range{"strip", 35, 750}, Range{"terminal-cube", 30, 300},
                             Range{"ul-248-class-t", 1, 1200}, Range{"ul-248-14", 0.1, 60}}) {
    CAPTURE(range.name);
    for (const Current& rating : fuse(range.name).ratings) {
      CHECK(std::find(nec.begin(), nec.end(), rating / ampere) != nec.end());
      CHECK(rating / ampere >= range.from);
      CHECK(rating / ampere <= range.to);
    }
    CHECK(word_of(fuse(range.name).ratings_source.kind) == from_memory);
  }
}

struct Breaking {
  std::string_view name;
  double amperes;
  std::optional<double> volts;
  std::string_view kind;
};
// The first entry is what the engine takes: the safe one where sources disagree.
const std::vector<Breaking> breaking = {
    {"iso-8820-3-c", 1000, 32, published},  // a fuse maker's data sheet; a seller's article
    {"iso-8820-3-f", 1000, 32, published},
    {"iso-8820-3-e", 1000, 32, published},
    {"iso-8820-5-sf30", 1000, {}, published},   // a seller's article; others 2 kA and 5 kA
    {"iso-8820-5-sf51", 2000, 32, published},   // the article, a second page, a forum thread
    {"strip", 6000, 32, published},             // a public forum thread
    {"ul-248-class-t", 20000, 125, published},  // three public forum threads
    {"iec-60269-nh", 25000, {}, published}};    // a second public page

TEST_CASE("breaking capacities: the safe figure first") {
  for (const Breaking& row : breaking) {
    CAPTURE(row.name);
    const tables::FuseType& type = fuse(row.name);
    REQUIRE_FALSE(type.breaking.empty());
    CHECK(type.breaking.front().capacity / ampere == exactly(row.amperes));
    if (row.volts) CHECK(type.breaking.front().at / volt == exactly(*row.volts));
    CHECK(word_of(type.breaking.front().source.kind) == row.kind);
  }
}

TEST_CASE("the terminal cube breaks 10 kA at 14 V only; at 32 V less is remembered") {
  // 10 kA at 14 V: a public forum thread. 5 kA at 32 V and 2 kA at 58 V: from memory.
  const tables::FuseType& cube = fuse("terminal-cube");
  for (const auto& b : cube.breaking) {
    CAPTURE(b.at / volt);
    const double most = b.at / volt <= 14 ? 10000 : b.at / volt <= 32 ? 5000 : 2000;
    CHECK(b.capacity / ampere == exactly(most));
    CHECK(word_of(b.source.kind) == (b.at / volt <= 14 ? published : from_memory));
  }
  CHECK(cube.breaking.size() == 3);
}

TEST_CASE("three sources disagree on the small bolt-in fuse: 1, 2 and 5 kA, all told") {
  // A seller's article; from memory; a public forum thread for one maker's version. No source
  // prints the voltage.
  const auto& all = fuse("iso-8820-5-sf30").breaking;
  REQUIRE(all.size() == 3);
  const double amperes[] = {1000, 2000, 5000};
  for (std::size_t i = 0; i < all.size(); ++i) {
    CHECK(all[i].capacity / ampere == exactly(amperes[i]));
    CHECK(all[i].at / volt <= 32);
  }
  CHECK(word_of(all[1].source.kind) == from_memory);
}

TEST_CASE("no remembered breaking capacity stands above a published one") {
  for (const tables::FuseType& type : shipped().fuses)
    for (const auto& remembered : type.breaking) {
      if (remembered.source.kind != SourceKind::from_memory) continue;
      CAPTURE(type.name);
      CHECK_FALSE(&remembered == &type.breaking.front());
    }
}

struct GateRow {
  double multiple;
  std::optional<double> fastest, slowest;
  std::string_view kind;
};
struct GateSet {
  std::string_view name;
  double from, to;
  std::vector<GateRow> rows;
};
const double hundred_hours = 360000;
const std::optional<double> open{};
const std::vector<GateSet> gates = {
    // A fuse maker's data sheet p. 3 (refers to ISO 8820-3) as transcribed in a public source
    // repository; 160 and 200 % also in a second copy (10 A part). What was not read of the smaller
    // ratings has the slower edge of 35 and 40 A: 0.25 and 0.1 s are remembered for 3 to 30 A.
    {"iso-8820-3-c",
     35,
     40,
     {{1.00, hundred_hours, open, published},
      {1.35, 0.75, 600, published},
      {2.00, 0.15, 5, published},
      {3.50, 0.08, 0.5, published},
      {6.00, open, 0.15, published}}},
    {"iso-8820-3-c",
     3,
     30,
     {{1.10, hundred_hours, open, from_memory},
      {1.35, 0.75, 600, published},
      {1.60, 0.25, 50, published},
      {2.00, 0.15, 5, published},
      {3.50, 0.08, 0.5, from_memory},
      {6.00, 0.03, 0.15, from_memory}}},
    {"iso-8820-3-c",
     1,
     2,
     {{1.35, open, 600, from_memory},
      {1.60, open, 50, from_memory},
      {2.00, open, 5, from_memory},
      {3.50, open, 0.5, from_memory},
      {6.00, open, 0.15, from_memory}}},
    // The same copy, a fuse maker's data sheet p. 3, ISO 8820-3:2002 / SAE J1888: 40 A.
    {"iso-8820-3-e",
     40,
     40,
     {{1.00, hundred_hours, open, published},
      {1.35, 60, 1800, published},
      {2.00, 2, 50, published},
      {3.50, 0.2, 7, published},
      {6.00, 0.04, 1, published}}},
    {"iso-8820-5-sf30",
     30,
     200,
     {{1.00, 4 * 3600.0, open, from_memory},
      {1.35, 120, 1800, from_memory},
      {2.00, 1, 15, from_memory},
      {3.50, 0.3, 5, from_memory},
      {6.00, 0.1, 1, from_memory}}},
    {"iso-8820-5-sf51",
     60,
     300,
     {{1.00, 4 * 3600.0, open, from_memory},
      {1.35, 120, 1800, from_memory},
      {2.00, 1, 15, from_memory},
      {3.50, 0.3, 5, from_memory},
      {6.00, 0.1, 1, from_memory}}}};

const tables::FuseType::Gates& gates_of(std::string_view name, double rating) {
  for (const auto& set : fuse(name).gates)
    if (set.from / ampere <= rating && rating <= set.to / ampere) return set;
  FAIL(name << " has no gates for " << rating << " A");
  return fuse(name).gates.front();
}

void check_time(const std::optional<Duration>& ours, const std::optional<double>& printed) {
  CHECK(ours.has_value() == printed.has_value());
  if (ours && printed) CHECK(*ours / second == exactly(*printed));
}

TEST_CASE("time-current gates as printed, with what is remembered marked") {
  for (const GateSet& set : gates)
    for (const double rating : {set.from, set.to}) {
      CAPTURE(set.name);
      CAPTURE(rating);
      const auto& ours = gates_of(set.name, rating).gates;
      REQUIRE(ours.size() == set.rows.size());
      for (std::size_t i = 0; i < ours.size(); ++i) {
        CAPTURE(set.rows[i].multiple);
        CHECK(double(ours[i].multiple) == exactly(set.rows[i].multiple));
        check_time(ours[i].fastest, set.rows[i].fastest);
        check_time(ours[i].slowest, set.rows[i].slowest);
        CHECK(word_of(ours[i].source.kind) == set.rows[i].kind);
      }
    }
}

TEST_CASE("type E gates were read for 40 A only: the other ratings borrow them, from memory") {
  for (const double rating : {20.0, 30.0, 100.0}) {
    CAPTURE(rating);
    const auto& ours = gates_of("iso-8820-3-e", rating).gates;
    const auto& read = gates_of("iso-8820-3-e", 40).gates;
    REQUIRE(ours.size() == read.size());
    for (std::size_t i = 0; i < ours.size(); ++i) {
      CHECK(double(ours[i].multiple) == double(read[i].multiple));
      CHECK((ours[i].fastest == read[i].fastest));
      CHECK((ours[i].slowest == read[i].slowest));
      CHECK(word_of(ours[i].source.kind) == from_memory);
    }
  }
}

TEST_CASE("small type C ratings open no sooner than what was read for 35 and 40 A") {
  const auto& read = gates_of("iso-8820-3-c", 35).gates;
  for (const double rating : {1.0, 2.0, 3.0, 5.0, 7.5, 10.0, 30.0})
    for (const tables::Gate& gate : gates_of("iso-8820-3-c", rating).gates)
      for (const tables::Gate& same : read)
        if (gate.multiple == same.multiple && gate.slowest && same.slowest)
          CHECK(*gate.slowest >= *same.slowest);
}

TEST_CASE("UL 248-14 small cartridge fuses: the latest opening only") {
  // A fuse maker's application guide, p. 12: 135 % within 1 h; 200 % within 2 min up to 30 A and
  // within 4 min from 35 to 60 A.
  struct Row {
    double rating, seconds;
  };
  for (const Row& row : {Row{30, 120}, Row{60, 240}}) {
    CAPTURE(row.rating);
    const auto& ours = gates_of("ul-248-14", row.rating).gates;
    REQUIRE(ours.size() == 2);
    CHECK(double(ours[0].multiple) == exactly(1.35));
    check_time(ours[0].fastest, open);
    check_time(ours[0].slowest, 3600.0);
    CHECK(double(ours[1].multiple) == exactly(2.00));
    check_time(ours[1].fastest, open);
    check_time(ours[1].slowest, row.seconds);
    for (const tables::Gate& gate : ours) CHECK(word_of(gate.source.kind) == published);
  }
}

TEST_CASE("a gate's slow edge never rises with current, nor lies before the fast one") {
  for (const tables::FuseType& type : shipped().fuses)
    for (const auto& set : type.gates) {
      CAPTURE(type.name);
      std::optional<Duration> last;
      for (const tables::Gate& gate : set.gates) {
        if (gate.fastest && gate.slowest) CHECK(*gate.fastest < *gate.slowest);
        if (last && gate.slowest) CHECK(*gate.slowest <= *last);
        if (gate.slowest) last = gate.slowest;
      }
    }
}

TEST_CASE("a fuse that opens at 135 % meets I_2 ≤ 1.45 I_z whenever I_n ≤ I_z") {
  // IEC 60364-4-43, 433.1: the conventional current is the 135 % gate, which has a slow edge.
  for (const GateSet& set : gates) {
    CAPTURE(set.name);
    bool opens = false;
    for (const tables::Gate& gate : gates_of(set.name, set.from).gates)
      opens = opens || (double(gate.multiple) <= 1.45 && gate.slowest.has_value());
    CHECK(opens);
  }
}

TEST_CASE("types whose curve was not read have none") {
  for (const std::string_view name :
       {"iso-8820-3-f", "strip", "terminal-cube", "ul-248-class-t", "iec-60269-nh"}) {
    CAPTURE(name);
    CHECK(fuse(name).gates.empty());
    CHECK(fuse(name).cold.empty());
  }
}

TEST_CASE("cold resistance and melting I²t: only what a transcribed data sheet prints") {
  struct ColdRow {
    std::string_view name;
    double rating, milliohm, melting;
  };
  const std::vector<ColdRow> rows = {{"iso-8820-3-c", 40, 1.44, 3300},
                                     {"iso-8820-3-e", 30, 1.9, 4100},
                                     {"iso-8820-3-e", 35, 1.7, 6000},
                                     {"iso-8820-3-e", 40, 1.4, 8500}};
  std::size_t entries = 0;
  for (const tables::FuseType& type : shipped().fuses) entries += type.cold.size();
  CHECK(entries == rows.size());
  for (const ColdRow& row : rows) {
    CAPTURE(row.name);
    CAPTURE(row.rating);
    bool found = false;
    for (const auto& cold : fuse(row.name).cold) {
      if (std::abs(cold.rating / ampere - row.rating) > 1e-9) continue;
      found = true;
      CHECK(cold.resistance / milliohm == exactly(row.milliohm));
      REQUIRE(cold.melting.has_value());
      CHECK(cold.melting->value() == exactly(row.melting));
      CHECK(word_of(cold.source.kind) == published);
    }
    CHECK(found);
  }
}

}  // namespace
}  // namespace housepower::test::published_fuses
