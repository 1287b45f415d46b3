// SPDX-License-Identifier: Apache-2.0
// cable: one run by its options.
#include <cctype>

#include "commands.hpp"
#include "housepower/report/cable.hpp"
#include "verbs.hpp"

namespace housepower::cli {

/// What is typed beside the values that the answer is asked for.
struct CableOptions {
  std::optional<std::string> terminals, fuse;
  std::optional<bool> working;
  std::optional<Format> format;
  std::optional<std::string> tables;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::CableOptions> = std::array{
    field<&cli::CableOptions::terminals>("terminals",
                                         "What devices and terminals near it are rated for, or "
                                         "none; left out, what belongs to the table.",
                                         "75 °C"),
    field<&cli::CableOptions::fuse>("fuse", "Type and rating of the device at the source.",
                                    "iso-8820-3-c 25 A"),
    field<&cli::CableOptions::working>(
        "working", "Prints each finding, passes too, with the calculation under it.")
        .optional(),
    field<&cli::CableOptions::format>("format", "Format of the answer: text, json or html.")
        .or_else("text"),
    field<&cli::CableOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

std::optional<answers::CableTerminals> terminals_of(const std::optional<std::string>& typed,
                                                    Diagnostics& diagnostics) {
  if (!typed) return std::nullopt;
  if (*typed == "none") return answers::CableTerminals{};
  const auto limit = parse_quantity(*typed, kind_of<Temperature>);
  if (const auto* number = std::get_if<Number>(&limit))
    return answers::CableTerminals{Temperature::from_value(number->si)};
  const auto& problem = std::get<ParseProblem>(limit);
  diagnostics.error({"--terminals"}, "terminals", "wants a temperature or none: " + problem.message,
                    problem.hint);
  return std::nullopt;
}

void refuse_device(const std::string& typed, const ParseProblem& problem,
                   Diagnostics& diagnostics) {
  if (!typed.empty() && std::isdigit(static_cast<unsigned char>(typed.front())) != 0)
    diagnostics.error({"--fuse"}, "fuse",
                      "name the type before the rating, such as \"iso-8820-3-c 25 A\"",
                      "`housepower tables` lists the types");
  else
    diagnostics.error({"--fuse"}, "fuse",
                      "wants a type and a rating such as \"iso-8820-3-c 25 A\": " + problem.message,
                      problem.hint);
}

/// "iso-8820-3-c 25 A".
std::optional<answers::CableDevice> device_of(const std::optional<std::string>& typed,
                                              Diagnostics& diagnostics) {
  if (!typed) return std::nullopt;
  // The rating is what stands last, with its unit by itself or not; a type may be of several words.
  std::optional<ParseProblem> problem;
  for (auto space = typed->find(' '); space != std::string::npos;
       space = typed->find(' ', space + 1)) {
    const auto rating = parse_quantity(typed->substr(space + 1), kind_of<Current>);
    if (const auto* number = std::get_if<Number>(&rating))
      return answers::CableDevice{typed->substr(0, space), Current::from_value(number->si)};
    problem = std::get<ParseProblem>(rating);
  }
  if (!problem) problem = std::get<ParseProblem>(parse_quantity("", kind_of<Current>));
  refuse_device(*typed, *problem, diagnostics);
  return std::nullopt;
}

}  // namespace

FieldList cable_options() {
  static const std::vector<Field> all = joined(fields<answers::CableAsked>, fields<CableOptions>);
  return all;
}

int run_cable(const Node& typed, World& world) {
  auto asked = stated_options<answers::CableAsked>(only(typed, fields<answers::CableAsked>), world);
  const auto options = options_from<CableOptions>(only(typed, fields<CableOptions>), world);
  if (!asked || !options) return usage;
  Diagnostics diagnostics;
  asked->terminals = terminals_of(options->terminals, diagnostics);
  asked->device = device_of(options->fuse, diagnostics);
  const auto tables = tables_for(world, options->tables, {.towns = false}, diagnostics);
  const auto cable = tables ? answers::cable(*asked, *tables, diagnostics) : std::nullopt;
  if (!cable || diagnostics.any_error()) return refuse(world, *options->format, diagnostics);
  answer(
      world, *options->format,
      [&] { return report::cable_page(*cable, options->working.value_or(false)); },
      [&] { return report::cable_json(*cable); });
  return cable->verdicts().worse() == checks::Verdict::fail ? check_fails : ok;
}

}  // namespace housepower::cli
