// SPDX-License-Identifier: Apache-2.0
// A command: its options as a field list, and what it does. The list makes the options, their
// messages and the help alike; CLI11 sees texts only and stays in parse.cpp.
#pragma once

#include <exception>
#include <functional>
#include <istream>
#include <map>
#include <memory>
#include <ostream>
#include <span>
#include <string>
#include <string_view>

#include "files.hpp"
#include "housepower/answers/shelf.hpp"
#include "housepower/reading/fields.hpp"
#include "housepower/report/results.hpp"

namespace housepower::cli {

/// Exit codes of the program.
enum Exit { ok = 0, check_fails = 1, usage = 2, input_wrong = 3, io_error = 4, our_mistake = 70 };

/// What a command may touch of the world.
struct World {
  std::ostream& out;
  std::ostream& err;    // errors, and questions to a person
  std::ostream& notes;  // what is told beside the answer; nothing of it where they want quiet
  std::istream& in;     // only where a person is asked
  FileReader read;
  page::Screen screen;
  const Files& files;  // `read` is theirs; `write_out` overwrites none of what it has read
  std::map<std::string, std::string, std::less<>>
      typed{};         // by option: "--at", "--add", "--add (2)"
  bool quiet = false;  // no text for people; what programs read and files that were asked for stay
  /// The built-in tables, where they are kept from one question to the next; else they are read anew.
  std::shared_ptr<answers::Shelf> shelf{};
  /// Where the built page may be; `page` puts a maker's designs into it.
  std::vector<std::string> built_pages{};
  /// Of a page that shows the words of JSON to people: they follow `--units`; numbers never do.
  bool words_follow_units = false;
  /// What was warned of beside the answer, for who shows it at its place.
  Diagnostics warned{};
};

struct Command {
  std::string_view name, says;
  std::string_view positional;  // "FILE", "[NAME]", or empty
  std::array<std::string_view, 2> examples;
  FieldList (*options)();  // beside those that every command takes
  int (*run)(const Node& options, World&);
};

[[nodiscard]] std::span<const Command> commands();

/// The command's own options and those that every command takes.
[[nodiscard]] std::vector<Field> every_option(const Command&);

/// Colour is wanted where standard output is a terminal, or always, or never.
enum class Color { automatic, always, never };
/// The units of an answer for people; left out, as usual (units/unit.hpp).
enum class Units { us, metric };
/// What every command takes.
struct SharedOptions {
  std::optional<Color> color;
  std::optional<Units> units;
  std::optional<bool> quiet;
};
/// What a command's Node of options says of them; it is taken out there. Nothing: not understood.
[[nodiscard]] std::optional<SharedOptions> take_shared(Node& options, World&);
/// Answers for programs keep the units that their keys name, and their words too unless a page shows them.
[[nodiscard]] UnitsShown units_for(const SharedOptions&, const Node& options, const World&);

/// How the screen is, from the columns of the terminal (0: not told; nothing: it is no terminal).
[[nodiscard]] page::Screen screen_of(std::optional<int> terminal_columns,
                                     const std::function<std::string(const char*)>& variable);

// How a field is typed and told: for the parser, the help, the manual and the completions alike.
[[nodiscard]] bool is_positional(const Field&);
[[nodiscard]] std::string option_name(const Field&);  // "--conductor-table"
[[nodiscard]] std::string short_name(const Field&);   // "-o", or empty
[[nodiscard]] std::string description(const Field&);  // with default or example
/// What stands behind an option: "LENGTH", "text|json|html", "MONTH"; empty behind a flag.
[[nodiscard]] std::string value_name(const Field&);
/// What the program does in a sentence, and what its exit codes mean.
[[nodiscard]] std::string_view purpose();
[[nodiscard]] std::string_view exit_codes();

/// Which rendering is asked for.
enum class Format { text, json, html };

/// A page as text or as HTML.
[[nodiscard]] std::string rendered(const page::Page&, Format, const page::Screen&);

/// Asked to be quiet, nothing is read by people: what is not text for them was asked for all the same.
[[nodiscard]] inline bool is_answered(const World& world, Format format) {
  return !world.quiet || format != Format::text;
}
/// The answer in the asked format; nothing else goes to stdout.
template <class MakePage, class MakeJson>
void answer(World& world, Format format, MakePage page, MakeJson json) {
  if (is_answered(world, format))
    world.out << (format == Format::json ? json() : rendered(page(), format, world.screen));
}

/// The key of a diagnostic about an output that is an input: it exits as a wrong option does.
inline constexpr std::string_view would_be_lost = "output";
/// Bad input: to stdout as JSON where that is asked for, else to stderr with the source lines.
int refuse(World&, Format, Diagnostics&);

/// The designs or tables of a folder and of those in it, by name; nothing, and told, where it or one
/// in it cannot be read.
[[nodiscard]] std::optional<std::vector<std::string>>
toml_files_in(const World&, const std::string& folder, Diagnostics&);

/// Warnings beside an answer, on stderr; an answer in JSON has them among its notes.
void warn(World&, Format, Diagnostics&);

/// The embedded tables, then those of a folder given with --tables.
[[nodiscard]] std::optional<tables::Tables>
tables_for(World&, const std::optional<std::string>& folder, const tables::Needed&, Diagnostics&);

/// What is told of one.
[[nodiscard]] std::string about_mistake(const std::exception&);

/// Runs the command that `arguments` name; reports usage errors itself.
[[nodiscard]] int run(int count, char** arguments, World&);

}  // namespace housepower::cli

namespace housepower {
using namespace std::string_view_literals;
template <> inline constexpr auto words<cli::Format> = std::array{"text"sv, "json"sv, "html"sv};
template <> inline constexpr auto words<cli::Color> = std::array{"auto"sv, "always"sv, "never"sv};
template <> inline constexpr auto words<cli::Units> = std::array{"us"sv, "metric"sv};
}  // namespace housepower
