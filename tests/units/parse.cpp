// SPDX-License-Identifier: Apache-2.0
// Quantities as people write them, and what they are told when they write something else.
#include <doctest/doctest.h>

#include <string>

#include "housepower/units/unit.hpp"

namespace housepower::units_parse {
namespace {

template <class Q> double read(std::string_view text) {
  const auto result = parse_quantity(text, kind_of<Q>);
  const auto* problem = std::get_if<ParseProblem>(&result);
  REQUIRE_MESSAGE(!problem, text << ": " << (problem ? problem->message : ""));
  CHECK(std::get<Number>(result).kind == kind_of<Q>);
  return std::get<Number>(result).si;
}

ParseProblem refusal(std::string_view text, Kind wanted) {
  const auto result = parse_quantity(text, wanted);
  REQUIRE_MESSAGE(std::holds_alternative<ParseProblem>(result), text);
  return std::get<ParseProblem>(result);
}
template <class Q> ParseProblem refused(std::string_view text) { return refusal(text, kind_of<Q>); }

TEST_CASE("quantities are read as people write them") {
  CHECK(read<Current>("4.2 A") == 4.2);
  CHECK(read<Current>("4.2A") == 4.2);
  CHECK(read<Current>("  4.2   A ") == 4.2);
  CHECK(read<Current>("+4.2 A") == 4.2);
  CHECK(read<Current>("-4.2 A") == -4.2);
  CHECK(read<Current>("\u22124.2 A") == -4.2);
  CHECK(read<Current>("4.2\u00A0A") == 4.2);  // no-break space
  CHECK(read<Current>("4.2\u202FA") == 4.2);  // narrow no-break space
  CHECK(read<Current>("1e3 A") == 1000.0);
  CHECK(read<Current>("1.5E-3 kA") == 1.5);
  CHECK(read<Current>(".5 A") == 0.5);
  CHECK(read<Current>("5. A") == 5.0);
  CHECK(read<Current>("0 A") == 0.0);
  CHECK(read<Length>("12 ft") == doctest::Approx(3.6576).epsilon(1e-12));  // 12 · 0.3048 m
  CHECK(read<Area>("35 mm2") == doctest::Approx(35e-6).epsilon(1e-12));
  CHECK(read<Area>("35 mm²") == (35.0 * square_millimetre).value());
  CHECK(read<Charge>("100 Ah") == 360000.0);
  CHECK(read<Energy>("1.5 kWh") == 5400000.0);
  CHECK(read<Resistance>("3 m\u2126") == doctest::Approx(0.003).epsilon(1e-12));
  CHECK(read<Resistance>("3 m\u03A9") == doctest::Approx(0.003).epsilon(1e-12));
  CHECK(read<Angle>("0°") == 0.0);
  CHECK(read<Angle>("90 deg") == doctest::Approx(3.14159265358979 / 2).epsilon(1e-13));
  CHECK(read<HeatTransfer>("2.5 W/m2K") == 2.5);
  CHECK(read<PerKelvin>("-0.28 %/K") == doctest::Approx(-0.0028).epsilon(1e-12));
  CHECK(read<PerKelvin>("-0.28%/°C") == doctest::Approx(-0.0028).epsilon(1e-12));
  CHECK(read<IrradianceHeating>("0.03 K m2/W") == 0.03);
  CHECK(read<AdiabaticConstant>("13225 A2s/mm4") == doctest::Approx(13225e12).epsilon(1e-12));
}

TEST_CASE("a ratio is a share in per cent or a bare number") {
  CHECK(read<Ratio>("90 %") == doctest::Approx(0.9).epsilon(1e-12));
  CHECK(read<Ratio>("90%") == doctest::Approx(0.9).epsilon(1e-12));
  CHECK(read<Ratio>("0.9") == 0.9);
  CHECK(read<Ratio>("1") == 1.0);
  CHECK(refused<Ratio>("0.9 1").message.starts_with("wants a ratio such as \"90 %\" or 0.9"));
}

TEST_CASE("a temperature is a point on the scale, a difference is not") {
  CHECK(read<Temperature>("40 °C") == 313.15);
  CHECK(read<Temperature>("-5 degC") == doctest::Approx(268.15).epsilon(1e-14));
  CHECK(read<Temperature>("104 °F") ==
        doctest::Approx(313.15).epsilon(1e-14));  // (104 − 32)·5/9 = 40
  CHECK(read<TemperatureDifference>("5 K") == 5.0);

  const auto point = refused<Temperature>("5 K");
  CHECK(point.message ==
        "wants a temperature such as \"40 °C\" or \"104 °F\", got a temperature difference");
  CHECK(point.hint == "K counts the difference of two temperatures; write a temperature in °C");
  CHECK(point.column == 3);
  const auto difference = refused<TemperatureDifference>("5 °C");
  CHECK(difference.message == "wants a temperature difference such as \"5 K\", got a temperature");
  CHECK(difference.hint == "a difference of temperatures is written in K: did you mean \"5 K\"?");
  CHECK(refused<TemperatureDifference>("9 °F").hint ==
        "a difference of temperatures is written in K");
}

TEST_CASE("a number without its unit is shown with the likely one") {
  const auto area = refused<Area>("2.5");
  CHECK(area.message ==
        "wants an area such as \"2.5 mm2\" or \"1.04 m2\", got a number without a unit");
  CHECK(area.hint == "did you mean \"2.5 mm2\"?");
  CHECK(area.column == 4);
  CHECK(refused<Length>("3").hint == "did you mean \"3 m\"?");
  CHECK(refused<Charge>("100").hint == "did you mean \"100 Ah\"?");
  CHECK(refused<Temperature>("-5").hint == "did you mean \"-5 °C\"?");
  CHECK(refused<Resistance>("2").hint == "did you mean \"2 mohm\"?");
}

TEST_CASE("another kind is named") {
  const auto problem = refused<Length>("4.2 A");
  CHECK(problem.message == "wants a length such as \"3.5 m\" or \"12 ft\", got a current");
  CHECK(problem.column == 5);
  CHECK(refused<Charge>("100 Wh").message.ends_with("got an energy"));
  CHECK(refused<Power>("5 %").message.ends_with("got a ratio"));
  CHECK(refused<Ratio>("5 V").message.ends_with("got a voltage"));
  CHECK(refused<Area>("6 mm").message.ends_with("got a length"));
}

TEST_CASE("an unknown unit is told, with the nearest of the wanted kind") {
  const auto problem = refused<Power>("2 KW");
  CHECK(problem.message == "wants a power such as \"45 W\" or \"2 kW\"; no unit is written \"KW\"");
  CHECK(problem.hint == "did you mean \"2 kW\"?");
  CHECK(problem.column == 3);
  struct Row {
    Kind wanted;
    std::string_view text, hint;
  };
  const Row rows[] = {
      {kind_of<Current>, "5 MA", "did you mean \"5 mA\"?"},
      {kind_of<Current>, "5 amps", "did you mean \"5 A\"?"},
      {kind_of<Duration>, "3 days", "did you mean \"3 d\"?"},
      {kind_of<Duration>, "3 hours", "did you mean \"3 h\"?"},
      {kind_of<Duration>, "3 minutes", "did you mean \"3 min\"?"},
      {kind_of<Area>, "2.5 mm^2", "did you mean \"2.5 mm²\"?"},
      {kind_of<Resistance>, "2 mOhm", "did you mean \"2 mohm\"?"},
      {kind_of<Length>, "5 metres", "did you mean \"5 m\"?"},
      {kind_of<Length>, "5 mms", "did you mean \"5 mm\"?"},
      {kind_of<Length>, "12 feet", "did you mean \"12 ft\"?"},
      {kind_of<Temperature>, "25 C", "did you mean \"25 °C\"?"},
      {kind_of<Charge>, "100 AH", "did you mean \"100 Ah\"?"},
      {kind_of<Power>, "5 horses", ""},
      {kind_of<Power>, "5 \u0416\u0416\u0416\u0416\u0416", ""},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    CHECK(refusal(row.text, row.wanted).hint == row.hint);
  }
}

TEST_CASE("what follows the unit is pointed at") {
  const auto problem = refused<Length>("3.5 m long");
  CHECK(problem.message ==
        "wants a length such as \"3.5 m\" or \"12 ft\", and nothing after the unit; got \"long\"");
  CHECK(problem.column == 7);
  CHECK(refused<Current>("15 A A").column == 6);
  std::string many = "15 A";
  for (int i = 0; i < 100000; ++i) many += " A";
  CHECK(refused<Current>(many).message.size() < 200);
}

TEST_CASE("a decimal comma is read where it can be nothing else") {
  CHECK(read<Current>("4,2 A") == 4.2);
  CHECK(read<Length>("2,4 m") == 2.4);
  CHECK(read<Length>("-2,45m") == -2.45);
  CHECK(read<Ratio>("0,9") == 0.9);
  CHECK(read<Ratio>("97,5 %") == 0.975);
  CHECK(read<Power>("1,5e3 W") == 1500.0);
  CHECK(read<Length>("0,125 m") == 0.125);     // no thousands begin with a nought
  CHECK(read<Power>("1234,500 W") == 1234.5);  // nor stand there without a sign before
  CHECK(read<Power>("1,2345 W") == 1.2345);
  // not "0.2 Ah", which is a thousandth of it
  CHECK(refused<Charge>("0.2 kAh").hint == "1 kAh is 1000 Ah: write that");
  CHECK(refused<Power>("1,5 apples").message.find("no unit is written \"apples\"") !=
        std::string::npos);
  CHECK(refused<Power>("1,5").hint == "did you mean \"1.5 W\"?");
}

TEST_CASE("a comma that may part thousands is refused with both readings") {
  const auto problem = refused<Power>("1,200 W");
  CHECK(problem.message == "may be read in two ways, as 1.2 or as 1200");
  CHECK(problem.hint == "write \"1.2 W\" or \"1200 W\"");
  CHECK(problem.column == 2);
  CHECK(refused<Power>("-12,000 W").hint == "write \"-12.0 W\" or \"-12000 W\"");
  CHECK(refused<Ratio>("1,200").message == problem.message);
}

TEST_CASE("nothing stands between thousands, and what was meant is said where it is clear") {
  CHECK(refused<Power>("1,234,567 W").hint == "did you mean \"1234567 W\"?");
  CHECK(refused<Power>("1,234.5 W").hint == "did you mean \"1234.5 W\"?");
  CHECK(refused<Power>("1.234,5 W").hint == "did you mean \"1234.5 W\"?");
  CHECK(refused<Power>("1.234.567,5 W").hint == "did you mean \"1234567.5 W\"?");
  CHECK(refused<Power>("1,2,3 W").hint.empty());
  CHECK(refused<Power>("1,234,56 W").hint.empty());
  for (const auto text : {"1,234,567 W", "1.234,5 W", "1,2,3 W"})
    CHECK(refused<Power>(text).message ==
          "has something between its thousands: write nothing there");
}

TEST_CASE("the decimal sign of a number is seen, and which would be thousands to others") {
  CHECK(decimal_mark_of("24 m") == DecimalMark::none);
  CHECK(decimal_mark_of("2.4 m") == DecimalMark::point);
  CHECK(decimal_mark_of("2,4 m") == DecimalMark::comma);
  CHECK(decimal_mark_of("0.125 m") == DecimalMark::point);
  CHECK(decimal_mark_of("1.200 W") == DecimalMark::point_or_thousands);
  CHECK(decimal_mark_of("-1.200 W") == DecimalMark::point_or_thousands);
  CHECK(decimal_mark_of("1.2e3 W") == DecimalMark::point);
  CHECK(decimal_mark_of("1,200 W") == DecimalMark::none);  // unclear by itself, and refused
  CHECK(decimal_mark_of("2, 4") == DecimalMark::none);
  CHECK(problem_of_thousands("1.200 W").hint == "write \"1.2 W\" or \"1200 W\"");
}

TEST_CASE("what is no plain decimal number is refused") {
  for (const auto text :
       {"nan V",  "inf V",   "-inf V", "NaN",     "infinity", "0x10 V", "0X1p3 V", "V",
        "- 5 V",  "+-5 V",   "--5 V",  "e5 V",    ". V",      "five V", "",        " ",
        "\u00A0", "1.2.3 V", "1 2 V",  "1_000 V", "\u00BD V", "1e V"}) {
    CAPTURE(text);
    const auto problem = refused<Voltage>(text);
    CHECK(problem.message.starts_with("wants a voltage such as \"12.8 V\" or \"50 mV\""));
  }
  CHECK(refused<Voltage>("nan V").message.ends_with("got \"nan V\""));
  CHECK(refused<Voltage>("").message.ends_with("got nothing"));
  CHECK(refused<Voltage>("").column == 1);
}

TEST_CASE("what a double cannot hold is refused") {
  for (const auto text : {"1e400 V", "-1e400 V", "1e308 kV", "1e-400 V", "1e999999999999 V"}) {
    CAPTURE(text);
    CHECK(refused<Voltage>(text).message ==
          "has a number that is too large or too small to count with");
  }
  CHECK(read<Voltage>("0e-400 V") == 0.0);
  CHECK(read<Voltage>("1e300 V") == 1e300);
}

TEST_CASE("nothing is colder than absolute zero") {
  CHECK(refused<Temperature>("-300 °C").message == "has a temperature below absolute zero");
  CHECK(refused<Temperature>("-460 °F").message == "has a temperature below absolute zero");
  CHECK(read<Temperature>("-273 °C") == doctest::Approx(0.15).epsilon(1e-9));
  CHECK(read<TemperatureDifference>("-300 K") == -300.0);
}

TEST_CASE("columns count characters, not bytes") {
  CHECK(refused<Voltage>("\u00A0\u22125 A").column == 5);
  CHECK(refused<Voltage>("  x").column == 3);
}

TEST_CASE("long and broken texts are quoted short and end in a plain refusal") {
  const std::string far(100000, 'x');
  CHECK(refused<Voltage>("5 " + far).message.size() < 200);
  CHECK(refused<Voltage>(far).message.size() < 200);
  CHECK(refused<Voltage>("5 " + std::string(1000, '\xff')).hint.empty());
  CHECK(refused<Voltage>("5 \xe2\x84").hint.size() < 40);  // a cut code point
  CHECK(refused<Voltage>(std::string("5 V\0", 4)).hint.size() < 40);
}

TEST_CASE("a plain double is the whole text or nothing") {
  CHECK(parse_double("1.5") == 1.5);
  CHECK(parse_double("-0.1") == -0.1);
  CHECK(parse_double("\u22120.1") == -0.1);
  CHECK(parse_double("+3") == 3.0);
  CHECK(parse_double("2.5e-3") == 0.0025);
  CHECK(parse_double("0.1") == 0.1);
  CHECK(parse_double("1.7976931348623157e308") == 1.7976931348623157e308);
  for (const auto text : {"", " 1", "1 ", "nan", "inf", "0x1", "1e400", "1e-400", "1,5", "1e", "e1",
                          "+", "-", ".", "--1", "1f", "1'000"})
    CHECK_MESSAGE(!parse_double(text).has_value(), text);
}

}  // namespace
}  // namespace housepower::units_parse
