// SPDX-License-Identifier: Apache-2.0
#include "source_posts.hpp"

#include "housepower/wiring/source_ends.hpp"

namespace housepower::checks {
namespace {

using design::resolved::Lead;
using design::resolved::PostId;

constexpr Source battery_source{SourceKind::from_memory, "judgement",
                                "after ABYC E-11 11.10.1.4.1 (2025): a device for each battery of "
                                "large parallel banks"};

/// Links and leads between parallel batteries are exempt while they are short and stay in the box.
Finding check_lead_end(const Rule& rule, const Evidence& e, const Lead& lead, const Subject& path,
                       const std::string& what) {
  const auto& bank = *e.design->bank;
  const auto& profile = *e.design->profile;
  if (bank.each_device)
    return state(rule, path, Verdict::pass, what + ": each battery has a device of its own",
                 rule.source);
  Working working;
  given(e.kept(working), "L", "length of a link or lead", lead.length, as_stated);
  Finding f = judge(rule, path, lead.length, Bound::at_most,
                    {profile.links_exempt, profile.links_exempt_source,
                     bank.parallel > 2 ? Verdict::fail : Verdict::caution},
                    std::move(working));
  f.message = what + " are " + print(lead.length) + " long; up to " + print(profile.links_exempt) +
              " inside the box they need no device of their own";
  if (f.verdict != Verdict::pass)
    f.cure = "batteries closer together, or a device for each battery";
  return f;
}

/// What asks for a device at each battery: the profile, or from three batteries up judgement.
std::optional<Source> asks_devices(const design::Design& design) {
  const auto& profile = *design->profile;
  if (profile.device_each_above && design->bank->rated() > *profile.device_each_above)
    return profile.device_each_source;
  return design->bank->parallel > 2 ? std::optional(battery_source) : std::nullopt;
}

/// The others drive into one that fails what only its own device ends.
Finding check_devices(const Rule& rule, const Evidence& e, const Source& asked) {
  const auto& bank = *e.design->bank;
  Working working;
  const Current others = wiring::others_into_one(e.design, e.kept(working));
  const std::string what = (bank.parallel == 2 ? "the other battery drives "
                                               : "the other " + std::to_string(bank.parallel - 1) +
                                                     " batteries drive ") +
                           print(others) + " into one that fails";
  const std::string advice =
      "a device at each battery that breaks at least " + print_at_least(others);
  if (!bank.each_device) {
    Finding f = state(rule, subject_of_bank().each_battery(), Verdict::caution,
                      what + ", and no battery has a device of its own", asked);
    f.of_safety = asked.kind == SourceKind::published;  // else it is advice
    f.cure = advice;
    f.working = std::move(working);
    return f;
  }
  const auto& device = bank.each_device->device;
  const Subject path = subject_of_bank().battery_device();
  if (!device.breaking_capacity)
    return not_checked(rule, path, what + "; the breaking capacity of its device is not known",
                       {path.with("breaking_capacity")});
  Finding f = judge(rule, path, *device.breaking_capacity, Bound::at_least, {others, asked},
                    std::move(working));
  f.message = what + "; its " + device.type + " " + print(device.rating) + " breaks " +
              print(*device.breaking_capacity);
  if (f.verdict != Verdict::pass) f.cure = advice;
  return f;
}

void check_bank_ends(const Rule& rule, const Evidence& e, std::vector<Finding>& findings) {
  if (!e.design->bank || e.design->bank->parallel < 2) return;
  const auto& bank = *e.design->bank;
  if (bank.link_positive)
    findings.push_back(check_lead_end(rule, e, *bank.link_positive,
                                      subject_of_bank().link_positive(),
                                      "the positive links between the batteries"));
  if (bank.link_negative)
    findings.push_back(check_lead_end(rule, e, *bank.link_negative,
                                      subject_of_bank().link_negative(),
                                      "the negative links between the batteries"));
  if (bank.lead)
    findings.push_back(check_lead_end(rule, e, *bank.lead, subject_of_bank().lead(),
                                      "the leads from the batteries to their bar"));
  if (!bank.link_positive && !bank.link_negative && !bank.lead)
    findings.push_back(not_checked(rule, subject_of_bank(),
                                   "how the batteries are joined is not stated: neither `links` "
                                   "nor `each_battery`",
                                   {subject_of_bank().with("links")}));
  const auto asked = asks_devices(e.design);
  if (asked || bank.each_device)
    findings.push_back(check_devices(rule, e, asked.value_or(battery_source)));
}

/// Each string of three or more is fed backwards by the others.
void check_strings(const Rule& rule, const Evidence& e, std::vector<Finding>& findings) {
  for (const auto& array : e.design->arrays) {
    const int strings = array.modules / std::max(1, array.in_series);
    const Subject path = subject_of(e.design, array);
    const std::string what = "array " + quoted(array.name) + " has " + std::to_string(strings) +
                             (strings == 1 ? " string" : " strings in parallel");
    findings.push_back(
        strings < 3
            ? state(rule, path, Verdict::pass, what + ": below three they need no device",
                    rule.source)
            : not_checked(rule, path,
                          what + ", each fed backwards by the others: whether each has a device is "
                                 "nothing that a design states; at most two, or see to it"));
  }
}

/// What the bank may give to a vehicle that is started, or take from one that charges it.
std::optional<Current> limit_of_bank(const design::resolved::Bank& bank, bool gives) {
  std::optional<Current> each = gives ? bank.discharge_limit : bank.charge_limit;
  if (gives && bank.peak) each = bank.peak->current;
  if (each) each = *each * double(bank.parallel);
  return each;
}

/// What jump posts are for tells what comes through them.
Finding check_jump_post(const Rule& rule, const Evidence& e, PostId id) {
  const auto& post = e.design[id];
  const Subject path = subject_of(e.design, post);
  const std::string who = "jump posts " + quoted(post.name);
  if (post.purpose == design::Purpose::wake)
    return state(rule, path, Verdict::pass, who + " are for waking the batteries only",
                 rule.source);
  Working working;
  const auto current = wiring::jump_current_of(e.design, id, e.kept(working));
  if (!current) {
    Finding f = not_checked(rule, path,
                            who + (post.purpose ? ": no bank is reached from them"
                                                : ": what they are for is not stated"),
                            {path.with("purpose")});
    f.cure = "state their `purpose`";
    return f;
  }
  const bool gives = post.purpose == design::Purpose::start_a_vehicle;
  const auto limit = limit_of_bank(*e.design->bank, gives);
  const bool beyond = limit && *current > *limit;
  Finding f = beyond ? judge(rule, path, *current, Bound::at_most,
                             {*limit, as_stated, Verdict::caution}, working)
                     : state(rule, path, Verdict::caution, "", rule.source);
  f.working = std::move(working);
  f.message = who;
  f.message += gives ? ": a vehicle that is started from them draws up to "
                     : ": a vehicle that charges through them brings up to ";
  f.message += print(*current);
  f.message += gives ? "; what the bank may give is " : "; what the bank may take is ";
  f.message += limit ? print(*limit) : std::string("not stated");
  f.cure = gives ? "posts for waking only; start vehicles from a battery of their own"
                 : "posts for waking only; charge through a charger that limits its current";
  return f;
}

void check_jump_posts(const Rule& rule, const Evidence& e, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < e.design->posts.size(); ++i)
    if (e.design->posts[i].node == design::NodeKind::jump_post)
      findings.push_back(check_jump_post(rule, e, {int(i)}));
}

}  // namespace

void check_source_posts(const Rule& rule, const Evidence& e, std::vector<Finding>& findings) {
  check_bank_ends(rule, e, findings);
  check_strings(rule, e, findings);
  check_jump_posts(rule, e, findings);
}

}  // namespace housepower::checks
