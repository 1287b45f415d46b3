// SPDX-License-Identifier: Apache-2.0
// What README.md and the guides in docs/ show is what the program prints. A block that begins with
// "$ " is a session: each command as it is typed, then what it prints, where "…" alone on a line
// stands for any lines. A page is played in a folder of its own, with the examples beside it.
// UPDATE_GUIDES=1 writes the blocks without such a line anew; the difference is read before it is kept.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <vector>

#include "support/schedule_files.hpp"

namespace cli_guides {
namespace {

using namespace housepower::test;
namespace fs = std::filesystem;
using Lines = std::vector<std::string>;

Lines lines_of(const std::string& text) {
  Lines lines;
  for (std::size_t at = 0; at < text.size();) {
    const auto end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

/// Whether the lines are those that are shown, "…" for any.
bool are_as_shown(const std::string* shown, const std::string* shown_end,
                  const std::string* printed, const std::string* printed_end) {
  if (shown == shown_end) return printed == printed_end;
  if (*shown == "…") {
    for (auto from = printed;; ++from) {
      if (are_as_shown(shown + 1, shown_end, from, printed_end)) return true;
      if (from == printed_end) return false;
    }
  }
  return printed != printed_end && *shown == *printed &&
         are_as_shown(shown + 1, shown_end, printed + 1, printed_end);
}
bool are_as_shown(const Lines& shown, const Lines& printed) {
  return are_as_shown(shown.data(), shown.data() + shown.size(), printed.data(),
                      printed.data() + printed.size());
}

std::vector<fs::path> pages() {
  const fs::path source = HOUSEPOWER_SOURCE_DIR;
  std::vector<fs::path> all{source / "README.md"};
  for (const auto& entry : fs::directory_iterator(source / "docs"))
    if (entry.path().extension() == ".md") all.push_back(entry.path());
  std::sort(all.begin(), all.end());
  return all;
}

/// Where a page is played: `housepower` and `build/housepower` are the program.
struct Bench : Folder {
  Bench() {
    fs::create_directory(path + "/build");
    fs::create_symlink(HOUSEPOWER_SOURCE_DIR "/examples", path + "/examples");
    fs::create_symlink(program.substr(1, program.size() - 2), path + "/build/housepower");
  }
  [[nodiscard]] Lines type(const std::string& command) const {
    return lines_of(run_shell("cd '" + path + "' && PATH=\"$PWD/build:$PATH\" && { { " + command +
                              "; } 2>&1; }")
                        .out);
  }
};

struct Play {
  Lines now;       // the page, with what is printed now
  int played = 0;  // commands
};

/// One command of a session, from `at` on the line after it.
void play_one(const std::string& typed, Lines::const_iterator& at, Lines::const_iterator end,
              const Bench& bench, Play& play) {
  Lines shown;
  while (at != end && *at != "```" && at->rfind("$ ", 0) != 0) shown.push_back(*at++);
  const Lines printed = bench.type(typed);
  const bool as_shown = are_as_shown(shown, printed);
  const bool shortened = std::find(shown.begin(), shown.end(), "…") != shown.end();
  ++play.played;
  const auto& kept = shortened || as_shown ? shown : printed;
  play.now.insert(play.now.end(), kept.begin(), kept.end());
  if (std::getenv("UPDATE_GUIDES") != nullptr && !shortened) return;
  CAPTURE(typed);
  CHECK_MESSAGE(as_shown, [&] {
    std::string text = "it prints:\n";
    for (const auto& line : printed) text += line + "\n";
    return text;
  }());
}

Play play_page(const Lines& page) {
  const Bench bench;
  Play play;
  bool in_block = false, is_session = false;
  for (auto at = page.begin(); at != page.end();) {
    const std::string line = *at++;
    play.now.push_back(line);
    if (line.rfind("```", 0) == 0) {
      in_block = !in_block;
      is_session = in_block && line == "```" && at != page.end() && at->rfind("$ ", 0) == 0;
    } else if (is_session && line.rfind("$ ", 0) == 0) {
      play_one(line.substr(2), at, page.end(), bench, play);
    }
  }
  return play;
}

}  // namespace

TEST_CASE("what README and the guides show is what the program prints") {
  int played = 0;
  for (const auto& file : pages()) {
    CAPTURE(file.string());
    const std::string kept = text_of(file.string());
    const auto play = play_page(lines_of(kept));
    played += play.played;
    std::string now;
    for (const auto& line : play.now) now += line + "\n";
    if (std::getenv("UPDATE_GUIDES") != nullptr && now != kept)
      std::ofstream(file, std::ios::binary) << now;
  }
  CHECK(played >= 8);
}

TEST_CASE("a line that is not shown, or shown and not printed, is found") {
  CHECK(are_as_shown({"a", "b"}, {"a", "b"}));
  CHECK(are_as_shown({"a", "…", "d"}, {"a", "b", "c", "d"}));
  CHECK(are_as_shown({"…"}, {}));
  CHECK_FALSE(are_as_shown({"a"}, {"a", "b"}));
  CHECK_FALSE(are_as_shown({"a", "b"}, {"a"}));
  CHECK_FALSE(are_as_shown({"a", "…", "d"}, {"a", "b", "c"}));
}

}  // namespace cli_guides
