// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/charging_circuits.hpp"

namespace housepower::checks {
namespace {

std::string at_voltage(const wiring::Delivery& at) {
  return print(at.delivers) + " at " + print(at.car) + (at.folds_back ? " (folded back)" : "");
}

/// What decides how much the line delivers, and nobody stated.
std::vector<Subject> not_stated(const Evidence& e, const wiring::TowFeed& t,
                                const design::resolved::Charger& charger) {
  std::vector<Subject> keys;
  for (const char* key : {"input_cut_out", "efficiency", "charge_voltage"})
    keys.push_back(subject_of(e.design, charger).with(key));
  if (t.feed >= 0)
    keys.push_back(subject_of(e.design, e.design->feeds[std::size_t(t.feed)]).with("voltage/low"));
  std::erase_if(keys, [&](const Subject& key) { return !is_assumed(e.design, key); });
  return keys;
}

Finding check_charger(const Rule& rule, const Evidence& e, const wiring::TowFeed& t) {
  const auto& charger = e.design->chargers[std::size_t(t.charger)];
  const Subject subject = subject_of(e.design, charger);
  if (!t.known)
    return not_checked(rule, subject, quoted(charger.name) + ": " + t.why_unknown,
                       unstated_of_network(e));
  Working working;
  const Current gets = wiring::delivered_current(e.design, t, t.low, e.kept(working));
  Finding f =
      judge(rule, subject, gets, Bound::at_least, {charger.current, as_stated}, std::move(working));
  f.message = quoted(charger.name) + " delivers " + at_voltage(t.low) + " and " +
              at_voltage(t.normal) + (t.feed >= 0 ? " at the tow vehicle" : " at its input");
  if (f.verdict != Verdict::pass) {
    f.message += "; its full " + print(charger.current) +
                 " would pull its input below the cut-out of " + print(charger.input_cut_out) +
                 ": it will cycle";
    f.cure = "a larger conductor or a shorter run from the tow vehicle, fewer contacts, or a "
             "charger set to " +
             print_at_most(gets) + " or less";
    rest_on(f, e, not_stated(e, t, charger));
  }
  hold_back(f, t.why_unknown, e);
  return f;
}

Finding check_spare(const Rule& rule, const Evidence& e, const design::resolved::Feed& feed,
                    Current drawn, const std::string& why) {
  const Subject subject = subject_of(e.design, feed).with("spare_current");
  if (!feed.spare_current)
    return not_checked(rule, subject,
                       "what " + quoted(feed.name) + " can spare is not stated; " + print(drawn) +
                           " is drawn from it");
  Working working;
  given(e.kept(working), "I",
        "drawn from the feed at its lowest voltage, from the solution of the network", drawn,
        our_method);
  Finding f = judge(rule, subject, drawn, Bound::at_most, {*feed.spare_current, as_stated},
                    std::move(working));
  const auto [draws, spares] = figures(f);
  f.message = "up to " + draws + " is drawn from " + quoted(feed.name) + "; it can spare " + spares;
  if (f.verdict != Verdict::pass) f.cure = "a smaller charger, or one that is set lower";
  hold_back(f, why, e);
  return f;
}

Finding check_direct(const Rule& rule, const Evidence& e, const wiring::DirectCharging& c) {
  const auto& feed = e.design->feeds[std::size_t(c.feed)];
  const Subject subject = subject_of(e.design, feed);
  const auto& limit = e.design->bank->charge_limit;
  if (!limit || !c.why_unknown.empty())
    return not_checked(rule, subject,
                       quoted(feed.name) + " is joined to the bank without a charger: " +
                           (limit ? c.why_unknown : "the bank's `charge_limit` is not stated"),
                       limit ? unstated_of_network(e)
                             : std::vector{subject_of_bank().with("charge_limit")});
  Working working;
  const Current most = wiring::direct_current(e.design, c, e.kept(working));
  const bool assumed = is_assumed(e.design, subject.with("voltage/high"));
  Finding f =
      judge(rule, subject, most, Bound::at_most,
            {*limit, as_stated, assumed ? Verdict::caution : Verdict::fail}, std::move(working));
  const auto [drives, takes] = figures(f);
  f.message = quoted(feed.name) + " is joined to the bank without a charger: at " +
              print(feed.high) + " it drives up to " + drives +
              " into one battery when that is empty; each takes " + takes;
  if (f.verdict != Verdict::pass) f.cure = "a dc-dc charger between them";
  return f;
}

std::vector<Finding> check_feeds(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  const auto& feeds = e.design->feeds;
  std::vector<Current> drawn(feeds.size(), 0.0 * ampere);
  std::vector<std::string> unknown(feeds.size());
  for (const auto& t : wiring::tow_feeds(e.design, e.wiring)) {
    findings.push_back(check_charger(rule, e, t));
    if (t.feed < 0) continue;
    auto& most = drawn[std::size_t(t.feed)];
    most = std::max({most, t.low.from_feed, t.normal.from_feed});
    unknown[std::size_t(t.feed)] = t.why_unknown;
  }
  for (const auto& c : wiring::direct_charging(e.design, e.wiring)) {
    findings.push_back(check_direct(rule, e, c));
    auto& most = drawn[std::size_t(c.feed)];
    most = std::max(most, c.drawn);
    unknown[std::size_t(c.feed)] = c.why_unknown;
  }
  for (std::size_t i = 0; i < feeds.size(); ++i)
    if (drawn[i] > 0.0 * ampere)
      findings.push_back(check_spare(rule, e, feeds[i], drawn[i], unknown[i]));
  return findings;
}

constexpr Sign tow_feed_signs[] = {{Parameter::length, Effect::worse},
                                   {Parameter::area, Effect::better},
                                   {Parameter::ambient, Effect::worse},
                                   {Parameter::joint_resistance, Effect::worse},
                                   {Parameter::joints, Effect::worse}};

}  // namespace

extern const Rule tow_feed{
    .name = "tow-feed",
    .asks = "Does the tow vehicle's feed deliver the charger's current, through its cable and "
            "plug, out and back?",
    .why = "Over metres of thin cable a charger pulls its own input below its cut-out: it starts, "
           "stops and starts again, and the van arrives with an empty bank.",
    .cure = "Larger conductors, a shorter run, fewer contacts, or a smaller charger.",
    .source = {SourceKind::published,
               "an off-road trade magazine; an auto-electrical workshop's page",
               "12.0 to 12.5 V at the vehicle is what a charger has to work from"},
    .signs = tow_feed_signs,
    .concern = Concern::service,
    .about = About::tow_line,
    .check = check_feeds};

}  // namespace housepower::checks
