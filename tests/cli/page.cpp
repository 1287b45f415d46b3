// SPDX-License-Identifier: Apache-2.0
// page: a maker's own page is the built one with the maker's designs in its one data block.
#include <doctest/doctest.h>

#include <filesystem>

#include "support/json_answer.hpp"
#include "support/schedule_files.hpp"

namespace cli_page {

using namespace housepower::test;

namespace {

namespace fs = std::filesystem;

/// A range: a design, a pack on it, and the catalogue that it names; beside it a page as built.
struct Range : Folder {
  std::string vans = path + "/vans", built = path + "/built.html";
  Range() {
    const std::string examples = HOUSEPOWER_SOURCE_DIR "/examples/";
    fs::create_directories(vans + "/packs");
    fs::copy_file(examples + "marrowick.toml", vans + "/marrowick.toml");
    fs::copy_file(examples + "parts.toml", vans + "/parts.toml");
    fs::copy_file(examples + "packs/marrowick-winter.toml", vans + "/packs/marrowick-winter.toml");
    put(built, "<p>before</p>\n<!-- designs -->\n<script id=\"designs\">{}</script>\n"
               "<!-- /designs -->\n<p>behind</p>\n");
  }
  static void put(const std::string& file, const std::string& text) {
    std::ofstream(file, std::ios::binary) << text;
  }
  [[nodiscard]] std::string asked(const std::string& more = {}) const {
    return "page '" + vans + "' --built '" + built + "'" + more;
  }
};

/// The data block of a page, which is on one line.
Json block_in(const std::string& html) {
  const std::string begins = "<script type=\"application/json\" id=\"designs\">";
  const auto begin = html.find(begins);
  REQUIRE(begin != html.npos);
  const auto end = html.find('\n', begin);
  const std::string line = html.substr(begin + begins.size(), end - begin - begins.size());
  REQUIRE(line.ends_with("</script>"));
  const std::string json = line.substr(0, line.size() - 9);
  CHECK(json.find('<') == json.npos);
  const Json block = Json::parse(json, nullptr, false);
  REQUIRE(!block.is_discarded());
  return block;
}

}  // namespace

TEST_CASE("a maker's page holds its designs, packs and parts letter for letter, and nothing else "
          "changes") {
  const Range of;
  const Ran ran = run_program(of.asked(" --title 'Vans & <b>more</b>' --contact 'hall 3'"));
  CHECK_MESSAGE(ran.exit == 0, ran.err);
  CHECK(ran.out.starts_with("<p>before</p>\n<!-- designs -->\n"));
  CHECK(ran.out.ends_with("\n<!-- /designs -->\n<p>behind</p>\n"));
  const Json block = block_in(ran.out);
  CHECK(block["title"] == "Vans & <b>more</b>");
  CHECK(block["words"] == Json{{"contact", "hall 3"}});
  REQUIRE(block["designs"].size() == 3);
  for (const auto& [name, text] : block["designs"].items())
    CHECK(text == text_of(of.vans + "/" + name));
  // The pack is an option, not a van to choose.
  REQUIRE(block["vans"].size() == 1);
  CHECK(block["vans"][0]["file"] == "marrowick.toml");
  CHECK(block["vans"][0]["name"] == "Marrowick four-berth");
}

TEST_CASE("a maker's page can be made into another one") {
  const Range of;
  const std::string first = of.path + "/first.html";
  REQUIRE(run_program(of.asked(" -o '" + first + "'")).exit == 0);
  const Ran again = run_program("page '" + of.vans + "' --built '" + first + "'");
  CHECK(again.out == text_of(first));
}

TEST_CASE("a design that does not read or resolve is told at its place, each of them, and no page "
          "is made") {
  const Range of;
  Range::put(of.vans + "/broken.toml", "schema = 1\n[vehicle]\nname = \"A\"\nname = \"B\"\n");
  Range::put(of.vans + "/typo.toml",
             "schema = 1\nextends = \"marrowick.toml\"\n[bank]\ncels = 4\n");
  Range::put(of.vans + "/lost.toml", "schema = 1\nextends = \"nowhere.toml\"\n");
  Range::put(of.path + "/outside.toml", "schema = 1\n");
  Range::put(of.vans + "/out.toml", "schema = 1\nextends = \"../outside.toml\"\n");
  const std::string output = of.path + "/range.html";
  const Ran ran = run_program(of.asked(" -o '" + output + "'"));
  CHECK(ran.exit >= 3);
  CHECK(ran.exit <= 4);
  CHECK(ran.out.empty());
  CHECK_FALSE(fs::exists(output));
  for (const std::string says : {"broken.toml:4:", "typo.toml:4:1", "lost.toml:2:", "nowhere.toml",
                                 "out.toml:2:11", "lies outside of the folder"})
    CHECK_MESSAGE(ran.err.find(says) != std::string::npos, says);
}

TEST_CASE("what is no folder of designs, and what is no built page, is said") {
  const Range of;
  const Ran nowhere = run_program("page '" + of.path + "/nowhere' --built '" + of.built + "'");
  CHECK(nowhere.exit == 4);
  CHECK(nowhere.err.find("there is no such folder") != std::string::npos);

  fs::create_directories(of.path + "/empty");
  const Ran empty = run_program("page '" + of.path + "/empty' --built '" + of.built + "'");
  CHECK(empty.exit == 4);
  CHECK(empty.err.find("there is no design in the folder") != std::string::npos);

  const Ran missing = run_program("page '" + of.vans + "' --built '" + of.path + "/no.html'");
  CHECK(missing.exit == 4);
  CHECK(missing.err.find("the built page cannot be read") != std::string::npos);

  Range::put(of.built, "<p>another page</p>");
  const Ran another = run_program(of.asked());
  CHECK(another.exit == 3);
  CHECK(another.out.empty());
  CHECK(another.err.find("is no page that `./dev page` built") != std::string::npos);
}

}  // namespace cli_page
