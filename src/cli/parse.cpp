// SPDX-License-Identifier: Apache-2.0
// The only home of CLI11: field lists become options, what was typed becomes a Node.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <deque>

#include "command.hpp"
#include "housepower/reading/filled.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/version.hpp"

namespace housepower::cli {
namespace {

/// Descriptions that end before the edge of a page.
class HelpInLines : public CLI::Formatter {
  static constexpr std::size_t where_it_begins = 30;  // CLI11's column
  std::string make_option_desc(const CLI::Option* option) const override {
    return filled(CLI::Formatter::make_option_desc(option), widest_line - where_it_begins);
  }
};

struct TypedOption {
  const Field* field;
  std::string option;  // "--conductor-table"
  std::vector<std::string> values;
  bool flag = false;
};

void add_options(CLI::App& app, FieldList options, std::deque<TypedOption>& typed) {
  for (const Field& f : options) {
    if (f.role != Field::Role::member) continue;
    const bool positional = is_positional(f);
    const bool many = positional && f.shape->form == Shape::Form::list;
    TypedOption& one = typed.emplace_back(
        TypedOption{&f, positional ? std::string(f.key) : option_name(f), {}, false});
    if (f.shape->form == Shape::Form::flag) {
      app.add_flag(one.option, one.flag, description(f));
      continue;
    }
    const std::string letter = short_name(f);
    auto* option = app.add_option((letter.empty() ? "" : letter + ",") + one.option, one.values,
                                  description(f))
                       ->required(f.required);
    option->type_name(positional ? std::string() : value_name(f));
    option->allow_extra_args(many);
    if (f.shape->form != Shape::Form::list)
      option->multi_option_policy(CLI::MultiOptionPolicy::Throw)->expected(1);
  }
}

/// A value as a design file would hold it: a count is a number there, all else is text.
Node node_typed(const Field& f, const std::string& value, const std::string& option) {
  const Place place{option, 0, 0, 1};
  const auto number = f.shape->form == Shape::Form::count ? parse_double(value) : std::nullopt;
  if (number && *number == static_cast<double>(static_cast<std::int64_t>(*number)))
    return {static_cast<std::int64_t>(*number), place};
  return {value, place};
}

Node options_of(const std::deque<TypedOption>& typed) {
  Node::Table table;
  for (const TypedOption& one : typed) {
    const Place place{one.option, 0, 0, 1};
    const std::string key(one.field->key);
    if (one.flag) table.push_back({key, place, {true, place}});
    if (one.values.empty()) continue;
    Node value;
    if (one.field->shape->form == Shape::Form::list) {
      Node::List list;
      for (const auto& v : one.values) list.push_back({v, place});
      value = {std::move(list), place};
    } else {
      value = node_typed(*one.field, one.values.front(), one.option);
    }
    table.push_back({key, place, std::move(value)});
  }
  return {std::move(table), {}};
}

/// For the carets of messages. Overrides have one name for all of them, so they show none.
void keep_typed(const std::deque<TypedOption>& typed, World& world) {
  for (const TypedOption& one : typed)
    for (std::size_t i = 0; i < one.values.size() && one.option != "--set"; ++i)
      world.typed[one.option + (i == 0 ? "" : " (" + std::to_string(i + 1) + ")")] = one.values[i];
}

int refuse_usage(World& world, const std::string& what, const std::string& hint) {
  world.err << "error: " << what << "\n";
  if (!hint.empty()) world.err << "  = help: " << hint << "\n";
  return usage;
}

constexpr std::string_view where_help_is =
    "housepower --help lists the commands, housepower COMMAND --help its options";

/// The one that was meant: nearest in its letters, or the only one that begins so.
std::string meant_by(std::string_view word, const std::vector<std::string_view>& known) {
  if (auto near = did_you_mean(word, known); !near.empty()) return near;
  const auto begins = [&](std::string_view one) { return one.starts_with(word); };
  if (std::count_if(known.begin(), known.end(), begins) != 1) return {};
  return "did you mean " + quoted(*std::find_if(known.begin(), known.end(), begins)) + "?";
}

std::vector<std::string> options_of(const Command& command) {
  std::vector<std::string> names{"--help"};
  for (const Field& f : every_option(command))
    if (f.role == Field::Role::member && !is_positional(f)) names.push_back(option_name(f));
  return names;
}

/// "--month" of `check`: which commands have it.
std::string commands_with(std::string_view option) {
  std::vector<std::string_view> names;
  for (const Command& c : commands()) {
    const auto options = options_of(c);
    if (std::find(options.begin(), options.end(), option) != options.end()) names.push_back(c.name);
  }
  return names.empty() ? "" : std::string(option) + " is an option of " + listed(names);
}

/// Tells every long option that the command does not have; false where there is any.
bool knows_all_options(const Command& command, int count, char** arguments, World& world) {
  const auto names = options_of(command);
  bool good = true;
  for (int i = 2; i < count; ++i) {
    const std::string_view argument = arguments[i];
    const std::string_view given = argument.substr(0, argument.find('='));
    if (given.size() < 3 || !given.starts_with("--") ||
        std::find(names.begin(), names.end(), given) != names.end())
      continue;
    std::string hint = meant_by(given, {names.begin(), names.end()});
    if (hint.empty()) hint = commands_with(given);
    if (hint.empty())
      hint = "housepower " + std::string(command.name) + " --help lists its options";
    refuse_usage(world, std::string(command.name) + " has no option " + quoted(given), hint);
    good = false;
  }
  return good;
}

std::vector<std::string_view> command_names() {
  std::vector<std::string_view> names;
  for (const Command& c : commands()) names.push_back(c.name);
  return names;
}

const Command* command_named(std::string_view name) {
  const auto all = commands();
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Command& c) { return c.name == name; });
  return found == all.end() ? nullptr : &*found;
}

