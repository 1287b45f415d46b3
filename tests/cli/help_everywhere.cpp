// SPDX-License-Identifier: Apache-2.0
// Help, manual page and completions name the same options, each with a word on what it is. The help
// is printed by the parser itself; the others have to agree with it.
#include <doctest/doctest.h>

#include <cstdlib>
#include <map>
#include <regex>
#include <set>

#include "support/command.hpp"

namespace cli_help_everywhere {
namespace {

using namespace housepower::test;
using Names = std::set<std::string>;

Names matches(const std::string& text, const char* pattern) {
  Names names;
  const std::regex wanted(pattern);
  for (std::sregex_iterator at(text.begin(), text.end(), wanted), end; at != end; ++at)
    names.insert((*at)[1]);
  return names;
}

/// The part of a text from a mark to the next one of its kind.
std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const auto begin = text.find(from);
  if (begin == text.npos) return {};
  return text.substr(begin, text.find(to, begin + from.size()) - begin);
}

/// The commands that the help lists.
std::map<std::string, std::string> helps() {
  const std::string list = between(run_program("--help").out, "Commands:\n", "\n\n");
  std::map<std::string, std::string> all;
  for (const auto& verb : matches(list, "\n  ([a-z-]+) "))
    all[verb] = run_program(verb + " --help").out;
  return all;
}

bool has(const char* program) {
  return std::system(("command -v " + std::string(program) + " >/dev/null 2>&1").c_str()) == 0;
}
bool accepts(const char* shell) {
  const std::string line = program + " completions " + std::string(shell) +
                           " >/tmp/housepower-completion && " + shell +
                           " -n /tmp/housepower-completion";
  return std::system(line.c_str()) == 0;
}

}  // namespace

TEST_CASE("help, manual page and completions name the same commands and options") {
  const std::string page = run_program("manual").out, bash = run_program("completions bash").out,
                    zsh = run_program("completions zsh").out,
                    fish = run_program("completions fish").out;
  const auto all = helps();
  REQUIRE(all.size() >= 15);
  for (const auto& command : all) {
    const std::string &verb = command.first, &help = command.second;
    CAPTURE(verb);
    const Names options = matches(help, "(--[a-z-]+)");
    REQUIRE(options.count("--help") == 1);
    std::string section =
        between(page, ".SS housepower " + std::regex_replace(verb, std::regex("-"), "\\-"), ".SS ");
    section = std::regex_replace(between(section, ".RE\n", "\n.SH "), std::regex("\\\\-"), "-");
    CHECK(matches(section, "\\\\fB(--[a-z-]+)") == options);
    CHECK(matches(between(bash, "      " + verb + ") words=", ";;"), "(--[a-z-]+)") == options);
    CHECK(matches(between(zsh, "\n    " + verb + ") _arguments", ";;"), "'\\*?(--[a-z-]+)\\[") ==
          options);
    Names in_fish;
    for (const auto& name : matches(fish, ("from " + verb + "' -l ([a-z-]+) ").c_str()))
      in_fish.insert("--" + name);
    CHECK(in_fish == options);
  }
}

TEST_CASE("no option is without a word on what it is") {
  for (const auto& command : helps()) {
    const std::string &verb = command.first, &help = command.second;
    CAPTURE(verb);
    // "  --set TEXT ...             Overrides one key": a description in column 30, or on a line below
    const std::regex bare("\n  (-[^\n]*)\n(?! {10,}\\S)");
    for (std::sregex_iterator at(help.begin(), help.end(), bare), end; at != end; ++at) {
      const std::string line = (*at)[1];
      CAPTURE(line);
      CHECK(std::regex_search(line, std::regex("\\S {2,}\\S|^.{27} \\S")));
    }
  }
  const std::string page = run_program("manual").out;
  CHECK(page.find("fR\n\n") == std::string::npos);
  CHECK(page.find("fR\n.TP") == std::string::npos);
}

TEST_CASE("bash takes the completion and completes commands, options and words") {
  CHECK(accepts("bash"));
  const auto completes = [](const std::string& words, int at) {
    Ran ran;
    const std::string line = "bash -c 'source /tmp/housepower-completion; COMP_WORDS=(" + words +
                             "); COMP_CWORD=" + std::to_string(at) +
                             "; _housepower; echo \"${COMPREPLY[*]}\"'";
    FILE* pipe = popen(line.c_str(), "r");
    std::array<char, 4096> piece{};
    while (const std::size_t n = std::fread(piece.data(), 1, piece.size(), pipe))
      ran.out.append(piece.data(), n);
    pclose(pipe);
    return ran.out;
  };
  CHECK(completes("housepower chec", 1) == "check\n");
  CHECK(completes("housepower check van.toml --for", 3) == "--format\n");
  CHECK(completes("housepower check van.toml --format j", 4) == "json\n");
  CHECK(completes("housepower parts a.csv --is ba", 4) == "battery\n");
  CHECK(completes("housepower completions z", 2) == "zsh\n");
}

TEST_CASE("zsh takes the completion" * doctest::skip(!has("zsh"))) { CHECK(accepts("zsh")); }
TEST_CASE("fish takes the completion" * doctest::skip(!has("fish"))) { CHECK(accepts("fish")); }

TEST_CASE("the manual page is roff without a complaint" * doctest::skip(!has("groff"))) {
  const std::string line =
      program + " manual | groff -man -K utf8 -T utf8 -ww -z 2>&1 | grep -c . | grep -qx 0";
  CHECK(std::system(line.c_str()) == 0);
}

}  // namespace cli_help_everywhere
