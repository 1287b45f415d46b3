// SPDX-License-Identifier: Apache-2.0
// completions: what bash, zsh and fish offer after a command, from the lists of commands and options.
#include "commands.hpp"
#include "housepower/units/phrases.hpp"
#include "verbs.hpp"

namespace housepower::cli {

enum class Shell { bash, zsh, fish };

struct CompletionsOptions {
  Shell shell{};
  std::optional<Format> format;
};

}  // namespace housepower::cli

namespace housepower {
template <> inline constexpr auto words<cli::Shell> = std::array{"bash"sv, "zsh"sv, "fish"sv};
template <>
inline constexpr auto fields<cli::CompletionsOptions> = std::array{
    field<&cli::CompletionsOptions::shell>("name", "The shell: bash, zsh or fish.", "bash"),
    field<&cli::CompletionsOptions::format>("format",
                                            "Accepted but has no effect: a script is text.")
        .or_else("text")};
}  // namespace housepower

namespace housepower::cli {
namespace {

bool is_option(const Field& f) { return f.role == Field::Role::member && !is_positional(f); }
bool takes_value(const Field& f) { return f.shape->form != Shape::Form::flag; }
bool names_file(const Field& f) { return f.key == "output" || f.key == "tables"; }

/// In single quotes of a shell. Fish and the others part ways only on backslashes.
std::string in_single_quotes(std::string_view text, bool fish = false) {
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'') out += fish ? "\\'" : "'\\''";
    else if (c == '\\' && fish) out += "\\\\";
    else out += c;
  }
  return out + "'";
}

/// What may follow the command itself.
std::string choices_of(const Command& c) {
  for (const Field& f : c.options())
    if (f.role == Field::Role::member && is_positional(f) && f.shape->form == Shape::Form::word)
      return listed(f.shape->words, " ");
  return {};
}

std::string bash() {
  std::string verbs, values, options, names;
  for (const Command& c : commands()) {
    const std::string verb(c.name);
    verbs += verb + " ";
    std::string all;
    for (const Field& f : every_option(c)) {
      if (!is_option(f)) continue;
      const std::string name = option_name(f), letter = short_name(f);
      all += name + " " + (letter.empty() ? "" : letter + " ");
      if (!takes_value(f)) continue;
      values += "    '" + verb + " " + name + "'" +
                (letter.empty() ? "" : " | '" + verb + " " + letter + "'") + ") ";
      if (f.shape->form == Shape::Form::word)
        values += "words='" + listed(f.shape->words, " ") + "' ;;\n";
      else values += names_file(f) ? "files=1 ;;\n" : "return ;;\n";
    }
    options += "      " + verb + ") words='" + all + "--help -h' ;;\n";
    if (const auto choices = choices_of(c); !choices.empty())
      names += "      " + verb + ") words='" + choices + "' ;;\n";
  }
  return "# SPDX-License-Identifier: Apache-2.0\n# Made by: housepower completions bash\n"
         "_housepower() {\n"
         "  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]}\n"
         "  local verb=${COMP_WORDS[1]} words= files=\n"
         "  COMPREPLY=()\n"
         "  if [ \"$COMP_CWORD\" -eq 1 ]; then\n    words='" +
         verbs + "help --help -h --version -V'\n  else case \"$verb $prev\" in\n" + values +
         "    *) case $cur in\n    -*) case $verb in\n" + options +
         "      esac ;;\n    *) files=1; case $verb in\n" + names +
         "      esac ;;\n    esac ;;\n  esac; fi\n"
         "  if [ -n \"$words\" ]; then COMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))\n"
         "  elif [ -n \"$files\" ]; then COMPREPLY=($(compgen -f -- \"$cur\")); fi\n"
         "}\ncomplete -o filenames -F _housepower housepower\n";
}

/// Inside a description of zsh's _arguments and _describe.
std::string zsh_text(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '[' || c == ']' || c == ':' || c == '\\') out += '\\';
    out += c;
  }
  return out;
}

