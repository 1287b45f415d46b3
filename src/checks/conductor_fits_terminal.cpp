// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/carried.hpp"
#include "housepower/wiring/devices_before.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

using design::NodeKind;
using design::resolved::Bank;
using design::resolved::Post;
using design::resolved::PostId;

constexpr Source stack_source{SourceKind::from_memory, "ABYC E-11",
                              "no more than four lugs on a stud"};
constexpr int most_lugs = 4;
constexpr Source before_source{
    SourceKind::common_practice, "practice of the trade",
    "whatever the current passes carries the rating of the device before it continuously"};

/// A conductor that ends on a battery's terminals.
struct Landing {
  Subject path;
  std::string name;
  Area size{};
};

/// With a lead for each battery only the leads end there: the runs end on the bars.
std::vector<Landing> landings(const design::Design& design) {
  const Bank& bank = *design->bank;
  std::vector<Landing> all;
  const auto take = [&](const Subject& path, const tables::Conductor& conductor) {
    all.push_back({path, tables::shown_name(conductor), conductor.nominal});
  };
  if (bank.lead) {
    take(subject_of_bank().lead(), bank.lead->conductor);
    return all;
  }
  if (bank.link_positive) take(subject_of_bank().link_positive(), bank.link_positive->conductor);
  if (bank.link_negative) take(subject_of_bank().link_negative(), bank.link_negative->conductor);
  for (const Run& run : design->runs) {
    const bool at_an_end = run.from == bank.post || run.to == bank.post;
    if (at_an_end && run.conductor) take(subject_of(design, run), *run.conductor);
    const bool returns = run.back.to == bank.post || run.to == bank.post;
    if (returns && !run.back.chassis && run.back.conductor)
      take(subject_of(design, run).back(), *run.back.conductor);
  }
  return all;
}

Finding check_size(const Rule& rule, const Evidence& e, const Landing& landing, Area largest) {
  Working working;
  given(e.kept(working), "S", "size of the conductor", landing.size, as_stated);
  Finding f = judge(rule, landing.path, landing.size, Bound::at_most, {largest, as_stated},
                    std::move(working));
  f.message = landing.name + " ends on a battery's terminal, which takes up to " + print(largest);
  if (f.verdict != Verdict::pass)
    f.cure = "a bar beside the battery for the large conductors, or conductors in parallel that "
             "each fit";
  return f;
}

/// Lugs on the fullest of the two terminals where the bank is tapped.
int lugs_on_stud(const design::Design& design) {
  const Bank& bank = *design->bank;
  int plus = 0, minus = 0;
  bool chassis = false;
  for (const Run& run : design->runs) {
    if (run.from == bank.post || run.to == bank.post) plus += run.parallel;
    if (run.back.to != bank.post && run.to != bank.post) continue;
    if (run.back.chassis) chassis = true;
    else minus += run.parallel;
  }
  const auto links = [&](int tap) {
    return bank.parallel == 1 ? 0 : tap == 1 || tap == bank.parallel ? 1 : 2;
  };
  if (bank.link_positive) plus += links(bank.takeoff[0]);
  if (bank.link_negative) minus += links(bank.takeoff[1]);
  return std::max(plus, minus + (chassis ? 1 : 0));
}

void check_terminals(const Rule& rule, const Evidence& e, std::vector<Finding>& findings) {
  const Bank& bank = *e.design->bank;
  if (bank.largest_conductor)
    for (const Landing& landing : landings(e.design))
      findings.push_back(check_size(rule, e, landing, *bank.largest_conductor));
  else
    findings.push_back(not_checked(rule, subject_of_bank().with("terminal/largest_conductor"),
                                   "the largest conductor that a battery's terminal takes is not "
                                   "stated"));
  if (bank.lead) return;  // one lug on each stud
  if (!bank.stud) {
    findings.push_back(not_checked(rule, subject_of_bank().with("terminal/stud"),
                                   "the batteries' `stud` is not stated"));
    return;
  }
  const Ratio lugs = double(lugs_on_stud(e.design));
  Working working;
  given(e.kept(working), "n", "lugs on the fullest stud", lugs, as_stated);
  Finding f = judge(rule, subject_of_bank().with("terminal/stud"), lugs, Bound::at_most,
                    {Ratio(double(most_lugs)), stack_source, Verdict::caution}, std::move(working));
  const int count = lugs_on_stud(e.design);
  f.message = std::to_string(count) + (count == 1 ? " lug is" : " lugs are") + " on a battery's " +
              *bank.stud + " stud; no more than " + std::to_string(most_lugs) + " should be";
  if (f.verdict != Verdict::pass) f.cure = "a bar beside the battery, and one lug to it";
  findings.push_back(std::move(f));
}

