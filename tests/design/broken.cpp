// SPDX-License-Identifier: Apache-2.0
// A design with one value that cannot be read, each in turn: that is told, and nothing of what is right.
#include <sstream>

#include "van.hpp"

namespace design_broken {

using namespace van;

namespace {

struct Line {
  int number = 0;
  std::string broken;  // the whole text with the line's value replaced
};

/// Every line that holds a key and a value, with that value replaced.
std::vector<Line> broken_lines(const std::string& whole, const std::string& value) {
  std::vector<std::string> lines;
  std::istringstream in(whole);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  std::vector<Line> all;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const auto equals = lines[i].find(" = ");
    if (equals == std::string::npos || lines[i].front() == '[') continue;
    Line& one = all.emplace_back();
    one.number = int(i) + 1;
    for (std::size_t k = 0; k < lines.size(); ++k)
      one.broken += (k == i ? lines[k].substr(0, equals + 3) + value : lines[k]) + "\n";
  }
  return all;
}

}  // namespace

TEST_CASE("a value that cannot be read is told at its line, and nothing else is") {
  // A flag, a date that TOML knows and no key takes, a text without its end, a list, a table
  for (const std::string value : {"true", "1970-01-01", "\"open", "[[]]", "{ x = 1 }"}) {
    const auto all = broken_lines(text, value);
    REQUIRE(all.size() > 50);
    for (const Line& line : all) {
      CAPTURE(value);
      CAPTURE(line.number);
      const Tried tried = opened(line.broken);
      CHECK_FALSE(tried.opened);
      CHECK_FALSE(tried.diagnostics.all.empty());
      for (const auto& d : tried.diagnostics.all) {
        CAPTURE(d.key);
        CAPTURE(d.message);
        CHECK(d.place.line == line.number);
      }
    }
  }
}

TEST_CASE("a table that is none is told, and so is a missing one, without a word on what follows") {
  for (const std::string table : {"vehicle", "rules", "bank"}) {
    const auto from = text.find("[" + table + "]"), to = text.find("\n[", from) + 1;
    const Tried tried = opened(table + " = 5\n" + text.substr(0, from) + text.substr(to));
    CAPTURE(table);
    CHECK(tried.diagnostics.all.size() == 1);
    CHECK(tried.about(table));
  }
  const auto from = text.find("[vehicle]"), to = text.find("[rules]");
  const Tried missing = opened(text.substr(0, from) + text.substr(to));
  CHECK(missing.diagnostics.all.size() == 1);
  CHECK(missing.about("vehicle"));
  for (const std::string list : {"run", "appliance", "node", "charger", "array", "device"}) {
    std::string without = text;
    const std::string head = "[[" + list + "]]";
    for (auto at = without.find(head); at != without.npos; at = without.find(head))
      without.erase(at, without.find("\n[", at) + 1 - at);
    for (const std::string value : {"5", "[5]", "[5, {}]"}) {
      CAPTURE(list);
      CAPTURE(value);
      const Tried tried = opened(list + " = " + value + "\n" + without);
      CHECK_FALSE(tried.opened);
      for (const auto& d : tried.diagnostics.all) {
        CAPTURE(d.key + ": " + d.message);
        CHECK(d.key.rfind(list, 0) == 0);
      }
    }
  }
}

}  // namespace design_broken
