// SPDX-License-Identifier: Apache-2.0
// What the reader says of a wrong value: each kind of message once, with place, example, next step.
#include <doctest/doctest.h>

#include "small_document.hpp"

namespace reading_messages {

using namespace housepower;

namespace {

// The one thing said of a text; a test fails where none or more is said.
Diagnostic said_of(const std::string& text) {
  const auto read = small::read_text_of_file(text);
  for (const auto& d : read.diagnostics.all) CAPTURE(d.message);
  REQUIRE(read.diagnostics.all.size() == 1);
  CHECK(!read.file);
  return read.diagnostics.all.front();
}
bool has(std::string_view text, std::string_view part) { return text.find(part) != text.npos; }

struct Row {
  std::string_view line, key;
  std::string_view in_message, in_hint;
};

void check_line(const Row& row) {
  const std::string text = small::wire_with(row.line);
  const auto said = said_of(text);
  CAPTURE(said.message);
  CAPTURE(said.hint);
  CHECK(said.key == row.key);
  CHECK(has(said.message, row.in_message));
  CHECK(has(said.hint, row.in_hint));
  CHECK(said.place.file == "small.toml");
  CHECK(said.place.line == 6);
}

}  // namespace

TEST_CASE("a sound file reads, with every shape of value") {
  const auto read = small::read_text_of_file(
      "schema = 1\nnote = \"mine\"\n[own]\nanything = [1, \"two\"]\n[box]\nguard = { type = \"a\", "
      "rating = \"5 A\" }\n" +
      small::wire_with(
          "duty = 0.9\nlie = \"free\"\nearthed = true\nambient = \"45 °C\"\n"
          "times = [\"2 h\", \"3 s\"]\n[[wire.guard]]\ntype = \"b\"\nrating = \"15 A\"")
          .substr(11));
  for (const auto& d : read.diagnostics.all) CAPTURE(d.message);
  REQUIRE(read.file);
  CHECK(read.diagnostics.all.empty());
  REQUIRE(read.file->wire.size() == 1);
  const auto& wire = read.file->wire[0];
  CHECK(wire.length.value() == 2.0);
  CHECK(wire.duty->value() == 0.9);
  CHECK(*wire.lie == small::Lie::free);
  CHECK(*wire.earthed);
  CHECK(wire.ambient->value() == doctest::Approx(318.15));
  CHECK(wire.times.size() == 2);
  CHECK(wire.times[0].value() == 7200.0);
  CHECK(wire.guard[0].rating.value() == 15.0);
  CHECK(wire.guard[0].place.line == 16);
  CHECK(read.file->box->guard->rating.value() == 5.0);
}

TEST_CASE("a share is a number or a percentage") {
  for (const std::string_view line : {"duty = 0.4", "duty = \"40 %\"", "duty = \"0.4\""}) {
    CAPTURE(line);
    const auto read = small::read_text_of_file(small::wire_with(line));
    REQUIRE(read.file);
    CHECK(read.file->wire[0].duty->value() == doctest::Approx(0.4));
  }
  const auto read = small::read_text_of_file(small::wire_with("duty = 1"));
  REQUIRE(read.file);
  CHECK(read.file->wire[0].duty->value() == 1.0);
}

TEST_CASE("a wrong value is told with what was wanted and an example") {
  const std::string_view ambient = "wire/fridge/ambient", duty = "wire/fridge/duty";
  for (const Row& row : {
           Row{"ambient = 40", ambient,
               "wants a temperature in quotes such as \"45 °C\", got the number 40",
               "ambient = \"45 °C\""},
           Row{"ambient = \"40\"", ambient, "wants a temperature", ""},
           Row{"ambient = \"4 A\"", ambient, "got a current", ""},
           Row{"ambient = \"\"", ambient, "got empty text", "45 °C"},
           Row{"ambient = \" \"", ambient, "got empty text", "45 °C"},
           Row{"ambient = true", ambient, "got true", "45 °C"},
           Row{"ambient = [1]", ambient, "got a list", "45 °C"},
           Row{"ambient = { a = 1 }", ambient, "got a table", "45 °C"},
           Row{"ambient = \"nan °C\"", ambient, "wants a temperature", ""},
           Row{"ambient = \"-50 °C\"", ambient, "must be at least -40 °C, is -50 °C", "45 °C"},
           Row{"duty = nan", duty, "got nan or inf", "40 %"},
           Row{"duty = inf", duty, "got nan or inf", "40 %"},
           Row{"duty = 1.5", duty, "is 1.5", "40 %"},
           Row{"duty = \"120 %\"", duty, "is 120 %", "40 %"},
           Row{"duty = true", duty, "got true", "40 %"},
           Row{"count = true", "wire/fridge/count",
               "wants a whole number, without quotes, got true", "count = 2"},
           Row{"count = 2.0", "wire/fridge/count", "got the number 2", "count = 2"},
           Row{"count = \"2\"", "wire/fridge/count", "got the text \"2\"", "count = 2"},
           Row{"count = 0", "wire/fridge/count", "must be at least 1, at most 9, is 0",
               "count = 2"},
           Row{"count = 99999999999", "wire/fridge/count", "got the number 99999999999",
               "count = 2"},
           Row{"earthed = \"true\"", "wire/fridge/earthed", "wants true or false, without quotes",
               "earthed = true"},
           Row{"earthed = 1", "wire/fridge/earthed", "got the number 1", "earthed = true"},
           Row{"lie = \"cliped\"", "wire/fridge/lie",
               "wants one of \"free\", \"clipped\", got the text \"cliped\"",
               "did you mean \"clipped\"?"},
           Row{"lie = 3", "wire/fridge/lie", "got the number 3", "lie = \"free\""},
           Row{"times = \"2 h\"", "wire/fridge/times",
               "wants a list in brackets, got the text \"2 h\"", "times = [\"2 h\"]"},
           Row{"times = [\"2 h\", 3]", "wire/fridge/times",
               "in quotes such as \"2 h\", got the number 3", ""},
           Row{"guard = 3", "wire/fridge/guard", "wants a list of tables, got the number 3",
               "[[guard]]"},
           Row{"guard = [3]", "wire/fridge/guard/0", "wants a table, got a value", "type, rating"},
           Row{"guard = [{ type = \"\", rating = \"5 A\" }]", "wire/fridge/guard/0/type",
               "wants text in quotes, got empty text", "type = \"blade\""},
           Row{"guard = [{ type = 5, rating = \"5 A\" }]", "wire/fridge/guard/0/type",
               "got the number 5", ""},
           Row{"note = 5", "wire/fridge/note", "wants text in quotes", ""},
           Row{"lenght = \"5 m\"", "wire/fridge/lenght", "is not a key of this table",
               "did you mean \"length\"?"},
           Row{"rating = \"5 A\"", "wire/fridge/rating", "is not a key of this table",
               "is a key of \"guard\""},
           Row{"quite_other = 1", "wire/fridge/quite_other", "is not a key of this table",
               "the keys here are name, length"},
           Row{"own = 5", "wire/fridge/own", "is not a key of this table", ""},
           Row{"remove = true", "wire/fridge/remove", "removes nothing", ""},
           Row{"remove = [\"lie\"]", "wire/fridge/remove",
               "removes nothing: below is no key \"lie\"", ""},
           Row{"remove = [7]", "wire/fridge/remove", "wants keys in quotes", ""},
           Row{"current = \"4 A\"", "wire/fridge", "wants exactly one of power, current, has 2",
               "keep one"},
           Row{"count = 2\ntimes = [\"2 h\"]", "wire/fridge", "", ""},
       }) {
    CAPTURE(row.line);
    if (row.line.find('\n') == row.line.npos) check_line(row);
  }
}

TEST_CASE("a limit is told with its unit") {
  const auto said =
      said_of("schema = 1\n[[wire]]\nname = \"x\"\npower = \"4 W\"\nlength = \"-2 m\"\n");
  CHECK(said.message == "must be more than 0 m, is -2 m");
  CHECK(said.hint == "for example length = \"2.4 m\"");
  CHECK(said.place == Place{"small.toml", 5, 10, 6});
}

TEST_CASE("keys that are missing are told at their table") {
  const auto said = said_of("schema = 1\n[[wire]]\nname = \"x\"\npower = \"4 W\"\n");
  CHECK(said.key == "wire/x/length");
  CHECK(said.message == "is missing");
  CHECK(said.hint == "add length = \"2.4 m\" (One way.)");
  CHECK(said.place.line == 2);

  const auto none = said_of("schema = 1\n[[wire]]\nname = \"x\"\nlength = \"4 m\"\n");
  CHECK(none.message == "wants exactly one of power, current, has 0");
  CHECK(none.hint == "for example power = \"45 W\"");

  const auto whole = said_of("");
  CHECK(whole.key == "schema");
  CHECK(whole.place == Place{"small.toml", 0, 0, 1});
}

TEST_CASE("two keys of which one at most may stand are told at the second") {
  const auto said = said_of(small::wire_with("count = 2\ntimes = [\"2 h\"]"));
  CHECK(said.message == "wants at most one of count, times, has 2");
  CHECK(said.place.line == 7);
}

TEST_CASE("a table in the wrong brackets is told how to write it") {
  CHECK(said_of("schema = 1\n[[box]]\n").hint == "write [box], in single brackets");
  const auto said = said_of("schema = 1\n[wire]\nname = \"x\"\n");
  CHECK(said.key == "wire");
  CHECK(said.message == "wants a list of tables, got a table");
}

TEST_CASE("every problem is told, not only the first") {
  const auto read = small::read_text_of_file(
      "[[wire]]\nname = \"\"\nlength = \"4 A\"\npower = 3\nbogus = 1\n[[wire]]\n");
  // schema; name, length, power, bogus of the first; name, length, power|current of the second
  CHECK(read.diagnostics.all.size() == 8);
}

TEST_CASE("a date without quotes is one clear error") {
  const auto said = said_of(small::wire_with("ambient = 2024-05-01"));
  CHECK(has(said.message, "a date or a time without quotes"));
  CHECK(said.place == Place{"small.toml", 6, 11, 10});
  CHECK(has(said_of(small::wire_with("ambient = 07:32:00")).message, "a date or a time"));
}

TEST_CASE("the word that was meant is within two letters and a third of the length") {
  const std::vector<std::string_view> known{"length", "name", "to"};
  CHECK(nearest("lenght", known) == "length");  // two letters of six
  CHECK(nearest("lengthh", known) == "length");
  CHECK(nearest("nam", known) == "name");
  CHECK(nearest("lxxxth", known).empty());  // three letters
  CHECK(nearest("nxxe", known).empty());    // two of four are more than a third
  CHECK(nearest("of", known).empty());
  CHECK(nearest(std::string(1000000, 'x'), known).empty());
  CHECK(did_you_mean("lenght", known) == "did you mean \"length\"?");
  CHECK(did_you_mean("zzz", known).empty());
}

TEST_CASE("a text longer than an answer holds is refused at its place, its length told") {
  const auto wire = [](std::size_t letters) {
    std::string text = small::wire_with("");
    const auto at = text.find("fridge");
    REQUIRE(at != text.npos);
    std::string name;
    for (std::size_t i = 0; i < letters; ++i) name += "é";
    return text.replace(at, 6, name);
  };
  CHECK(small::read_text_of_file(wire(200)).file);
  for (const std::size_t letters : {std::size_t(201), std::size_t(4000), std::size_t(1000000)}) {
    const auto said = said_of(wire(letters));
    CHECK(has(said.message, "is " + std::to_string(letters) + " characters long"));
    CHECK(has(said.hint, "at most 200"));
    CHECK(said.key == "wire/0/name");  // not the whole name again
    CHECK(said.place.line > 1);
    CHECK(said.place.column > 1);
  }
  // Why something is so may be a story.
  CHECK(
      small::read_text_of_file(small::wire_with("note = \"" + std::string(5000, 'n') + "\"")).file);
}

TEST_CASE("a quantity that no meter could show is refused at its place, whatever its limits") {
  for (const Row& row : {Row{"length = \"1e-308 m\"", "wire/fridge/length", "too small", "2.4 m"},
                         Row{"length = \"1e-13 m\"", "wire/fridge/length", "too small", "2.4 m"},
                         Row{"length = \"1e16 m\"", "wire/fridge/length", "too large", "2.4 m"},
                         Row{"length = \"1e300 m\"", "wire/fridge/length", "too large", "2.4 m"}}) {
    std::string text = small::wire_with("");
    const auto at = text.find("length = ");
    REQUIRE(at != text.npos);
    const auto line = text.substr(at, text.find('\n', at) - at);
    const auto said = said_of(text.replace(at, line.size(), row.line));
    CAPTURE(said.message);
    CHECK(said.key == row.key);
    CHECK(has(said.message, row.in_message));
    CHECK(has(said.hint, row.in_hint));
  }
  check_line({"duty = 1e-300", "wire/fridge/duty", "1e-300 is too small to be meant", "40 %"});
  CHECK(small::read_text_of_file(small::wire_with("duty = 0")).file);  // nothing at all is meant
}

}  // namespace reading_messages