int refuse_command(std::string_view verb, World& world) {
  std::string hint = meant_by(verb, command_names());
  if (hint.empty() && world.files.found(std::string(verb)) != Found::nothing)
    hint = "a file goes behind a command: housepower check " + std::string(verb);
  return refuse_usage(world, "there is no command " + quoted(verb),
                      hint.empty() ? std::string(where_help_is) : hint);
}

void print_help(World& world) {
  world.out << "housepower " << purpose()
            << "\n\n  housepower check van.toml\n"
               "  housepower cable --current \"20 A\" --length \"4 m\"\n\nCommands:\n";
  for (const Command& c : commands()) {
    std::string head = "  " + std::string(c.name);
    head.resize(14, ' ');
    world.out << head << c.says << "\n";
  }
  world.out << "\nhousepower help COMMAND lists its options. Exit codes: " << exit_codes() << "\n"
            << filled(page::safety_note(), widest_line) << "\n";
}

std::string description_of(const Command& c) {
  return std::string(c.says) + "\n\nFor example:\n  " + std::string(c.examples[0]) + "\n  " +
         std::string(c.examples[1]) + "\n";
}

/// What is behind --set has a path, "=" and a value, or it is no assignment at all.
bool are_assignments(const std::deque<TypedOption>& typed, World& world) {
  for (const TypedOption& one : typed)
    for (const std::string& value : one.values) {
      const auto equals = value.find('=');
      if (one.option != "--set" || (equals != std::string::npos && equals > 0)) continue;
      refuse_usage(world, "--set wants a path, \"=\" and a value, got " + housepower::quoted(value),
                   "for example --set 'run/fridge/length=5 m'");
      return false;
    }
  return true;
}

int run_command(const Command& command, int count, char** arguments, World& world) {
  CLI::App app{description_of(command), "housepower " + std::string(command.name)};
  app.formatter(std::make_shared<HelpInLines>());
  std::deque<TypedOption> typed;
  const auto options = every_option(command);
  add_options(app, options, typed);
  if (!knows_all_options(command, count, arguments, world)) return usage;
  try {
    app.parse(count - 1, arguments + 1);
  } catch (const CLI::CallForHelp&) {
    world.out << app.help();
    return ok;
  } catch (const CLI::RequiredError& e) {
    const bool lacks_name = std::any_of(typed.begin(), typed.end(), [](const TypedOption& one) {
      return is_positional(*one.field) && one.field->required && one.values.empty();
    });
    return refuse_usage(world,
                        lacks_name ? std::string(command.name) + " wants " +
                                         std::string(command.positional)
                                   : std::string(e.what()),
                        "for example: " + std::string(command.examples[0]));
  } catch (const CLI::ParseError& e) {
    return refuse_usage(world, e.what(), "for example: " + std::string(command.examples[0]));
  }
  if (!are_assignments(typed, world)) return usage;
  keep_typed(typed, world);
  Node given = options_of(typed);
  const auto shared = take_shared(given, world);
  if (!shared) return usage;
  if (*shared->color != Color::automatic) world.screen.colour = *shared->color == Color::always;
  const ShowUnits shows(units_for(*shared, given, world));
  if (!shared->quiet.value_or(false)) return command.run(given, world);
  std::ostream nobody(nullptr);
  World silent{
      world.out,   world.err,   nobody, world.in,    world.read,        world.screen,
      world.files, world.typed, true,   world.shelf, world.built_pages, world.words_follow_units};
  return command.run(given, silent);
}

/// An option in the place of a command: which commands have it.
int refuse_lone_option(std::string_view option, World& world) {
  const std::string_view name = option.substr(0, option.find('='));
  return refuse_usage(world, "a command is wanted before " + quoted(name),
                      "housepower COMMAND … " + std::string(name) + "; " +
                          std::string(where_help_is));
}

int help_on(int count, char** arguments, World& world) {
  if (count < 3 || arguments[2] == "help"sv) return print_help(world), ok;
  if (arguments[2][0] == '-') return refuse_lone_option(arguments[2], world);
  const Command* command = command_named(arguments[2]);
  if (!command) return refuse_command(arguments[2], world);
  std::string help = "--help";
  std::array<char*, 3> asked{arguments[0], arguments[2], help.data()};
  return run_command(*command, int(asked.size()), asked.data(), world);
}

int print_version(World& world) {
  world.out << "housepower " << version() << "\n";
  return ok;
}

}  // namespace

std::string about_mistake(const std::exception& mistake) {
  return "housepower " + std::string(version()) + ": an internal error: " + mistake.what() +
         "\nPlease report it with the command and the file that led here.\n";
}

int run(int count, char** arguments, World& world) {
  const std::string_view verb = count > 1 ? arguments[1] : "";
  if (verb.empty()) return print_help(world), usage;
  if (verb == "--help" || verb == "-h") return print_help(world), ok;
  if (verb == "--version" || verb == "-V") return print_version(world);
  if (verb == "help") return help_on(count, arguments, world);
  if (verb.front() == '-' && verb != "-") return refuse_lone_option(verb, world);
  const Command* command = command_named(verb);
  for (int i = 2; command && i < count; ++i)
    if (arguments[i] == "-V"sv || arguments[i] == "--version"sv) return print_version(world);
  return command ? run_command(*command, count, arguments, world) : refuse_command(verb, world);
}

}  // namespace housepower::cli
