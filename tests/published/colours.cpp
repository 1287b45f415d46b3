// SPDX-License-Identifier: Apache-2.0
// Colours of conductors. None of it was read: a habit, and two standards as they are remembered. No
// set may call itself published.
#include "housepower/tables/colours.hpp"

#include "shipped.hpp"

namespace housepower::test::published_colours {

TEST_CASE("sets of colours, and how firm they are") {
  struct Row {
    std::string_view name, positive, negative, kind, source;
  };
  for (const Row& row :
       {Row{"dc-red-black", "red", "black", "common practice", "a habit of vehicle wiring"},
        Row{"dc-red-yellow", "red", "yellow", "from memory",
            "ABYC E-11, colours of d.c. conductors"},
        Row{"iec-60445", "red", "white", "from memory",
            "IEC 60445, colours of d.c. line conductors"}}) {
    CAPTURE(row.name);
    const auto set = tables::colours_named(shipped(), row.name);
    REQUIRE(set);
    CHECK(set->positive == row.positive);
    CHECK(set->negative == row.negative);
    CHECK(word_of(set->source.kind) == row.kind);
    CHECK(set->source.title == row.source);
  }
  CHECK(tables::colour_names(shipped()).size() == 3);
  CHECK_FALSE(tables::colours_named(shipped(), "k"));  // a table, and not of colours
}

TEST_CASE("a design brings the colours along, without asking for views") {
  Diagnostics problems;
  const auto few = tables::read_tables(tables::embedded_tables(), {.towns = false}, problems);
  REQUIRE(few);
  CHECK(tables::colours_named(*few, tables::usual_colours));
}

TEST_CASE("a set that lacks a pole is refused") {
  for (const char* rows : {"pole, colour\npositive, red\n", "what, colour\npositive, red\n"}) {
    const std::string text =
        "name = \"own\"\ntitle = \"own\"\nkind = \"supplier\"\nsource = \"we\"\n"
        "rows = \"\"\"\n" +
        std::string(rows) + "\"\"\"\n";
    const tables::NamedText own{"colours/own.toml", text};
    Diagnostics problems;
    CHECK_FALSE(tables::read_tables({&own, 1}, {}, problems));
    REQUIRE_FALSE(problems.all.empty());
    CHECK(problems.all.back().message == "wants the columns pole and colour");
  }
}

}  // namespace housepower::test::published_colours