Finding check_slots(const Rule& rule, const Evidence& e, const Post& post, PostId id) {
  int circuits = 0;
  for (const Run& run : e.design->runs)
    circuits += int(
        std::count_if(run.protection.begin(), run.protection.end(), [&](const Protection& device) {
          return (device.end == design::RunEnd::from ? run.from : run.to) == id;
        }));
  const Subject path = subject_of(e.design, post);
  if (!post.slots)
    return not_checked(rule, path.with("slots"),
                       "for how many circuits " + quoted(post.name) + " has room is not stated");
  Working working;
  given(e.kept(working), "n", "devices that sit there", Ratio(double(circuits)), as_stated);
  Finding f = judge(rule, path.with("slots"), Ratio(double(circuits)), Bound::at_most,
                    {Ratio(double(*post.slots)), as_stated}, std::move(working));
  f.message = quoted(post.name) + " holds the devices of " + std::to_string(circuits) +
              " circuits and has room for " + std::to_string(*post.slots);
  if (f.verdict != Verdict::pass) f.cure = "a panel with more room, or a second one";
  return f;
}

Finding check_post_rating(const Rule& rule, const Evidence& e, const Post& post, PostId id) {
  const Subject path = subject_of(e.design, post);
  if (!post.rating) {
    Finding f = not_checked(
        rule, path, "the current for which " + quoted(post.name) + " is rated is not stated",
        {path.with("rating")});
    f.of_safety = true;
    return f;
  }
  Working working;
  const Current through = wiring::through_node(e.design, e.wiring, id, e.kept(working));
  Finding f =
      judge(rule, path, through, Bound::at_most, {*post.rating, as_stated}, std::move(working));
  const auto [passes, bears] = figures(f);
  f.message = quoted(post.name) + " passes up to " + passes + " on; it is rated for " + bears;
  f.of_safety = true;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i)
    if (e.design->runs[i].from == id || e.design->runs[i].to == id)
      hold_back(f, e.wiring.runs[i].current.why_unknown, e);
  if (f.verdict >= Verdict::caution)
    f.cure = "one that is rated for at least " + print_at_least(through) +
             ", or runs divided between two";
  return f;
}

/// A bar, a plug, a switch: what an overload brings through it without opening any device.
Finding check_device_before(const Rule& rule, const Evidence& e, const Subject& path,
                            const std::string& who, Current rating,
                            std::optional<Current> largest_device,
                            const wiring::DeviceBefore& before) {
  Working working;
  given(e.kept(working), "I_n", "largest nearest device before it", before.rating, as_stated);
  const bool allowed = largest_device && rating < *largest_device;
  const Current most = allowed ? *largest_device : rating;
  Finding f =
      judge(rule, path, before.rating, Bound::at_most,
            {most, allowed ? as_stated : before_source, Verdict::caution}, std::move(working));
  f.of_safety = true;
  f.in_case = "against the device before it";
  f.message = who + " is rated for " + print(rating) +
              (allowed ? ", by its maker behind a device of up to " + print(most) : "") + "; " +
              wiring::name_of(e.design, before) + " comes before it" +
              (before.run ? "" : ", " + print(before.rating) + " together");
  if (f.verdict != Verdict::pass)
    f.cure = "one that is rated for at least " + print_at_least(before.rating) +
             ", a smaller device before it, or its maker's `largest_device`";
  return f;
}

using wiring::DeviceBefore;

std::optional<DeviceBefore> larger_of(const std::optional<DeviceBefore>& one,
                                      const std::optional<DeviceBefore>& other) {
  return !one || (other && other->rating > one->rating) ? other : one;
}

