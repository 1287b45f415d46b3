// SPDX-License-Identifier: Apache-2.0
// The schemas that editors take, judged by the jsonschema package of Python where it is installed:
// they are schemas of their draft, every shipped example holds against its own, mistakes do not.
#include <doctest/doctest.h>

#include <unistd.h>

#include <filesystem>

#include "support/command.hpp"

namespace reference_editor_schema {
namespace {

using namespace housepower::test;
namespace fs = std::filesystem;

bool has_jsonschema() {
  return std::system("python3 -c 'import tomllib, jsonschema' >/dev/null 2>&1") == 0;
}

/// What the validator says against files; empty: nothing.
std::string against(const std::string& kind, const std::string& files) {
  const std::string schema = "/tmp/housepower-schema-" + std::to_string(getpid());
  REQUIRE(run_program("schema --of " + kind + " > " + schema).exit == 0);
  const std::string line = "cd '" HOUSEPOWER_SOURCE_DIR
                           "' && python3 -W ignore tests/reference/files_against_schema.py " +
                           schema + " " + files + " 2>&1 || echo refused";
  std::string said;
  FILE* pipe = popen(line.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::array<char, 4096> piece{};
  while (const std::size_t n = std::fread(piece.data(), 1, piece.size(), pipe))
    said.append(piece.data(), n);
  pclose(pipe);
  fs::remove(schema);
  return said;
}

std::string examples_in(const char* folder) {
  std::string list;
  for (const auto& entry : fs::directory_iterator(HOUSEPOWER_SOURCE_DIR "/" + std::string(folder)))
    if (entry.path().extension() == ".toml" && entry.path().filename() != "parts.toml")
      list += "'" + entry.path().string() + "' ";
  return list;
}

/// An example with one piece of its text put otherwise.
std::string changed(const std::string& file, const std::string& piece, const std::string& other) {
  std::string text = text_of(HOUSEPOWER_SOURCE_DIR "/" + file);
  const auto at = text.find(piece);
  REQUIRE(at != std::string::npos);
  const std::string path = "/tmp/housepower-changed-" + std::to_string(getpid()) + ".toml";
  std::ofstream(path, std::ios::binary) << text.replace(at, piece.size(), other);
  return path;
}

}  // namespace

TEST_CASE("every example holds against the schema that an editor takes" *
          doctest::skip(!has_jsonschema())) {
  CHECK(against("design", examples_in("examples") + " examples/faulty/base.toml") == "");
  CHECK(against("pack", examples_in("examples/packs")) == "");
  CHECK(against("pack", examples_in("examples/sizing")) == "");
  CHECK(against("pack", examples_in("examples/faulty")) == "");
  CHECK(against("parts", "examples/parts.toml") == "");
}

TEST_CASE("a new design file holds against the schema" * doctest::skip(!has_jsonschema())) {
  const std::string path = "/tmp/housepower-new-" + std::to_string(getpid()) + ".toml";
  REQUIRE(run_program("new > " + path).exit == 0);
  CHECK(against("design", path) == "");
  fs::remove(path);
}

TEST_CASE("an editor underlines a wrong key, a wrong unit, a wrong word and what is missing" *
          doctest::skip(!has_jsonschema())) {
  struct Mistake {
    const char *piece, *other, *at;
  };
  const std::string base = "examples/faulty/base.toml";
  for (const Mistake& m : {Mistake{"autonomy =", "autonomie =", "promise:"},
                           Mistake{"ambient = \"40 °C\"", "ambient = \"40 A\"", "wiring/ambient:"},
                           Mistake{"laid = \"clipped\"", "laid = \"loose\"", "wiring/laid:"},
                           Mistake{"joints = 6", "joints = \"six\"", "wiring/joints:"},
                           Mistake{"profile = \"au-nz-caravan\"", "", "rules:"}}) {
    const std::string path = changed(base, m.piece, m.other);
    const std::string said = against("design", path);
    CAPTURE(said);
    CHECK(said.find(": " + std::string(m.at)) != std::string::npos);
    CHECK(said.find("refused") != std::string::npos);
    fs::remove(path);
  }
  // A controller has no dc-dc kind, but a part may be a charger: the schema lets either pass.
  const std::string path = changed("examples/parts.toml", "kind = \"dc-dc\"", "kind = \"sun\"");
  CHECK(against("parts", path).find("part/") != std::string::npos);
  fs::remove(path);
}

}  // namespace reference_editor_schema
