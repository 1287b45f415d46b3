// SPDX-License-Identifier: Apache-2.0
// What commands choose and compare, asked without the program: no file but those that the caller
// hands on, problems as data.
#include <doctest/doctest.h>

#include "answers/given.hpp"
#include "housepower/answers/compare.hpp"
#include "housepower/answers/mend.hpp"
#include "housepower/answers/named_files.hpp"
#include "housepower/answers/pack_file.hpp"
#include "housepower/answers/range.hpp"
#include "housepower/answers/size.hpp"

namespace answers_choices {

using namespace housepower;
using given_examples::given;
using given_examples::shipped_file;
using given_examples::three;

namespace {

std::string beside(std::string_view path) { return std::string(path); }

}  // namespace

TEST_CASE("a pack is sized and written for a caller that has no folder") {
  const std::string file = shipped_file("sizing/pellibri");
  const auto opened = examples::opened(file);
  Diagnostics problems;
  const auto one = given(opened, file);
  answers::SizeAsked asked;
  asked.places = {"darwin"};
  const auto r = answers::size(one, asked, examples::from_disk, problems);
  REQUIRE(r.has_value());
  REQUIRE(r->answer.best.has_value());
  const auto& best = r->answer.choices[*r->answer.best];
  CHECK(best.document.part.size() == opened.document.part.size());
  const std::string pack =
      answers::pack_file(one, best.document, {"A pack."}, examples::from_disk, beside);
  CHECK(pack.starts_with("# A pack.\n\nschema = 1\nextends = "));
  const FileReader with_pack = [&](std::string_view path) -> FileContent {
    return path == "pack.toml" ? FileContent(pack) : FileContent(examples::from_disk(path));
  };
  const auto again = examples::opened("pack.toml", {}, with_pack);
  CHECK(again.document.bank->quantity == best.document.bank->quantity);
}

TEST_CASE("a catalogue that is not there is told as data, where it is named") {
  const std::string file = shipped_file("sizing/pellibri");
  const auto opened = examples::opened(file);
  Diagnostics problems;
  const FileReader nothing = [](std::string_view) { return FileContent::none("no disk"); };
  CHECK_FALSE(answers::size(given(opened, file), {}, nothing, problems).has_value());
  REQUIRE_FALSE(problems.all.empty());
  CHECK(problems.all.front().key == answers::unreadable);
  CHECK(problems.all.front().hint == "no disk");
  CHECK(problems.all.front().place.line > 0);
}

TEST_CASE("what mends a design alone mends it among others") {
  const std::string a = examples::faulty("drop"), b = examples::faulty("ampacity");
  const auto one = examples::opened(a), other = examples::opened(b);
  const std::vector<answers::ToMend> both{{given(one, a), {}}, {given(other, b), {}}};
  Diagnostics problems;
  const auto together = answers::mend(both, {}, problems);
  const auto alone = answers::mend({both.data(), 1}, {}, problems);
  REQUIRE(together.has_value());
  REQUIRE(alone.has_value());
  REQUIRE(together->size() == 2);
  REQUIRE(alone->size() == 1);
  const auto &x = together->front().mended.changes, &y = alone->front().mended.changes;
  REQUIRE(x.size() == y.size());
  CHECK_FALSE(x.empty());
  for (std::size_t i = 0; i < x.size(); ++i) CHECK(x[i].to == y[i].to);
}

TEST_CASE("a design differs in nothing from itself, and in what was changed from another") {
  const std::string file = shipped_file("pellibri");
  const auto before = examples::opened(file),
             after = examples::opened(file, {"run/main bar to inverter/length=20 m"});
  const auto checked = examples::checked(before), checked_after = examples::checked(after);
  const auto same =
      answers::compare({given(before, file), checked}, {given(before, file), checked});
  CHECK(same.changes.design.empty());
  CHECK(same.changes.findings.empty());
  const auto r =
      answers::compare({given(before, file), checked}, {given(after, file), checked_after});
  REQUIRE(r.changes.design.size() == 1);
  CHECK(r.changes.design.front().path == "run/main bar to inverter/length");
}

TEST_CASE("a range is a row for each file, also for one that cannot be read, in whatever order") {
  const std::vector<answers::RangeFile> files{
      {shipped_file("pellibri"), true}, {"nowhere.toml", true}, {shipped_file("parts"), false}};
  const FileReader read = [](std::string_view path) -> FileContent {
    return examples::from_disk(path);
  };
  const std::shared_ptr<const tables::Tables> tables(&examples::shipped(),
                                                     [](const tables::Tables*) {});
  const answers::RangeAsked asked{{range::Simulate::none, 60}, {}, {}, {}, {}};
  const energy::Each last_first = [](int count, const std::function<void(int)>& f) {
    for (int i = count; i-- > 0;) f(i);
  };
  for (const auto& each : {energy::Each(energy::one_after_another), last_first}) {
    const auto all = answers::range_of(files, asked, {}, tables, read, each);
    REQUIRE(all.rows.size() == 2);
    CHECK(all.designs == 2);
    CHECK(all.rows[0].mass.has_value());
    CHECK(all.rows[1].verdict == range::not_read);
    CHECK(all.rows[1].problem.starts_with("nowhere.toml"));
    REQUIRE(all.left_out.size() == 1);
    CHECK(all.left_out.front().file == shipped_file("parts"));
    CHECK(all.unread);
    CHECK(all.left_out.front().why == "a catalogue of parts");
  }
}

}  // namespace answers_choices
