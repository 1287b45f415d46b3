// SPDX-License-Identifier: Apache-2.0
// Any bytes as the readings of a van: they read or are refused at their place, the same each time.
#include <cmath>
#include <cstdint>

#include "holds.hpp"
#include "housepower/answers/first_van.hpp"
#include "housepower/answers/opening.hpp"
#include "housepower/answers/shelf.hpp"
#include "housepower/answers/test_sheet.hpp"
#include "housepower/wiring/readings_file.hpp"

using namespace housepower;
using namespace housepower::fuzz;

namespace {

struct Van {
  std::optional<answers::Opening> opening;
  std::vector<wiring::TestLoad> loads;
  Van() {
    static answers::Shelf shelf;
    Diagnostics none;
    answers::Question question;
    question.file = "van.toml";
    opening = answers::open_checked(
        question, shelf, [](auto) { return FileContent(std::string(answers::first_van())); }, none);
    require(opening.has_value(), "the first van opens");
    auto load = answers::test_load(*opening->design, {}, none);
    require(load.has_value(), "it has a load to test with");
    loads.push_back(*std::move(load));
  }
};

std::string told(const std::string& text) {
  static const Van van;
  Diagnostics problems;
  const auto read = wiring::read_readings(text, "r.csv", *van.opening->design,
                                          van.opening->checked.wiring, van.loads, problems);
  require(read.has_value() != problems.any_error(), "readings or an error");
  require_sound(problems);
  const auto lines =
      std::count(text.begin(), text.end(), '\n') + std::count(text.begin(), text.end(), '\r') + 1;
  for (const auto& d : problems.all) require(d.place.line <= lines, "a line of the file");
  if (read) require(read->cases.size() == read->told.size(), "each case is told of");
  return render(problems, [&](auto) { return std::optional(text); });
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const InTime in_time(soon);
  const std::string once = told(text);
  require(once == told(text), "the same each time");
  return 0;
}
