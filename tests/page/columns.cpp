// SPDX-License-Identifier: Apache-2.0
// A figure is stated once, in its column: JSON, CSV, the table for people, the spreadsheet,
// conditions and orders all take it from there.
#include <doctest/doctest.h>

#include "housepower/page/csv.hpp"
#include "housepower/page/rows.hpp"
#include "housepower/page/select.hpp"
#include "housepower/page/workbook.hpp"
#include "housepower/units/quantity.hpp"

namespace page_columns {
namespace {

using namespace housepower;
using page::Amounts, page::CellKind, page::Column, page::ColumnOf, page::Columns, page::Holds;

struct Part {
  std::string name;
  Mass mass{};
  int number = 0;
  Ratio share = 0.0;
  bool fused = false;
  std::string grade;
  Amounts price;
  std::optional<Mass> copper;
  std::optional<int> years;
  std::optional<bool> tested;
  std::optional<std::string> maker;
  bool mass_is_least = false;
  std::string remark;
};

constexpr std::string_view grades[] = {"good", "fair", "bad"};

Columns<Part> columns() {
  return {{"name", "part", &Part::name},
          ColumnOf<Part>("mass_kg", "mass", "kg", &Part::mass)
              .less_is_better()
              .at_least(&Part::mass_is_least),
          ColumnOf<Part>("number", "number", &Part::number).more_is_better(),
          {"share", "share", &Part::share},
          {"fused", "fused", &Part::fused},
          ColumnOf<Part>("grade", "grade", &Part::grade).words(grades),
          {"price", "price", &Part::price},
          {"copper_kg", "copper", "kg", &Part::copper},
          {"years", "years", &Part::years},
          {"tested", "tested", &Part::tested},
          {"maker", "maker", &Part::maker},
          {"twice_kg", "two of them", "kg", [](const Part& p) { return 2.0 * p.mass; }},
          ColumnOf<Part>("remark", "remark", &Part::remark).empty_is_none()};
}

std::vector<Part> parts() {
  std::vector<Part> all(2);
  all[0] = {"battery",
            12.5 * kilogram,
            2,
            0.25,
            true,
            "bad",
            {{{400.0, "EUR"}}, "400 EUR"},
            1.5 * kilogram,
            3,
            true,
            "one",
            false,
            ""};
  all[1].name = "van";
  all[1].mass = 9.0 * kilogram;
  all[1].number = 7;
  all[1].grade = "fair";
  all[1].mass_is_least = true;
  return all;
}

Holds ask(const std::string& condition, const Part& part) {
  CAPTURE(condition);
  const auto parsed = page::condition_of(columns().erased(), condition, "");
  REQUIRE(std::holds_alternative<page::Condition>(parsed));
  return page::holds(std::get<page::Condition>(parsed), columns(), part);
}

std::string first_by(const std::string& by, bool best = false) {
  CAPTURE(by);
  const auto parsed = page::order_of(columns().erased(), by);
  REQUIRE(std::holds_alternative<page::Order>(parsed));
  auto order = std::get<page::Order>(parsed);
  if (best) order.way = page::Order::Way::best_first;
  auto all = parts();
  page::sort(all, columns(), order);
  return all.front().name;
}

}  // namespace

TEST_CASE("what a column holds is known from its getter") {
  const std::vector<CellKind> kinds{
      CellKind::text, CellKind::quantity, CellKind::number,   CellKind::share,  CellKind::flag,
      CellKind::text, CellKind::amounts,  CellKind::quantity, CellKind::number, CellKind::flag,
      CellKind::text, CellKind::quantity, CellKind::text};
  const Columns<Part> all = columns();
  REQUIRE(all.erased().size() == kinds.size());
  for (std::size_t i = 0; i < kinds.size(); ++i) {
    const Column& column = all.erased()[i];
    CAPTURE(column.key);
    CHECK(column.kind == kinds[i]);
    CHECK(column.may_lack == (i >= 7 && i <= 10));
  }
}

TEST_CASE("a column of each kind stands in JSON, CSV and the table for people") {
  CHECK(
      page::csv(columns(), parts()) ==
      "name,mass_kg,number,share,fused,grade,price,copper_kg,years,tested,maker,twice_kg,remark\r\n"
      "battery,12.5,2,0.25,true,bad,400 EUR,1.5,3,true,one,25,\r\n"
      "van,9,7,0,false,fair,,,,,,18,\r\n");
  const auto json = page::row_json(columns(), parts()[0]);
  CHECK(json.size() == columns().erased().size());
  CHECK(json["mass_kg"] == page::Json(12.5));
  CHECK(json["number"] == page::Json(2.0));
  CHECK(json["share"] == page::Json(0.25));
  CHECK(json["fused"] == page::Json(true));
  CHECK(json["price"] == page::Json("400 EUR"));
  CHECK(json["twice_kg"] == page::Json(25.0));
  CHECK(page::row_json(columns(), parts()[1])["copper_kg"] == page::Json());
  const auto table = page::table_of("Parts", columns(), parts());
  CHECK(table.heads[1] == "mass, kg");
  CHECK(table.rows[0] == std::vector<std::string>{"battery", "12.5", "2", "25 %", "yes", "bad",
                                                  "400 EUR", "1.5", "3", "yes", "one", "25", ""});
  CHECK(table.rows[1][7].empty());
}

#ifndef __EMSCRIPTEN__
TEST_CASE("a spreadsheet takes a column of each kind") {
  page::Workbook book;
  book.title = "Parts";
  book.sheets.push_back(page::row_table("parts", "Parts", columns(), parts()));
  CHECK(std::holds_alternative<std::string>(page::spreadsheet(book)));
}
#endif

TEST_CASE("a condition can be put to a column of each kind") {
  const Part battery = parts()[0], van = parts()[1];
  for (const char* holding :
       {"name=battery", "mass_kg>12", "mass_kg=12500 g", "number<3", "share=25 %", "fused=true",
        "grade!=good", "price<500 EUR", "copper_kg=1.5 kg", "years>2", "tested=true", "maker=one",
        "twice_kg>24 kg"})
    CHECK(ask(holding, battery) == Holds::yes);
  for (const char* not_holding : {"name!=battery", "mass_kg<12", "number>2", "share>0.3",
                                  "fused=false", "price>500 EUR", "years=4"})
    CHECK(ask(not_holding, battery) == Holds::no);
  for (const char* not_known :
       {"copper_kg>1", "years<9", "price<500 EUR", "mass_kg<10 kg",  // its mass is at least 9 kg
        "tested=true", "tested!=true", "maker=one", "maker!=one"})
    CHECK(ask(not_known, van) == Holds::not_known);
  CHECK(ask("maker=", van) == Holds::yes);        // asked for that it states none
  CHECK(ask("remark=dented", van) == Holds::no);  // there an empty text says that there is none
  CHECK(ask("remark!=dented", van) == Holds::yes);
  CHECK(std::holds_alternative<ParseProblem>(
      page::condition_of(columns().erased(), "number>many", "")));
}

TEST_CASE("rows are ordered by a column of each kind; what is not known stands last") {
  CHECK(first_by("name") == "battery");
  CHECK(first_by("-name") == "van");
  CHECK(first_by("mass_kg") == "van");
  CHECK(first_by("-number") == "van");
  CHECK(first_by("-share") == "battery");
  CHECK(first_by("fused") == "van");
  CHECK(first_by("grade") == "van");  // fair before bad, not by the alphabet
  CHECK(first_by("twice_kg") == "van");
  for (const char* key : {"price", "copper_kg", "years", "tested", "maker"})
    for (const char* sign : {"", "-"}) CHECK(first_by(sign + std::string(key)) == "battery");
}

TEST_CASE("a word that a column never holds is refused with those that it does") {
  const auto problem = [](const char* condition) {
    const auto parsed = page::condition_of(columns().erased(), condition, "");
    REQUIRE(std::holds_alternative<ParseProblem>(parsed));
    return std::get<ParseProblem>(parsed).message + "; " + std::get<ParseProblem>(parsed).hint;
  };
  CHECK(problem("grade=goood") ==
        "\"grade\" is never \"goood\"; did you mean \"good\"? it is one of good, fair, bad");
  CHECK(problem("grade!=excellent").find("it is one of good, fair, bad") != std::string::npos);
  CHECK(problem("grade=").find("is never \"\"") != std::string::npos);
  CHECK(problem("fused=yes").find("it is one of false, true") != std::string::npos);
  CHECK(problem("tested!=1").find("is never \"1\"") != std::string::npos);
  CHECK(ask("grade=BAD", parts()[0]) == Holds::yes);  // letters may be large
  CHECK(ask("fused=True", parts()[0]) == Holds::yes);
  CHECK(ask("maker=anyone at all", parts()[0]) == Holds::no);  // it may hold any text
}

TEST_CASE("the better first is spelled out, where one of two is the better") {
  CHECK(first_by("best:mass_kg") == "van");  // the lighter
  CHECK(first_by("best:number") == "van");   // the more
  const auto neither = page::order_of(columns().erased(), "best:name");
  REQUIRE(std::holds_alternative<ParseProblem>(neither));
  CHECK(std::get<ParseProblem>(neither).message.find("none is the better") != std::string::npos);
  CHECK(std::holds_alternative<ParseProblem>(page::order_of(columns().erased(), "best:mass")));
  CHECK(std::holds_alternative<ParseProblem>(page::order_of(columns().erased(), "best")));
}

TEST_CASE("a column knows which of two figures is the better") {
  CHECK(first_by("mass_kg", true) == "van");   // the lighter
  CHECK(first_by("number", true) == "van");    // the more
  CHECK(first_by("name", true) == "battery");  // neither: rising
}

TEST_CASE("a list shows those of its columns that stand in a table") {
  const Columns<Part> all{ColumnOf<Part>("name", "part", &Part::name).in(1U | 2U),
                          ColumnOf<Part>("number", "number", &Part::number).in(2U)};
  CHECK(all.shown_in(1).erased().size() == 1);
  CHECK(all.shown_in(2).erased().size() == 2);
  CHECK(all.shown_in(4).erased().empty());
}

}  // namespace page_columns
