// SPDX-License-Identifier: Apache-2.0
// The only home of CLI11: field lists become options, what was typed becomes a Node.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <deque>

#include "command.hpp"
#include "housepower/version.hpp"

namespace housepower::cli {
namespace {

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
    option->type_name(positional                               ? std::string()
                      : f.shape->form == Shape::Form::quantity ? "QUANTITY"
                                                               : "TEXT");
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
  world.err
      << "  = help: housepower --help lists the commands, housepower COMMAND --help its options\n";
  return usage;
}

/// CLI11 names an unknown option only at the end; ours is compared with the known ones.
std::string option_hint(const CLI::App& command, int count, char** arguments) {
  std::vector<std::string> names;
  for (const auto* option : command.get_options())
    for (const auto& name : option->get_lnames()) names.push_back("--" + name);
  for (int i = 2; i < count; ++i) {
    const std::string_view given =
        std::string_view(arguments[i]).substr(0, std::string_view(arguments[i]).find('='));
    if (given.substr(0, 2) != "--" || std::find(names.begin(), names.end(), given) != names.end())
      continue;
    return did_you_mean(given, {names.begin(), names.end()});
  }
  return {};
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
  world.out << "\nhousepower COMMAND --help tells its options. Exit codes: " << exit_codes() << "\n"
            << page::safety_note() << "\n";
}

}  // namespace

int run(int count, char** arguments, World& world) {
  const std::string_view verb = count > 1 ? arguments[1] : "";
  if (verb.empty()) return print_help(world), usage;
  if (verb == "--help" || verb == "-h") return print_help(world), ok;
  if (verb == "--version") {
    world.out << "housepower " << version() << "\n";
    return ok;
  }
  const auto all = commands();
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Command& c) { return c.name == verb; });
  if (found == all.end()) {
    std::vector<std::string_view> names;
    for (const Command& c : all) names.push_back(c.name);
    return refuse_usage(world, "there is no command \"" + std::string(verb) + "\"",
                        did_you_mean(verb, names));
  }
  CLI::App app{std::string(found->says) + "\nFor example: " + std::string(found->example),
               "housepower " + std::string(verb)};
  std::deque<TypedOption> typed;
  const auto options = every_option(*found);
  add_options(app, options, typed);
  try {
    app.parse(count - 1, arguments + 1);
  } catch (const CLI::CallForHelp&) {
    world.out << app.help();
    return ok;
  } catch (const CLI::ParseError& e) {
    return refuse_usage(world, e.what(), option_hint(app, count, arguments));
  }
  keep_typed(typed, world);
  Node given = options_of(typed);
  const auto color = take_color(given, world);
  if (!color) return usage;
  if (*color != Color::automatic) world.screen.colour = *color == Color::always;
  return found->run(given, world);
}

}  // namespace housepower::cli
