// SPDX-License-Identifier: Apache-2.0
// Sound designs, changed by keys and values that the format knows, and a command asked of each as one
// types it: `check` in every form, and the first figure of `stay`. The answer comes in time, is sound
// JSON without a number that is none, and leaves with an exit code that a user may see.
#include <array>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "../../src/browser/ask.hpp"
#include "holds.hpp"
#include "housepower/design/open.hpp"
#include "housepower/reading/write.hpp"
#include "support/varied_design.hpp"

using namespace housepower;
using namespace housepower::fuzz;

namespace {

std::optional<std::string> from_disk(std::string_view path) {
  std::ifstream file{std::string(path)};
  if (!file) return std::nullopt;
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// The sound vans of the hazards, each with all that it extends.
const std::vector<Node>& sound_designs() {
  static const std::vector<Node> designs = [] {
    std::vector<std::string> files;
    for (const auto& entry :
         std::filesystem::directory_iterator(HOUSEPOWER_SOURCE_DIR "/tests/hazards/sound"))
      files.push_back(entry.path().string());
    std::sort(files.begin(), files.end());
    std::vector<Node> all;
    for (const auto& file : files) {
      Diagnostics none;
      if (auto node = read_document(file, from_disk, none)) all.push_back(*std::move(node));
    }
    require(all.size() > 40, "the sound designs are there");
    return all;
  }();
  return designs;
}

constexpr std::array<std::string_view, 12> questions{"check --format json",
                                                     "check --format json",
                                                     "check --format json",
                                                     "check --full --working",
                                                     "check --format json --open",
                                                     "check --strict",
                                                     "check --full --units us",
                                                     "energy --format json",
                                                     "wiring --format json",
                                                     "stay --first --format json",
                                                     "stay --first",
                                                     "check --format html"};

std::string asked(std::string_view question, std::string_view design) {
  std::string words;
  for (std::size_t begin = 0; begin < question.size();) {
    const std::size_t end = std::min(question.find(' ', begin), question.size());
    words += quoted_json(question.substr(begin, end - begin)) + ", ";
    if (begin == 0) words += "\"van.toml\", ";
    begin = end + 1;
  }
  return R"({"arguments": [)" + words + R"("--color", "never"], "files": {"van.toml": )" +
         quoted_json(design) + "}}";
}

void require_sound_answer(std::string_view question, const std::string& answered) {
  const auto answer = page::read_json(answered);
  require(answer.has_value(), "the answer reads");
  const auto exit = std::get<std::int64_t>((*answer)["exit"].value());
  require(exit == 0 || exit == 1 || exit == 3 || exit == 4, "an exit code of a design");
  const auto& out = std::get<std::string>((*answer)["out"].value());
  const auto& err = std::get<std::string>((*answer)["err"].value());
  require(!out.empty() || !err.empty(), "something is said");
  if (exit <= 1) require(!holds_no_number(out) && !holds_no_number(err), "each number is one");
  if (question.find("json") != question.npos && exit <= 1)
    require(page::read_json(out).has_value(), "JSON is sound");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 3) return 0;
  test::Draws draws(data, size);
  const auto question = draws.one_of(questions);
  const Node& base = draws.one_of(sound_designs());
  const Node design = test::Varied(base, draws).with_changes(1 + int(draws.below(6)));
  const std::string text = toml_of(design);
  if (std::getenv("SHOW"))
    std::fprintf(stderr, "# %s\n%s", std::string(question).c_str(), text.c_str());
  const InTime in_time(soon);
  require_sound_answer(question, browser::answer_to(asked(question, text)));
  return 0;
}
