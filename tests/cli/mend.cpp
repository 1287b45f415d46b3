// SPDX-License-Identifier: Apache-2.0
// `mend` as it is typed: its JSON, its pack, and what `check` says of that.
#include <doctest/doctest.h>

#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "support/json_answer.hpp"

namespace cli_mend {
namespace {

using namespace housepower::test;
namespace fs = std::filesystem;

struct Folder {
  std::string path = "/tmp/housepower-mend-" + std::to_string(getpid());
  Folder() { fs::create_directory(path); }
  ~Folder() { fs::remove_all(path); }
};

}  // namespace

TEST_CASE("mend answers with the keys of the contract") {
  const Json json = json_of("mend examples/faulty/fuse-below-conductor.toml", 0);
  for (const auto* key : {"design", "changes", "left", "before", "after", "verdict",
                          "verdict_safety", "verdict_service", "copper_kg", "complete"}) {
    CAPTURE(key);
    CHECK(json.contains(key));
  }
  REQUIRE(!json["changes"].empty());
  for (const Json& change : json["changes"])
    for (const auto* key : {"path", "from", "to", "why"}) CHECK(change.contains(key));
  CHECK(json["before"]["fail"].get<int>() > 0);
  CHECK(json["after"]["fail"].get<int>() == 0);
  CHECK(json["verdict"] == "pass");
}

TEST_CASE("mend ends with 1 where a fail remains, and says what would cure it") {
  const Json json = json_of("mend examples/faulty/autonomy.toml", 1);
  CHECK(json["changes"].empty());
  REQUIRE(json["left"].size() == 1);
  CHECK(json["left"][0]["rule"] == "autonomy");
  CHECK(!json["left"][0]["would"].get<std::string>().empty());
}

TEST_CASE("check of the pack says what mend said, and each change as --set says the same") {
  const Folder folder;
  for (const std::string name : {"ampacity", "breaking-capacity", "drop", "fuse-above-load",
                                 "parallel-share", "return-ampacity", "unprotected-source-end"}) {
    CAPTURE(name);
    const std::string design = "examples/faulty/" + name + ".toml";
    const std::string pack = folder.path + "/" + name + ".toml";
    const Ran ran = run_program("mend " + design + " -o " + pack);
    CAPTURE(ran.err);
    REQUIRE(ran.exit == 0);
    const Json mended = json_of("mend " + design, 0), checked = json_of("check " + pack, 0);
    CHECK(checked["verdict"] == mended["verdict"]);
    CHECK(checked["verdict_safety"] == mended["verdict_safety"]);
    CHECK(checked["counts"]["fail"] == mended["after"]["fail"]);
    CHECK(checked["counts"]["caution"] == mended["after"]["caution"]);
    CHECK(checked["counts"]["pass"] == mended["after"]["pass"]);
  }
}

TEST_CASE("mend writes over no input, and no pack where nothing changes") {
  const Folder folder;
  const std::string design = folder.path + "/van.toml";
  fs::copy_file(HOUSEPOWER_SOURCE_DIR "/examples/faulty/base.toml", design);
  const std::string before = text_of(design);
  CHECK(run_program("mend " + design + " --set 'run/cooler/conductor=1 mm2' -o " + design).exit ==
        2);
  CHECK(text_of(design) == before);
  const Ran sound = run_program("mend " + design + " -o " + folder.path + "/pack.toml");
  CHECK(sound.exit == 0);
  CHECK(sound.err.find("nothing to change") != std::string::npos);
  CHECK_FALSE(fs::exists(folder.path + "/pack.toml"));
}

TEST_CASE("a folder is mended with few sizes, a pack for each design that changes") {
  const Folder folder;
  const std::string vans = folder.path + "/vans", packs = folder.path + "/packs";
  fs::create_directory(vans);
  fs::create_directory(packs);
  for (const std::string name : {"base", "ampacity", "drop"})
    fs::copy_file(HOUSEPOWER_SOURCE_DIR "/examples/faulty/" + name + ".toml",
                  vans + "/" + name + ".toml");
  const Json json = json_of("mend " + vans + " --fewest-sizes", 0);
  REQUIRE(json["designs"].size() == 3);
  CHECK(!json["sizes"].empty());
  CHECK(run_program("mend " + vans + " --fewest-sizes -o " + packs).exit == 0);
  CHECK(fs::exists(packs + "/drop.mended.toml"));
  CHECK_FALSE(fs::exists(packs + "/base.mended.toml"));
  CHECK(run_program("mend " + vans + " -o " + folder.path + "/none").exit == 2);
}

TEST_CASE("packs of a folder that would be written over each other are refused") {
  const Folder folder;
  for (const char* part : {"/vans/a", "/vans/b", "/packs"})
    fs::create_directories(folder.path + part);
  for (const char* part : {"a", "b"})
    fs::copy_file(HOUSEPOWER_SOURCE_DIR "/examples/two-berth.toml",
                  folder.path + "/vans/" + part + "/two.toml");
  const Ran ran = run_program("mend " + folder.path + "/vans -o " + folder.path + "/packs");
  CHECK(ran.exit == 2);
  CHECK(ran.err.find("/vans/a/two.toml and ") != std::string::npos);
  CHECK(fs::is_empty(folder.path + "/packs"));
}

TEST_CASE("a device that is missing is put there, where it stands to be measured") {
  const Json json = json_of("mend examples/two-berth.toml --set 'run/main/protection=[]'", 0);
  REQUIRE(json["changes"].size() == 1);
  CHECK(json["changes"][0]["path"] == "run/main/protection");
  CHECK(json["after"]["fail"] == 0);
  CHECK(json["verdict_safety"] == "caution");  // its `distance` is the program's own
}

TEST_CASE("no device is made larger where it is too large for its conductor already") {
  const Json json =
      json_of("mend examples/two-berth.toml --set run/main/protection/0/type=iso-8820-3-e --set "
              "'run/main/protection/0/rating=40 A'",
              0);
  CHECK(json["after"]["fail"] == 0);
  for (const Json& change : json["changes"])
    if (change["path"] == "run/main/protection/0/rating") CHECK(change["to"] == "35 A");
}

}  // namespace cli_mend
