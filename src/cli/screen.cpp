// SPDX-License-Identifier: Apache-2.0
// How wide the answer may be, whether it has colour, and whether the screen shows block signs.
#include <algorithm>

#include "commands.hpp"

namespace housepower {
template <>
inline constexpr auto fields<cli::SharedOptions> = std::array{
    field<&cli::SharedOptions::units>(
        "units",
        "Units of the answer, whatever the design is written in; JSON and CSV keep theirs.", "us"),
    field<&cli::SharedOptions::color>(
        "color", "Colour beside the words: auto (on a terminal), always or never.")
        .or_else("auto"),
    field<&cli::SharedOptions::quiet>("quiet",
                                      "Prints no text but errors; the exit code gives the result. "
                                      "JSON, CSV and what is a file stay.")
        .optional()};
}  // namespace housepower

namespace housepower::cli {
namespace {

/// Between these a screen is believed; a page for nobody's screen is 100 wide.
constexpr int least_columns = 20, most_columns = 1000, columns_of_nobody = 100;

int columns_in(const std::string& text) {
  const auto number = parse_double(text);
  return number && *number >= least_columns && *number <= most_columns ? static_cast<int>(*number)
                                                                       : 0;
}

bool says_utf8(std::string locale) {
  std::transform(locale.begin(), locale.end(), locale.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  return locale.find("utf-8") != locale.npos || locale.find("utf8") != locale.npos;
}

}  // namespace

std::vector<Field> every_option(const Command& command) {
  const FieldList own = command.options();
  std::vector<Field> all(own.begin(), own.end());
  all.insert(all.end(), fields<SharedOptions>.begin(), fields<SharedOptions>.end());
  return all;
}

std::optional<SharedOptions> take_shared(Node& options, World& world) {
  const auto is_shared = [](const Node::Entry& entry) {
    return std::any_of(fields<SharedOptions>.begin(), fields<SharedOptions>.end(),
                       [&](const Field& f) { return f.key == entry.key; });
  };
  auto& table = std::get<Node::Table>(options.value);
  Node shared{Node::Table{}, options.place};
  for (const auto& entry : table)
    if (is_shared(entry)) std::get<Node::Table>(shared.value).push_back(entry);
  std::erase_if(table, is_shared);
  return options_from<SharedOptions>(shared, world);
}

UnitsShown units_for(const SharedOptions& shared, const Node& options, const World& world) {
  const auto format = options.text_at("format").value_or("");
  const bool for_people = format != word(Format::json) || world.words_follow_units;
  if (!shared.units || !for_people || format == "csv") return UnitsShown::as_usual;
  return *shared.units == Units::us ? UnitsShown::us : UnitsShown::metric;
}

page::Screen screen_of(std::optional<int> terminal,
                       const std::function<std::string(const char*)>& variable) {
  page::Screen screen{columns_of_nobody, false, true};
  if (const int said = columns_in(variable("COLUMNS"))) screen.width = said;
  else if (terminal && *terminal > 0)
    screen.width = std::clamp(*terminal, least_columns, most_columns);
  if (!terminal) return screen;  // a file is UTF-8, like all that is written
  screen.colour = variable("NO_COLOR").empty() && variable("TERM") != "dumb";
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"})
    if (const auto locale = variable(name); !locale.empty()) {
      screen.blocks = says_utf8(locale);
      return screen;
    }
  screen.blocks = false;
  return screen;
}

}  // namespace housepower::cli