std::string zsh_option(const Field& f) {
  const std::string text = "[" + zsh_text(description(f)) + "]";
  const std::string value = f.shape->form == Shape::Form::word
                                ? ":value:(" + listed(f.shape->words, " ") + ")"
                            : names_file(f)  ? ":file:_files"
                            : takes_value(f) ? ":value: "
                                             : "";
  std::string out;
  for (const auto& name : {option_name(f), short_name(f)})
    if (!name.empty())
      out += " \\\n      " + in_single_quotes((f.shape->form == Shape::Form::list ? "*" : "") +
                                              name + text + value);
  return out;
}

std::string zsh() {
  std::string verbs, cases;
  for (const Command& c : commands()) {
    verbs += "    " + in_single_quotes(std::string(c.name) + ":" + zsh_text(c.says)) + "\n";
    cases += "    " + std::string(c.name) + ") _arguments";
    for (const Field& f : every_option(c))
      if (is_option(f)) cases += zsh_option(f);
    for (const auto* name : {"-h", "--help"})
      cases += " \\\n      " + in_single_quotes(std::string(name) + "[Prints help and exits.]");
    const std::string choices = choices_of(c);
    if (!choices.empty()) cases += " \\\n      " + in_single_quotes("1:name:(" + choices + ")");
    else if (!c.positional.empty()) cases += " \\\n      '*:file:_files'";
    cases += " ;;\n";
  }
  return "#compdef housepower\n# SPDX-License-Identifier: Apache-2.0\n"
         "# Made by: housepower completions zsh\n"
         "_housepower() {\n  local -a verbs\n  verbs=(\n" +
         verbs +
         "    'help:Lists the options of a command.'\n    '--help:Prints help and exits.'\n    "
         "'--version:Prints the version and exits.'\n  )\n"
         "  if (( CURRENT == 2 )); then\n    _describe -t commands command verbs\n    return\n  "
         "fi\n"
         "  shift words\n  (( CURRENT-- ))\n  case $words[1] in\n" +
         cases + "  esac\n}\n_housepower \"$@\"\n";
}

std::string fish() {
  std::string out =
      "# SPDX-License-Identifier: Apache-2.0\n# Made by: housepower completions fish\n";
  const std::string always = "complete -c housepower ";
  out += always + "-n __fish_use_subcommand -l help -s h -d 'Prints help and exits.'\n";
  out += always + "-n __fish_use_subcommand -l version -s V -d 'Prints the version and exits.'\n";
  out += always + "-n __fish_use_subcommand -f -a help -d 'Lists the options of a command.'\n";
  for (const Command& c : commands()) {
    const std::string verb(c.name);
    out += always + "-n __fish_use_subcommand -f -a " + verb + " -d " +
           in_single_quotes(c.says, true) + "\n";
    const std::string seen = always + "-n '__fish_seen_subcommand_from " + verb + "' ";
    const std::string choices = choices_of(c);
    if (!choices.empty()) out += seen + "-f -a " + in_single_quotes(choices) + "\n";
    else if (c.positional.empty()) out += seen + "-f\n";
    for (const Field& f : every_option(c)) {
      if (!is_option(f)) continue;
      out += seen + "-l " + option_name(f).substr(2);
      if (const auto letter = short_name(f); !letter.empty()) out += " -s " + letter.substr(1);
      if (f.shape->form == Shape::Form::word)
        out += " -x -a " + in_single_quotes(listed(f.shape->words, " "));
      else if (takes_value(f)) out += names_file(f) ? " -r -F" : " -x";
      out += " -d " + in_single_quotes(description(f), true) + "\n";
    }
    out += seen + "-l help -s h -d 'Prints help and exits.'\n";
  }
  return out;
}

}  // namespace

FieldList completions_options() { return fields<CompletionsOptions>; }

int run_completions(const Node& typed, World& world) {
  const auto options = options_from<CompletionsOptions>(typed, world);
  if (!options) return usage;
  switch (options->shell) {
  case Shell::bash: world.out << bash(); break;
  case Shell::zsh: world.out << zsh(); break;
  case Shell::fish: world.out << fish(); break;
  }
  return ok;
}

}  // namespace housepower::cli
