// SPDX-License-Identifier: Apache-2.0
// What `stay` says beside its answer, of changes and of months, against what it answers when asked
// for each outright: never more.
#include "support/json_answer.hpp"

namespace cli_stay_law {

using namespace housepower::test;

namespace {

/// Ten years: the least of which an interval is told, so that the law holds where it is hardest.
const std::string asked_of = "stay examples/quondelay.toml --years 10 --month ";

double days_in(std::string text) {
  if (text.rfind("still ", 0) == 0) text.erase(0, 6);
  if (text.rfind("less than half a day", 0) == 0) return 0.0;
  if (text.rfind("half a day", 0) == 0) return 0.5;
  return std::stod(text);
}

struct Told {
  double parked = 0.0, with_travel = 0.0;
};
/// "5 days parked, 6 days with your travel", "5 days".
Told told_in(const std::string& text) {
  const auto comma = text.find(" parked, ");
  if (comma == text.npos) return {days_in(text), days_in(text)};
  return {days_in(text), days_in(text.substr(comma + 9))};
}
std::string behind(const std::string& text, const std::string& part) {
  const auto at = text.find(part);
  return at == text.npos ? "" : text.substr(at + part.size());
}

void no_kinder(const Told& told, const std::string& outright) {
  CAPTURE(outright);
  const Json json = json_of(outright);
  CHECK(told.parked <= json["parked_headline_d"].get<double>());
  CHECK(told.with_travel <= json["headline_d"].get<double>());
}

}  // namespace

TEST_CASE("no change and no month is told longer than it is answered when asked outright") {
  struct Change {
    const char *begins, *typed;
  };
  const Change changes[] = {{"Without \"Air conditioner\": ", " --without 'Air conditioner'"},
                            {"Frugal use: ", " --use frugal"},
                            {"8 people instead of 6: ", " --people 8"},
                            {"Parked under trees: ", " --set 'place/pitch=under trees'"}};
  int seen = 0;
  for (const char* month : {"march", "june", "september"}) {
    CAPTURE(month);
    const Json json = json_of(asked_of + month);
    for (const Json& one : json["asked"]) {
      const auto sentence = one.get<std::string>();
      CAPTURE(sentence);
      for (const Change& change : changes)
        if (const auto told = behind(sentence, change.begins); !told.empty())
          no_kinder(told_in(told), asked_of + month + change.typed), ++seen;
      if (const auto told = behind(sentence, ", the hardest month: "); !told.empty()) {
        const auto named = sentence.substr(3, sentence.find(',') - 3);
        no_kinder(told_in(told.substr(0, told.find("; in "))), asked_of + named), ++seen;
      }
      if (const auto told = behind(sentence, ", the easiest: "); !told.empty()) {
        const auto rest = behind(sentence, "; in ");
        no_kinder(told_in(told), asked_of + rest.substr(0, rest.find(','))), ++seen;
      }
    }
  }
  CHECK(seen >= 12);
}

}  // namespace cli_stay_law
