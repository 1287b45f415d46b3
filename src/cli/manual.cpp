// SPDX-License-Identifier: Apache-2.0
// manual: the page for man, in roff, from the lists of commands and options.
#include "housepower/version.hpp"
#include "verbs.hpp"

namespace housepower::cli {

struct ManualOptions {
  std::optional<Format> format;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::ManualOptions> = std::array{
    field<&cli::ManualOptions::format>("format", "Accepted but has no effect: the page is roff.")
        .or_else("text")};
}  // namespace housepower

namespace housepower::cli {
namespace {

/// Text as roff takes it: no line of it is a request, a hyphen stays what it is, choices may break.
std::string roff(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if ((c == '.' || c == '\'') && (out.empty() || out.back() == '\n')) out += "\\&";
    if (c == '\\') out += "\\e";
    else if (c == '-') out += "\\-";
    else if (c == '|') out += "|\\:";  // where a line may break
    else out += c;
  }
  return out;
}

/// "free|clipped", which may be parted over two lines behind each bar.
std::string words_of_choice(std::string_view value) {
  std::string out;
  for (const char c : value) out += c == '|' ? "|\\:" : roff(std::string_view(&c, 1));
  return out;
}

std::string page_of(const Command& c) {
  std::string out = ".SS housepower " + roff(c.name);
  if (!c.positional.empty()) out += " " + roff(c.positional);
  out += "\n" + roff(c.says) + "\n.PP\nFor example:\n.PP\n.RS 4\n.nf\n" + roff(c.examples[0]) +
         "\n" + roff(c.examples[1]) + "\n.fi\n.RE\n";
  for (const Field& f : every_option(c)) {
    if (f.role != Field::Role::member) continue;
    const std::string name = is_positional(f) ? std::string(c.positional) : option_name(f),
                      letter = short_name(f), value = is_positional(f) ? "" : value_name(f);
    out += ".TP\n\\fB" + (letter.empty() ? "" : roff(letter) + "\\fR, \\fB") + roff(name) + "\\fR";
    if (!value.empty()) out += " \\fI" + words_of_choice(value) + "\\fR";
    out += "\n" + roff(description(f)) + "\n";
  }
  return out + ".TP\n\\fB\\-h\\fR, \\fB\\-\\-help\\fR\nPrints this help message and exits.\n";
}

}  // namespace

FieldList manual_options() { return fields<ManualOptions>; }

int run_manual(const Node&, World& world) {
  world.out
      << ".\\\" SPDX-License-Identifier: Apache-2.0\n.\\\" Made by: housepower manual\n"
      << ".TH HOUSEPOWER 1 \"\" \"housepower " << version() << "\" \"User Commands\"\n"
      << ".SH NAME\nhousepower \\- " << roff(purpose()) << "\n"
      << ".SH SYNOPSIS\n.B housepower\n.I COMMAND\n[\\fIFILE\\fR] [\\fIOPTIONS\\fR]\n.br\n"
      << ".B housepower help\n.I COMMAND\n.br\n.B housepower \\-\\-help\n.br\n.B housepower "
         "\\-\\-version\n"
      << ".SH DESCRIPTION\nA design file (TOML) describes a van's batteries, sources, "
         "appliances and cables with their units. The commands say what it uses, what the sun "
         "gives, how long it lasts, and which cables, fuses and limits fail, each figure with its "
         "source. The answer goes to standard output, all else to standard error. A FILE that "
         "is called \\- is read from standard input.\n"
      << ".SH COMMANDS\n";
  for (const Command& c : commands()) world.out << page_of(c);
  world.out << ".SH EXIT STATUS\n"
            << roff(exit_codes()) << "\n.SH SAFETY\n"
            << roff(page::safety_note()) << "\n";
  return ok;
}

}  // namespace housepower::cli
