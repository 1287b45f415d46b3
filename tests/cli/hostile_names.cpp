// SPDX-License-Identifier: Apache-2.0
// Names that would act unseen on a terminal, a page or a reader: each answer of each command shows
// them as escapes, and so does what is told on standard error.
#include <doctest/doctest.h>

#include "support/json_answer.hpp"
#include "support/schedule_files.hpp"

namespace cli_hostile_names {
namespace {

using namespace housepower::test;

/// As they are; as TOML and JSON write them.
struct Sign {
  std::string raw, escape;
};
const std::vector<Sign> signs = {
    {"\x1b", "u001B"},   {"\x7f", "u007F"},          {"\u0085", "u0085"}, {"\u009b", "u009B"},
    {"\u061c", "u061C"}, {"\u200b", "u200B"},        {"\u200d", "u200D"}, {"\u200e", "u200E"},
    {"\u200f", "u200F"}, {"\u2028", "u2028"},        {"\u2029", "u2029"}, {"\u202a", "u202A"},
    {"\u202e", "u202E"}, {"\u2060", "u2060"},        {"\u2066", "u2066"}, {"\u2069", "u2069"},
    {"\ufeff", "uFEFF"}, {"\U000e0041", "U000E0041"}};

/// A van with such a name for the vehicle, a run, an appliance, a device, a case and a node.
std::string hostile_van(const Folder& folder, const std::string& name) {
  std::string text = text_of(HOUSEPOWER_SOURCE_DIR "/examples/pellibri.toml");
  const auto replace_first = [&](const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    REQUIRE_MESSAGE(at != text.npos, from);
    text.replace(at, from.size(), to);
  };
  replace_first("[vehicle]\nname = \"", "[vehicle]\nname = \"" + name);
  text += "\n[[appliance]]\nname = \"lamp " + name +
          "\"\npower = \"5 W\"\nbetween = [\"18:00-23:00\"]\n";
  text += "\n[[node]]\nname = \"post " + name + "\"\nkind = \"point\"\n";
  text += "\n[[run]]\nname = \"to post\"\nfrom = \"day panel\"\nto = \"post " + name +
          "\"\nlength = \"1 m\"\nconductor = \"2.5 mm2\"\n";
  text += "\n[[run]]\nname = \"run " + name + "\"\nlabel = \"X" + name + "\"\nfrom = \"post " +
          name + "\"\nto = \"lamp " + name + "\"\nlength = \"2 m\"\nconductor = \"0.5 mm2\"\n";
  text += "\n[[case]]\nname = \"case " + name + "\"\nrunning = [\"lamp " + name + "\"]\n";
  const std::string file = folder.path + "/van.toml";
  std::ofstream(file, std::ios::binary) << text;
  return file;
}

void shows_none_raw(const std::string& text, const std::string& where) {
  for (const Sign& sign : signs)
    CHECK_MESSAGE(text.find(sign.raw) == text.npos, where << " has " << sign.escape << " raw");
}

}  // namespace

TEST_CASE("signs that act unseen are escaped in every answer, in every format") {
  const Folder folder;
  std::string name;
  for (const Sign& sign : signs) name += "a\\" + sign.escape;
  const std::string file = hostile_van(folder, name);
  const Ran sound = run_program("check " + file);
  REQUIRE_MESSAGE(sound.exit <= 1, sound.err);
  for (const std::string command : {"check --passes --working",
                                    "energy",
                                    "wiring",
                                    "report",
                                    "diagram",
                                    "schedule",
                                    "schedule --format csv",
                                    "schedule --format html",
                                    "schedule --format json",
                                    "build-list",
                                    "build-list --format csv",
                                    "build-list --format json",
                                    "test-sheet",
                                    "loads",
                                    "runs",
                                    "range --format csv",
                                    "range",
                                    "range --format json",
                                    "check --format json",
                                    "check --format html",
                                    "energy --format json",
                                    "wiring --format json",
                                    "compare examples/pellibri.toml",
                                    "stay --years 2",
                                    "stay --years 2 --format json",
                                    "report --for electrician",
                                    "report --for showroom",
                                    "build-list --format html",
                                    "test-sheet --format json",
                                    "wiring -o -"}) {
    CAPTURE(command);
    const Ran ran = run_program(command + " " + file + " --color never");
    CHECK_MESSAGE(ran.exit <= 1, ran.err);
    shows_none_raw(ran.out, "the answer");
    shows_none_raw(ran.err, "standard error");
    // a name at a glance ends before its last signs
    const bool names_one = ran.out.find("\\u202") != std::string::npos ||
                           (command == "range" && ran.out.find("\\u001B") != std::string::npos) ||
                           command == "energy";
    CHECK_MESSAGE(names_one, "names none of them");
    if (command.find("json") == std::string::npos) continue;
    const Json json = Json::parse(ran.out);  // an escape beyond U+FFFF is a pair there
    CHECK(json.dump().find(signs.back().raw) != std::string::npos);
  }
}

TEST_CASE("signs that act unseen are escaped in what standard error tells, the source line too") {
  const Folder folder;
  std::string raw;
  for (const Sign& sign : signs)
    if (sign.raw != "\x1b" && sign.raw != "\x7f") raw += "a" + sign.raw;
  const auto refused = [&](const std::string& file) {
    const Ran ran = run_program("check '" + file + "'");
    CHECK(ran.exit >= 2);
    shows_none_raw(ran.out, "the answer");
    shows_none_raw(ran.err, "standard error");
    CHECK_MESSAGE(ran.err.find("\\u202E") != std::string::npos, ran.err);
  };
  const std::string file = folder.path + "/van.toml";
  std::ofstream(file, std::ios::binary)
      << "schema = 1\n\"key " << raw << "\" = \"" << raw << "\"\n";
  refused(file);
  refused(folder.path + "/none" + raw + ".toml");
  for (const std::string& arguments : std::vector<std::string>{
           "check --set 'run/" + raw + "=1' examples/pellibri.toml", "explain '" + raw + "'",
           "'" + raw + "'", "check --" + raw, "diagram examples/pellibri.toml --case '" + raw + "'",
           "diagram examples/pellibri.toml -o '/none/" + raw + "'",
           "build-list examples/pellibri.toml --build '" + raw + "=0'"}) {
    CAPTURE(arguments);
    const Ran ran = run_program(arguments);
    CHECK(ran.exit >= 2);
    shows_none_raw(ran.err, "standard error");
  }
}

TEST_CASE("a name with such signs comes back from a pack as it was") {
  const Folder folder;
  std::string name;
  for (const Sign& sign : signs) name += "a\\" + sign.escape;
  const std::string file = hostile_van(folder, name);
  const std::string pack = folder.path + "/pack.toml";
  const Ran wrote = run_program("wiring - -o " + pack + " < " + file);  // the whole, from no file
  REQUIRE_MESSAGE(wrote.exit <= 1, wrote.err);
  shows_none_raw(text_of(pack), "the pack");
  const auto of = [](const std::string& path) {
    return Json::parse(run_program("check --format json " + path).out)["design"]["name"];
  };
  CHECK(of(pack) == of(file));
}

}  // namespace cli_hostile_names