/// An item in the return bears what comes home there, of a shared one from each of its runs.
std::optional<DeviceBefore> before_item(const Evidence& e, RunId run,
                                        const design::resolved::InlineItem& item) {
  const auto out = wiring::largest_before_item(e.design, e.wiring.plus, run, item);
  if (!item.sits_in(design::Pole::return_) || e.design[run].back.chassis) return out;
  return larger_of(out, wiring::largest_home_of(e.design, e.wiring, run));
}

void check_items(const Rule& rule, const Evidence& e, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) {
    const Run& run = e.design->runs[i];
    if (run.inline_items.empty()) continue;
    for (std::size_t n = 0; n < run.inline_items.size(); ++n) {
      const auto& item = run.inline_items[n];
      const auto before = before_item(e, {int(i)}, item);
      if (!before || !item.rating) continue;  // the rules isolator and connector-load say so
      findings.push_back(check_device_before(rule, e, subject_of(e.design, run).inline_item(n),
                                             item_of(run, n), *item.rating, item.largest_device,
                                             *before));
    }
  }
}

/// What passes through, and what the device before it lets through.
std::string rated_for_both(const Evidence& e, PostId id, const wiring::DeviceBefore& before) {
  return print_at_least(
      std::max(before.rating, wiring::through_node(e.design, e.wiring, id, nullptr)));
}

void check_node(const Rule& rule, const Evidence& e, PostId id, std::vector<Finding>& findings) {
  const Post& post = e.design[id];
  const Subject path = subject_of(e.design, post);
  Finding through = check_post_rating(rule, e, post, id);
  const auto before = post.rating
                          ? larger_of(wiring::largest_before_post(e.design, e.wiring.plus, id),
                                      wiring::largest_home_through(e.design, e.wiring, id))
                          : std::nullopt;
  if (!before) {
    findings.push_back(std::move(through));
    return;
  }
  Finding behind = check_device_before(rule, e, path, quoted(post.name), *post.rating,
                                       post.largest_device, *before);
  for (Finding* f : {&through, &behind})
    if (f->verdict >= Verdict::caution)
      f->cure_set = {setting(path.with("rating"), rated_for_both(e, id, *before))};
  findings.push_back(std::move(through));
  findings.push_back(std::move(behind));
}

std::vector<Finding> check_fits(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  if (e.design->bank) check_terminals(rule, e, findings);
  for (std::size_t i = 0; i < e.design->posts.size(); ++i) {
    const Post& post = e.design->posts[i];
    if (!post.node) continue;
    if (*post.node != NodeKind::point || post.rating) check_node(rule, e, {int(i)}, findings);
    if (*post.node == NodeKind::panel || post.slots)
      findings.push_back(check_slots(rule, e, post, {int(i)}));
  }
  check_items(rule, e, findings);
  return findings;
}

constexpr Sign conductor_fits_terminal_signs[] = {{Parameter::length, Effect::none},
                                                  {Parameter::area, Effect::worse},
                                                  {Parameter::ambient, Effect::none},
                                                  {Parameter::load, Effect::worse},
                                                  {Parameter::device_rating, Effect::worse}};

constexpr auto conductor_fits_terminal_leans_on =
    leanings(lean_on_loads, lean_on_bank_parts, lean_on_way);

}  // namespace

extern const Rule conductor_fits_terminal{
    .name = "conductor-fits-terminal",
    .asks = "Do conductors fit the batteries' terminals, and are bars, panels and items in line "
            "rated for the current through them and the device before them?",
    .why =
        "A lug that does not sit flat, or a bar loaded above its rating, heats where nobody looks.",
    .cure = "A bar between battery and large conductors; bars and panels made for the current.",
    .source = {SourceKind::supplier, "the makers of battery, bars and panels",
               "terminals, ratings and room as the design states them"},
    .signs = conductor_fits_terminal_signs,
    .concern = Concern::safety_where_it_fails,
    .leans_on = conductor_fits_terminal_leans_on,
    .check = check_fits};

}  // namespace housepower::checks
