// SPDX-License-Identifier: Apache-2.0
// What can be wrong with a file of hourly weather: where it is, what was wanted, what to do.
#include "made_up_weather.hpp"

namespace housepower::tables::tables_weather_file_wrong {
namespace {

using namespace test;

TEST_CASE("a longer gap is an error that names its rows") {
  Lines lines = plain();
  for (std::size_t i = 10; i < 14; ++i) put(lines[epw_heads + i], 13, "9999");
  const int first = int(epw_heads) + 10 + 1;
  auto d = bad_at(first, column_of(13, lines[epw_heads + 10]), lines);
  CHECK(d.key == "global radiation");
  CHECK(d.message == fmt::format("is missing for 4 hours, lines {} to {}", first, first + 3));
  CHECK(d.hint.find("only the beam may be missing") != std::string::npos);

  lines = tmy3();  // its code is another
  for (std::size_t i = 2; i < lines.size(); ++i) put(lines[i], 4, "-9900");
  d = bad_at(3, column_of(4, lines[2]), lines);
  CHECK(d.key == "diffuse radiation");
  CHECK(d.message == "is missing for 8760 hours, lines 3 to 8762");
}

TEST_CASE("what is no weather file at all") {
  for (const Lines& lines :
       {Lines{}, Lines{"", ""}, Lines{"{\"key\": 1}"}, Lines{"time,P,G(i)", "20180101:0000,1,2"}}) {
    const auto d = bad_at(1, 1, lines);
    CHECK(d.message.starts_with("wants hourly weather as EPW, TMY3 csv or PVGIS TMY csv, got "));
    CHECK(d.hint.find("LOCATION") != std::string::npos);
  }
  const auto d = bad_at(1, 1, {"Übersicht über alle Dateien des Ordners auf dem Rechner"});
  CHECK(d.message.ends_with("got \"Übersicht über alle Dateien des Ordner…\""));
}

TEST_CASE("commas as decimal points are refused: with semicolons, without, in quotes") {
  Lines lines = plain();
  for (auto& line : lines)
    for (char& c : line) c = c == ',' ? ';' : c == '.' ? ',' : c;
  auto d = bad_at(1, 9, lines);
  CHECK(d.message == "wants commas between its fields, got \";\"");
  CHECK(d.hint.find("2.04, not 2,04") != std::string::npos);

  d = bad_at(noon + 1, 1, with(noon, 6, "2,0"));
  CHECK(d.message == "wants 35 fields, got 36");
  CHECK(d.hint.find("decimal comma") != std::string::npos);

  d = bad_at(noon + 1, column_of(6, plain()[noon]), with(noon, 6, "\"2,0\""));
  CHECK(d.key == "air temperature");
  CHECK(d.message == "wants °C from -90 to 60, got \"\"2,0\"\"");
  CHECK(d.hint == "write a decimal point: 2.04, not 2,04");
}

TEST_CASE("rows with too few fields; files whose rows all have fewer are older ones") {
  Lines lines = plain();
  lines[noon] = lines[noon].substr(0, 40);
  auto d = bad_at(noon + 1, 1, lines);
  CHECK(d.message.starts_with("wants 35 fields, got "));
  CHECK(d.hint.find("cut off") != std::string::npos);

  lines = plain();
  for (std::size_t i = epw_heads; i < lines.size(); ++i)
    lines[i] = lines[i].substr(0, lines[i].find(",0.330,999.0,99.0"));
  CHECK(good(text_of(lines)).global.size() == 8760);  // 32 of them
  lines[epw_heads] = plain()[epw_heads];
  CHECK(bad(lines).size() == 20);
}

TEST_CASE("what is no number, and what cannot be") {
  const int column = column_of(13, plain()[noon]);
  auto d = bad_at(noon + 1, column, with(noon, 13, "7oo"));
  CHECK(d.key == "global radiation");
  CHECK(d.message == "wants W/m² from 0 to 1500, got \"7oo\"");
  CHECK(d.hint == "a value that is missing is written 9999");
  CHECK(d.place.width == 3);
  CHECK(bad_at(noon + 1, column, with(noon, 13, "-5")).message ==
        "wants W/m² from 0 to 1500, got \"-5\"");
  CHECK(bad_at(noon + 1, column, with(noon, 13, "1501")).message ==
        "wants W/m² from 0 to 1500, got \"1501\"");
  CHECK(bad(with(noon, 13, "nan")).size() == 1);
  CHECK(bad(with(noon, 14, "1600"))[0].key == "beam radiation");
  CHECK(bad(with(noon, 15, "-9900"))[0].key == "diffuse radiation");
  CHECK(bad(with(noon, 6, "60.5"))[0].message == "wants °C from -90 to 60, got \"60.5\"");
  CHECK(bad(with(noon, 6, "-91"))[0].message == "wants °C from -90 to 60, got \"-91\"");
  CHECK(bad(with(10, 3, "x", pvgis(8.0)))[0].hint == "a value that is missing is left empty");
}

TEST_CASE("hours that do not follow one another are named once") {
  Lines lines = plain();
  lines.erase(lines.begin() + noon);
  auto d = bad_at(noon + 1, 1, lines);
  CHECK(d.key == "date");
  CHECK(d.message == "wants 1 January, hour 13 of 24, got 1 January, hour 14 of 24");
  CHECK(d.hint.find("missing or doubled") != std::string::npos);

  lines = plain();
  lines.insert(lines.begin() + noon, lines[noon]);
  d = bad_at(noon + 2, 1, lines);
  CHECK(d.message == "wants 1 January, hour 14 of 24, got 1 January, hour 13 of 24");

  lines = plain();  // 31 July left out
  lines.erase(lines.begin() + epw_heads + 211 * 24, lines.begin() + epw_heads + 212 * 24);
  CHECK(bad_at(epw_heads + 211 * 24 + 1, 1, lines).message ==
        "wants 31 July, hour 1 of 24, got 1 August, hour 1 of 24");

  CHECK(bad(with(noon, 2, "32"))[0].message.starts_with(
      "wants a date and hour such as 1999,1,31,24, got \"2001,1,32,13,"));
  CHECK(bad(with(noon, 3, "25")).size() == 1);
  CHECK(bad(with(noon, 3, "0")).size() == 1);
  CHECK(bad(with(noon, 1, "13")).size() == 1);
  CHECK(bad(with(10, 1, "24:30", tmy3()))[0].message.starts_with(
      "wants a date and hour such as 01/31/1988,24:00, got \"01/01/1991,24:30,"));
  CHECK(bad(with(10, 0, "2018-01-01 05:00", pvgis(8.0)))[0].message.starts_with(
      "wants a date and hour such as 20180131:2300, got \"2018-01-01 05:00,"));
  CHECK(bad(with(noon, 2, "29", with(noon, 1, "2"))).size() == 2);  // 29 February on 1 January
  const std::size_t march = epw_heads + 59 * 24 + 2;
  CHECK(bad_at(int(march) + 1, 1, with(march, 1, "2", with(march, 2, "29"))).message ==
        "wants 1 March, hour 3 of 24, got 29 February, hour 3 of 24");
}

TEST_CASE("a file that ends early, or goes on") {
  Lines lines = plain();
  lines.resize(lines.size() - 24);
  auto d = bad_at(epw_heads + 8736, 1, lines);
  CHECK(d.message == "wants 8760 rows a year, without 29 February; got 8736");
  lines = plain();
  lines.push_back(epw_row(2002, 1, 1, 0));
  CHECK(bad_at(epw_heads + 8761, 1, lines).message.ends_with("got 8761"));
  lines = plain();
  lines.resize(epw_heads);
  CHECK(bad_at(epw_heads, 1, lines).message.ends_with("got 0"));
  lines = pvgis(8.0);
  lines.insert(lines.begin() + 100, "");  // what follows an empty line there is no row
  CHECK(bad_at(100, 1, lines).message.ends_with("got 95"));
}

TEST_CASE("after twenty errors reading stops, and the last one says so") {
  Lines lines = plain();
  for (std::size_t i = epw_heads; i < epw_heads + 30; ++i) put(lines[i], 6, "cold");
  const auto all = bad(lines);
  REQUIRE(all.size() == 20);
  CHECK(all[19].hint.ends_with("; reading stopped here, after 20 errors"));
  CHECK(all[18].hint.find("stopped") == std::string::npos);
}

TEST_CASE("the head of an EPW file") {
  CHECK(bad_at(1, 1, {"LOCATION,a,b,c,d,e,1,2"}).message == "wants 10 fields, got 8");
  const auto at = [](std::size_t field) { return column_of(field, plain()[0]); };
  auto d = bad_at(1, at(6), with(0, 6, "140"));
  CHECK(d.key == "latitude");
  CHECK(d.message == "wants degrees from -90 to 90, got \"140\"");
  CHECK(bad_at(1, at(7), with(0, 7, "W105")).key == "longitude");
  CHECK(bad_at(1, at(8), with(0, 8, "")).key == "time zone");
  CHECK(bad_at(1, at(9), with(0, 9, "high")).key == "elevation");

  Lines lines = plain();
  lines.erase(lines.begin() + 3);
  d = bad_at(8, 1, lines);
  CHECK(d.message == "wants \"DATA PERIODS\" in line 8, got \"2001\"");
  CHECK(bad_at(1, 1, {plain()[0]}).message == "wants \"DATA PERIODS\" in line 8, got \"\"");
  d = bad_at(8, 14, with(7, 2, "4"));
  CHECK(d.key == "DATA PERIODS");
  CHECK(d.message == "wants one period of one row an hour (1,1), got 1,4");
}

TEST_CASE("the heads of the other two: columns and place") {
  Lines lines = tmy3();
  lines[1] = "Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),DNI (W/m^2),DHI,Dry-bulb (C)";
  auto d = bad_at(2, 1, lines);
  CHECK(d.key == "diffuse radiation");
  CHECK(d.message == "wants a column \"DHI (W/m^2)\"");
  lines = tmy3();
  lines[0] = "1,name,CO";
  CHECK(bad_at(1, 1, lines).message == "wants 7 fields, got 3");

  lines = pvgis(8.0);
  lines.erase(lines.begin());
  d = bad_at(4, 1, lines);  // the table's head stands in line 4 now
  CHECK(d.key == "latitude");
  CHECK(d.message == "wants a line \"Latitude (decimal degrees): …\" above the table, found none");
  CHECK(d.hint.starts_with("add the line \"Latitude (decimal degrees): 45.0\" at the top"));
  lines.erase(lines.begin(), lines.begin() + 3);
  CHECK(bad(lines).size() == 2);  // latitude and longitude

  lines = pvgis(8.0);
  lines[1] = "Longitude (decimal degrees): 8 E";
  d = bad_at(2, 30, lines);
  CHECK(d.key == "longitude");
  CHECK(d.message == "wants degrees from -180 to 180, got \"8 E\"");
  CHECK(d.hint == "write \"Longitude (decimal degrees): 45.0\"");
}

}  // namespace
}  // namespace housepower::tables::tables_weather_file_wrong
