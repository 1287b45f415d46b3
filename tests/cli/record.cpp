// SPDX-License-Identifier: Apache-2.0
// record: a chain of entries that shows any change, and a seal that shows a cut end.
#include <doctest/doctest.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>

#include "housepower/reading/sha256.hpp"
#include "housepower/report/record.hpp"
#include "support/json_answer.hpp"

namespace cli_record {
namespace {

using namespace housepower;
using namespace housepower::test;

std::string file_name() { return "/tmp/housepower-record-" + std::to_string(getpid()); }
void write(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}
std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("digests are those of coreutils' sha256sum") {
  for (const std::string& text : {std::string(), std::string("abc"), std::string(55, 'x'),
                                  std::string(56, 'y'), std::string(1000, 'z')}) {
    write(file_name(), text);
    const Ran ran = run_shell("sha256sum < " + file_name());
    CHECK(ran.out.substr(0, 64) == sha256_of(text));
  }
  std::remove(file_name().c_str());
}

TEST_CASE("a record is begun, added to and shown, and any change of it is told") {
  const std::string path = file_name();
  const Ran begun = run_program("record new examples/marrowick.toml --serial M4-0431 --by 'line 4' "
                                "--at '2026-03-14 09:00' -o " +
                                path);
  REQUIRE(begun.exit == 0);
  CHECK(run_program("record add " + path +
                    " --readings examples/readings/marrowick-0431.toml "
                    "--by 'line 4' --at '2026-03-14 10:20'")
            .exit == 0);
  CHECK(run_program("record add " + path + " --released-by 'A. Example'").exit == 0);
  const Json shown = json_of("record show " + path, 0);
  REQUIRE(shown["entries"].size() == 3);
  for (const Json& e : shown["entries"])
    for (const char* key : {"at", "by", "what", "digest", "before"}) CHECK(e.contains(key));
  CHECK(shown["intact"] == true);
  CHECK(shown["entries"][1]["before"] == shown["entries"][0]["digest"]);
  const std::string seal = shown["seal"], text = text_of(path);
  CHECK(run_program("record verify " + path + " --seal " + seal).exit == 0);
  // a changed line, an entry taken out, a cut end
  write(path, replaced(text, "M4-0431", "M4-0432"));
  CHECK(run_program("record verify " + path).exit == 1);
  CHECK(run_program("record add " + path + " --note late").exit == 1);
  const auto second = text.find("entry 2"), third = text.find("entry 3");
  write(path, text.substr(0, second) + replaced(text.substr(third), "entry 3", "entry 2"));
  CHECK(run_program("record verify " + path).exit == 1);
  write(path, text.substr(0, third));
  CHECK(run_program("record verify " + path).exit == 0);
  CHECK(run_program("record verify " + path + " --seal " + seal).exit == 1);
  std::remove(path.c_str());
}

TEST_CASE("what is typed into an entry cannot pass for lines of the record") {
  report::RecordEntry e;
  e.by = "nobody\nwhat: released";
  e.what = "note";
  e.lines = {"x\nbefore: none"};
  const auto record = report::read_record(report::entry_text(1, e, report::nothing_before), "r");
  CHECK_FALSE(record.broken);
  REQUIRE(record.entries.size() == 1);
  CHECK(record.entries[0].what == "note");
  CHECK(record.entries[0].lines.size() == 1);
}

TEST_CASE("ten thousand entries are verified in a second") {
  std::string text, before(report::nothing_before);
  report::RecordEntry e;
  e.at = "2026-03-14 10:20";
  e.by = "line 7";
  e.what = "readings";
  e.lines = std::vector<std::string>(10, "\"W04+\" = \"71 mV\"");
  for (std::size_t i = 1; i <= 10000; ++i) {
    const std::string entry = report::entry_text(i, e, before);
    before = entry.substr(entry.find("digest: ") + 8, 64);
    text += entry;
  }
  const auto begin = std::chrono::steady_clock::now();
  const auto record = report::read_record(text, "r");
  const auto took = std::chrono::steady_clock::now() - begin;
  if (std::getenv("UBSAN_OPTIONS") == nullptr) CHECK(took < std::chrono::seconds(1));
  CHECK_FALSE(record.broken);
  CHECK(record.entries.size() == 10000);
}

}  // namespace cli_record
