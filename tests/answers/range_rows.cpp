// SPDX-License-Identifier: Apache-2.0
// A range over places and months: each row is that of the design which states that place and month,
// whatever the rows share; parts hold the rows of the whole, whoever works on them and in what order.
#include <doctest/doctest.h>

#include "answers/given.hpp"
#include "housepower/answers/range.hpp"
#include "housepower/design/elsewhere.hpp"
#include "housepower/page/csv.hpp"
#include "housepower/report/range.hpp"

namespace answers_range_rows {
namespace {

using namespace housepower;
using answers::Part;
using answers::RangeAsked;
using answers::RangeFile;
using answers::RangeReport;
using given_examples::shipped_file;

std::shared_ptr<const tables::Tables> all_tables() {
  return {&examples::shipped(), [](const tables::Tables*) {}};
}
FileReader from_disk() {
  return [](std::string_view path) -> FileContent { return examples::from_disk(path); };
}
RangeReport range_of(const std::vector<RangeFile>& files, const RangeAsked& asked,
                     const std::optional<Part>& part = {},
                     const energy::Each& each = energy::one_after_another) {
  return answers::range_of(files, asked, part, all_tables(), from_disk(), each);
}
/// All that a row says but for how it was asked.
std::vector<std::string> said(const RangeReport& report) {
  std::vector<std::string> lines;
  for (range::RangeRow row : report.rows) {
    row.inputs_digest.clear();
    lines.push_back(page::csv_line(report::range_columns().erased(), &row));
  }
  return lines;
}
/// No record low of one's own is colder: then the table's counts in both ways of asking.
const std::string cold = "place/record_low=-60 °C";

void check_rows_alike(const std::string& file, range::Simulate simulate,
                      const std::vector<std::string>& places) {
  CAPTURE(file);
  RangeAsked asked{{simulate, 12}, {cold}, places, {"january", "july", "worst"}, {}};
  const auto together = said(range_of({{file, true}}, asked));
  REQUIRE(together.size() == places.size() * 3);
  std::size_t i = 0;
  for (const auto& place : places)
    for (const char* month : {"january", "july", "worst"}) {
      CAPTURE(place);
      CAPTURE(std::string(month));
      const RangeAsked alone{{simulate, 12},
                             {cold, "place/name=" + place, "place/month=" + std::string(month)},
                             {},
                             {},
                             {}};
      CHECK(together[i++] == said(range_of({{file, true}}, alone)).front());
    }
}

}  // namespace

TEST_CASE("a row at a place and in a month is what the design says that states them") {
  for (const char* name : {"pellibri", "marrowick", "faulty/inverter-reserve", "faulty/drop",
                           "faulty/cold-charging", "faulty/far-fault-clears"})
    check_rows_alike(shipped_file(name), range::Simulate::none, {"munich", "darwin"});
  check_rows_alike(shipped_file("faulty/promised-stay"), range::Simulate::promised, {"munich"});
  check_rows_alike(shipped_file("pellibri"), range::Simulate::all, {"hobart"});
}

TEST_CASE("rows come by design, place and month, and say which") {
  const RangeAsked asked{
      {range::Simulate::none, 60}, {}, {"hobart", "darwin"}, {"july", "may"}, {}};
  const auto report =
      range_of({{shipped_file("pellibri"), true}, {shipped_file("faulty/base"), true}}, asked);
  CHECK(report.designs == 2);
  CHECK(report.all_rows == 8);
  std::string order;
  for (const auto& row : report.rows)
    order += row.name.substr(0, 1) + " " + row.place + " " + row.month + "; ";
  CHECK(order == "P hobart July; P hobart May; P darwin July; P darwin May; "
                 "L hobart July; L hobart May; L darwin July; L darwin May; ");
  CHECK(report.rows[0].inputs_digest != report.rows[1].inputs_digest);
  CHECK(report.rows[0].inputs_digest != report.rows[2].inputs_digest);
}

TEST_CASE("parts hold each row of the whole once, whoever does them first") {
  const std::vector<RangeFile> files{{shipped_file("pellibri"), true},
                                     {shipped_file("parts"), false},
                                     {shipped_file("faulty/base"), true},
                                     {"nowhere.toml", true}};
  const RangeAsked asked{
      {range::Simulate::none, 60}, {}, {"hobart", "darwin"}, {"july", "may"}, {}};
  const energy::Each last_first = [](int count, const std::function<void(int)>& f) {
    for (int i = count; i-- > 0;) f(i);
  };
  const auto whole = range_of(files, asked);
  REQUIRE(whole.rows.size() == 12);
  CHECK(whole.unread);
  CHECK(whole.left_out.size() == 1);
  for (const std::size_t of : {1, 5, 13}) {
    std::vector<std::string> rows;
    std::string question;
    for (std::size_t number = 1; number <= of; ++number) {
      const auto part = range_of(files, asked, Part{number, of},
                                 number % 2 == 0 ? last_first : energy::one_after_another);
      REQUIRE(part.part.has_value());
      CHECK(part.part->rows == 12);
      CHECK(part.rows.size() == part.part->holds.end - part.part->holds.first);
      CHECK(part.left_out.size() == 1);
      if (number > 1) CHECK(part.part->question == question);
      question = part.part->question;
      const auto lines = said(part);
      rows.insert(rows.end(), lines.begin(), lines.end());
    }
    CHECK(rows == said(whole));
  }
}

TEST_CASE("another option or another design is another question") {
  const std::vector<RangeFile> files{{shipped_file("faulty/base"), true}};
  const auto question = [&](const RangeAsked& asked, const std::vector<RangeFile>& of) {
    return range_of(of, asked, Part{9, 9}).part->question;
  };
  const RangeAsked plain{{range::Simulate::none, 60}, {}, {}, {"july"}, {}};
  std::vector<RangeAsked> others(6, plain);
  others[0].stays.years = 61;
  others[1].stays.simulate = range::Simulate::all;
  others[2].set = {"bank/quantity=3"};
  others[3].places = {"hobart"};
  others[4].months = {"may"};
  others[5].tables = {"colours/mine.toml", "name = \"mine\""};
  CHECK(question(plain, files) == question(plain, files));
  for (const auto& other : others) CHECK(question(other, files) != question(plain, files));
  CHECK(question(plain, {{shipped_file("faulty/drop"), true}}) != question(plain, files));
}

TEST_CASE(
    "what a place's record low lacks of the design's own is taken from the colder of the two") {
  // base.toml states -6 °C; Munich's record is far below that, Darwin's far above.
  const auto opened = examples::opened(examples::faulty("base"));
  const auto at = [&](const char* place) {
    auto document = opened.document;
    design::put_at(document, *examples::shipped().town(place));
    Diagnostics problems;
    return *(*design::resolve(document, examples::shipped(), Defaults::ordinary, problems))
                ->site.record_low;
  };
  CHECK(at("munich") < celsius(-6.0));
  CHECK(at("darwin").value() == doctest::Approx(celsius(-6.0).value()));
}

TEST_CASE("warnings of a design stand in its row") {
  // Where no town of the table is near: in the middle of an ocean.
  const FileReader moved = [](std::string_view path) -> FileContent {
    auto text = examples::from_disk(path);
    const std::string named = "name = \"hobart\"";
    const auto at = text ? text->find(named) : std::string::npos;
    if (at != std::string::npos)
      text->replace(at, named.size(),
                    "latitude = \"-42.1°\"\nlongitude = \"-120°\"\nheight = \"5 m\"");
    return text;
  };
  const std::vector<RangeFile> files{{shipped_file("faulty/base"), true}};
  const auto report = answers::range_of(files, {{range::Simulate::none, 60}, {}, {}, {}, {}}, {},
                                        all_tables(), moved);
  REQUIRE(report.rows.size() == 1);
  CAPTURE(report.rows[0].problem);
  REQUIRE(report.rows[0].warnings.size() == 1);
  CHECK(report.rows[0].warnings[0].find("km away") != std::string::npos);
  std::string told;
  for (const auto& note : report::range_notes(report)) told += note + "\n";
  CHECK(told.find("Warning: ") != std::string::npos);
  CHECK(report::range_json(report).find("km away") != std::string::npos);
}

}  // namespace answers_range_rows
