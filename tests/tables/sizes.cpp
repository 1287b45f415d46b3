// SPDX-License-Identifier: Apache-2.0
// What a written size means, and what is refused.
#include <algorithm>

#include "shipped.hpp"

namespace housepower::tables::tables_sizes {
namespace {
using test::shipped;

std::string named(std::string_view written) {
  const auto found = conductor_named(shipped(), written);
  if (const auto* problem = std::get_if<SizeProblem>(&found)) return "refused: " + problem->message;
  const auto& wire = std::get<Conductor>(found);
  return wire.name + " of " + std::string(wire.series) + (wire.tinned ? ", tinned" : "");
}
SizeProblem refused(std::string_view written) {
  const auto found = conductor_named(shipped(), written);
  CAPTURE(written);
  REQUIRE(std::holds_alternative<SizeProblem>(found));
  return std::get<SizeProblem>(found);
}
bool has(const std::string& text, std::string_view part) { return text.find(part) != text.npos; }

TEST_CASE("a size is read however people write it") {
  struct Row {
    std::string_view written;
    std::string means;
  };
  for (const Row& row :
       {Row{"35 mm2", "35 mm2 of iec-60228-5"},
        Row{"35 mm²", "35 mm2 of iec-60228-5"},
        Row{"35mm2", "35 mm2 of iec-60228-5"},
        Row{"  35 MM2 ", "35 mm2 of iec-60228-5"},
        Row{"2.50 mm2", "2.5 mm2 of iec-60228-5"},
        Row{"35 mm2 class 5", "35 mm2 of iec-60228-5"},
        Row{"35 mm2 class 6", "35 mm2 class 6 of iec-60228-5"},
        Row{"35 mm2 class 2", "35 mm2 class 2 of iec-60228-2"},
        Row{"35 mm2 tinned class 6", "35 mm2 class 6 tinned of iec-60228-5, tinned"},
        Row{"2/0 AWG", "2/0 awg of nec-8"},
        Row{"00 awg", "2/0 awg of nec-8"},
        Row{"0 awg", "1/0 awg of nec-8"},
        Row{"16 awg tinned", "16 awg tinned of nec-8, tinned"},
        Row{"250 kcmil", "250 kcmil of nec-8"},
        Row{"6 sae", "6 sae of sae"},
        Row{"00 B&S", "00 b&s of b&s"},
        Row{"2/0 b&s", "00 b&s of b&s"},
        Row{"6 auto-od", "6 auto-od of auto-od"},
        Row{"6 mm auto-od", "6 auto-od of auto-od"},
        Row{"2/0 awg astm-b258", "2/0 awg astm-b258 of astm-b258"}}) {
    CAPTURE(row.written);
    CHECK(named(row.written) == row.means);
  }
}

// IEC 60228:2004: class 2 stranded, 5 flexible, 6 very flexible; a gauge is of no such class.
TEST_CASE("a conductor knows the class of its strands, whatever its name says of it") {
  const auto strands = [](std::string_view written) {
    return std::get<Conductor>(conductor_named(shipped(), written)).strands;
  };
  CHECK(strands("35 mm2") == StrandClass::class_5);
  CHECK(strands("35 mm2 tinned") == StrandClass::class_5);
  CHECK(strands("35 mm2 class 6") == StrandClass::class_6);
  CHECK(strands("35 mm2 class 2") == StrandClass::class_2);
  CHECK(!strands("2/0 awg"));
  CHECK(!strands("6 auto-od"));
}

TEST_CASE("the name of every conductor reads as itself") {
  for (const auto& series : shipped().conductors)
    for (const auto& wire : series) {
      CAPTURE(wire.name);
      const auto found = conductor_named(shipped(), wire.name);
      REQUIRE(std::holds_alternative<Conductor>(found));
      const auto& again = std::get<Conductor>(found);
      CHECK(again.name == wire.name);
      CHECK(again.series == wire.series);
      CHECK(again.tinned == wire.tinned);
      CHECK(again.copper == wire.copper);
    }
}

TEST_CASE("class 6 is class 5 by its resistance") {
  // IEC 60228:2004 table 3: class 6 = same resistances as class 5. 35 mm²: 0.554 Ω/km.
  const auto found = conductor_named(shipped(), "35 mm2 class 6");
  REQUIRE(std::holds_alternative<Conductor>(found));
  CHECK(std::get<Conductor>(found).resistance_at_20.value() == doctest::Approx(0.554e-3));
}

TEST_CASE("\"6 mm\" alone is refused, with both readings and the copper of each") {
  for (const std::string_view written : {"6 mm", "6mm", "6 mm tinned"}) {
    const auto problem = refused(written);
    CHECK(has(problem.hint, "\"6 auto-od\""));
    CHECK(has(problem.hint, "4.58 mm² of copper"));  // 57/0.32: 57·π·0.16² = 4.584
    CHECK(has(problem.hint, "\"6 mm2\""));
  }
}

TEST_CASE("a number alone is refused, with what it may count") {
  const auto problem = refused("6");
  for (const std::string_view reading :
       {"\"6 mm2\"", "\"6 awg\"", "\"6 auto-od\"", "\"6 sae\"", "\"6 b&s\""})
    CHECK(has(problem.hint, reading));
}

TEST_CASE("a class stands with metric sizes only, and must be one of the tables") {
  CHECK(has(refused("16 awg class 2").message, "metric"));
  CHECK(has(refused("6 auto-od class 5").message, "metric"));
  CHECK(has(refused("35 mm2 class 3").message, "class 3"));
  CHECK(has(refused("35 mm2 class").message, "\"class\""));
}

TEST_CASE("a size that its series has not is refused with those that it has") {
  const auto metric = refused("5 mm2");
  CHECK(has(metric.message, "iec-60228-5"));
  CHECK(has(metric.hint, "4, 6, 10"));
  CHECK(has(refused("5 awg").hint, "6, 4, 3"));
  CHECK(has(refused("8 auto-od").hint, "5, 6"));
}

TEST_CASE(
    "a unit beside the name of a series that has none such is refused, not read in that series") {
  CHECK(has(refused("6 mm2 nec-8").message, "nec-8 has no sizes in mm2"));
  CHECK(has(refused("10 awg iec-60228-2").message, "iec-60228-2 has no sizes in awg"));
}

TEST_CASE("what is no size says how to write one") {
  for (const std::string_view written :
       {"", "  ", "mm2", "thick", "16 awg copper", "35 mm2 mm2", "35 mm2 tinned tinned",
        "35 mm2 awg", "-6 mm2", "1e1 mm2"}) {
    const auto problem = refused(written);
    CHECK(has(problem.message + problem.hint, "mm2"));
  }
}

TEST_CASE("a series is chosen by its name or by what a profile calls it") {
  CHECK(series_named(shipped(), "metric").front().series == "iec-60228-5");
  CHECK(series_named(shipped(), "awg").front().series == "nec-8");
  CHECK(series_named(shipped(), "b&s").front().name == "8 b&s");
  CHECK(series_named(shipped(), "nec-8 tinned").front().tinned);
  CHECK(series_named(shipped(), "none such").empty());
}

}  // namespace
}  // namespace housepower::tables::tables_sizes
