// SPDX-License-Identifier: Apache-2.0
// Sound vans with runs made thinner, longer or devices larger: what `mend` makes of them is, checked anew
// from its text, no worse in any finding, and fails no more than before.
#include "housepower/choice/mend.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <map>
#include <random>

#include "checks/examples.hpp"
#include "housepower/reading/write.hpp"

namespace laws_mend {
namespace {

using namespace examples;

std::vector<std::string> sound_files() {
  std::vector<std::string> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(HOUSEPOWER_SOURCE_DIR "/tests/hazards/sound"))
    files.push_back(entry.path().string());
  std::sort(files.begin(), files.end());
  return files;
}

using Key = std::pair<std::string, std::string>;
std::map<Key, Verdict> worst_of(const Checked& checked) {
  std::map<Key, Verdict> worst;
  for (const Finding& f : checked.findings) {
    Verdict& v = worst[{std::string(f.rule), f.subject.text()}];
    v = std::max(v, f.verdict);
  }
  return worst;
}

int fails_of(const Checked& checked) {
  return int(std::count_if(checked.findings.begin(), checked.findings.end(),
                           [](const Finding& f) { return f.verdict == Verdict::fail; }));
}

/// One or two runs with another conductor or length.
std::vector<std::string> spoilt(const design::Opened& sound, std::mt19937_64& chance) {
  static const std::vector<std::string> sizes{"1 mm2", "1.5 mm2", "2.5 mm2",
                                              "6 mm2", "16 mm2",  "35 mm2"};
  static const std::vector<std::string> lengths{"0.2 m", "3 m", "7 m", "12 m"};
  std::vector<std::string> sets;
  for (std::size_t i = 0; i < 1 + chance() % 2; ++i) {
    const auto& runs = sound.document.run;
    const std::string run = "run/" + runs[chance() % runs.size()].name + "/";
    if (chance() % 3 != 0) sets.push_back(run + "conductor=" + sizes[chance() % sizes.size()]);
    else sets.push_back(run + "length=" + lengths[chance() % lengths.size()]);
  }
  return sets;
}

std::optional<design::Opened> if_it_opens(const std::string& file,
                                          const std::vector<std::string>& sets,
                                          const FileReader& reader = from_disk) {
  Diagnostics problems;
  return design::open_design(file, reader, sets, shipped(), Defaults::ordinary, problems);
}

}  // namespace

TEST_CASE("mend makes no finding worse and no more of them fail, as a check of its text says") {
  const auto files = sound_files();
  std::mt19937_64 chance(20);
  int mended = 0, better = 0;
  for (int i = 0; i < 60; ++i) {
    const std::string& file = files[chance() % files.size()];
    const auto sets = spoilt(opened(file), chance);
    CAPTURE(file);
    CAPTURE(sets.front());
    CAPTURE(sets.back());
    const auto van = if_it_opens(file, sets);
    if (!van) continue;
    Diagnostics problems;
    const auto m = choice::mend(van->document, van->design, choice::LeastChange::copper, problems);
    REQUIRE(m);
    ++mended;
    const std::string text = toml_of(design::node_of(m->document));
    const auto again =
        if_it_opens("mended.toml", {}, [&](std::string_view) { return std::optional(text); });
    REQUIRE_MESSAGE(again, text);
    const Checked before = checked(*van), after = checked(*again);
    CHECK(fails_of(after) <= fails_of(before));
    better += int(fails_of(after) < fails_of(before));
    const auto was = worst_of(before);
    const bool blind = std::any_of(was.begin(), was.end(), [](const auto& one) {
      return one.first.first == "voltage-collapse" && one.second >= Verdict::caution;
    });
    for (const auto& [key, verdict] : worst_of(after)) {
      CAPTURE(key.first);
      CAPTURE(key.second);
      const auto stood = was.find(key);
      const Verdict then = stood == was.end() ? Verdict::not_checked : stood->second;
      // Where nothing could be known before, it may be told now.
      CHECK(verdict <= (blind && then == Verdict::not_checked ? Verdict::caution : then));
    }
  }
  MESSAGE(mended << " vans, " << better << " with fewer fails than before");
  CHECK(mended > 40);
  CHECK(better > 10);
}

}  // namespace laws_mend
