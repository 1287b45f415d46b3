// SPDX-License-Identifier: Apache-2.0
// What is said of a stay, phrase by phrase: the text, the report, the showroom's page and the range
// all take their words from here.
#include <algorithm>
#include <cctype>
#include <cmath>

#include "housepower/design/far_place.hpp"
#include "housepower/design/joined.hpp"
#include "housepower/design/words.hpp"
#include "housepower/report/stay.hpp"
#include "housepower/units/phrases.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using energy::Told;
using pack::Lever;
using LeverKind = pack::Lever::Kind;

/// "9 of 10", "95 of 100", "99.5 % of the".
std::string of_so_many(Ratio chance) {
  for (const int all : {10, 100}) {
    const double some = double(chance) * all;
    if (std::abs(some - std::round(some)) < 1e-9)
      return std::to_string(int(std::round(some))) + " of " + std::to_string(all);
  }
  return percent(chance) + " of the";
}

std::string clock(int hour_) { return (hour_ < 10 ? "0" : "") + std::to_string(hour_) + ":00"; }

std::string capitalised(std::string text) {
  if (!text.empty()) text[0] = char(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

std::string month_of(const StayReport& r) {
  return std::string(energy::month_name(r.answer.month));
}

bool states_travel(const StayReport& r) { return !stay_travel(r.design).empty(); }

/// The travel makes no difference to what is told.
bool same_with_travel(const StayReport& r) {
  const auto both = energy::told(r.answer);
  return both.parked.length == both.travelled.length && r.unlimited == r.parked_unlimited;
}

/// Why the travel adds nothing, where that is known: "the bank is empty before the first of it".
std::string why_the_same(const StayReport& r) {
  if (!states_travel(r)) return {};
  if (!r.answer.travels) {
    for (const auto& one : r.charging)
      if (!(one.current.value() > 0.0) && !one.why.empty())
        return "the " + one.what + " gives nothing: " + one.why;
    return "it charges nothing";
  }
  if (r.answer.parked.met < r.answer.longest && r.answer.first_charge &&
      r.answer.parked.met <= *r.answer.first_charge)
    return "the bank is empty before any of it arrives";
  return {};
}

std::string could_be(const Told& t) {
  return print_plain(days(t.could_be[0])) + " to " + print_plain(days(t.could_be[1]));
}

std::string parked_sentence(const StayReport& r) {
  const auto& a = r.answer;
  const Told t = energy::told(a).parked;
  const std::string who = stay_among(a) + " that begin in " + month_of(r);
  const std::string from =
      "Parked from " + clock(a.arrives) +
      (r.design->arrays.empty() ? ", without any charging, " : ", on the sun alone, ");
  if (r.parked_unlimited)
    return from + "the stay is unlimited: every one of " + std::to_string(a.starts) +
           " simulated outlasts " + print(a.longest) +
           ", also with less sun and more use, and on the mean day the sun gives what is used.";
  const std::string doubt = stay_doubt(t);
  return from + who + " last " + stay_in_days(t.length, t.or_more) +
         (doubt.empty() ? "" : " (" + doubt + ")") + "; " + stay_worst(t, a) + ".";
}

std::string travel_sentence(const StayReport& r) {
  if (!states_travel(r)) {
    const auto& t = r.design->travel;
    if (t.driving.value() > 0.0)
      return "Driving of " + print(t.driving) +
             " is stated, but not how often: state `travel/every`; none is counted.";
    return "No driving, mains or generator is stated.";
  }
  const Told t = energy::told(r.answer).travelled;
  const std::string with = "With " + stay_travel(r.design) + ": ";
  if (r.unlimited && !r.parked_unlimited)
    return with + "unlimited: every simulated stay outlasts " + print(r.answer.longest) +
           ", also with less sun and more use.";
  if (const std::string why = why_the_same(r); !why.empty() && same_with_travel(r)) {
    const bool as_parked = t.could_be == energy::told(r.answer).parked.could_be;
    return with + "the same, since " + why + (as_parked ? "" : " (could be " + could_be(t) + ")") +
           ".";
  }
  const std::string doubt = stay_doubt(t);
  if (r.unlimited) return with + "unlimited, as parked.";
  return with + (same_with_travel(r) ? "the same, " : "") + stay_in_days(t.length, t.or_more) +
         (doubt.empty() ? "" : " (" + doubt + ")") + "; " + stay_worst(t, r.answer) + ".";
}

/// What is described and joined by no run, and whether it is counted; said before all else.
std::string not_joined_sentence(const StayReport& r) {
  std::string text;
  for (const bool counts : {true, false}) {
    std::string leads;
    for (const auto& lead : design::undrawn_leads(r.design))
      if (lead.counts == counts) leads += (leads.empty() ? "" : "; ") + design::in_words(lead);
    if (leads.empty()) continue;
    text += capitalised(leads) + (counts ? ": its charge is counted as if one did. "
                                         : ": nothing is counted that charges by that way. ");
  }
  return text;
}

/// The climate of elsewhere, said before what rests on it.
std::string far_sentence(const StayReport& r) {
  const std::string far = design::far_climate(r.design);
  return far.empty() ? far
                     : "Caution: " + far + ". An hourly weather file of the place says more. ";
}

std::string promise_sentence(const StayReport& r) {
  const auto& a = r.answer;
  if (!a.promise) return {};
  std::string text = " The promised " + print(*r.design->promise.stay) + " are reached by " +
                     percent(a.promise->value) + " of them";
  if (a.promise->interval)
    text += " (95 % interval " + percent((*a.promise->interval)[0]) + " to " +
            percent((*a.promise->interval)[1]) + ")";
  if (a.travels) text += " with that travel, by " + percent(a.promise_parked) + " parked";
  return text + ".";
}

std::string assumed_sentence(const StayReport& r) {
  const auto& p = r.design->promise;
  const auto pitch = std::string(words<design::Pitch>[std::size_t(r.design->site.pitch)]);
  std::string text = " It assumes " + percent(p.arrive_at) +
                     " in the bank on arrival, a reserve of " + percent(p.reserve) + ", a bank " +
                     print_plain(p.bank_age / year) + " years old, pitch: " + pitch + ", " +
                     std::to_string(p.people) + (p.people == 1 ? " person, " : " people, ") +
                     r.use + " use";
  if (!r.taken_along.empty()) text += ", every day: " + r.taken_along;
  if (!r.left_off.empty()) text += ", without: " + r.left_off;
  return text + ".";
}

// ---- What customers ask most ----

std::string still(const std::string& then, const std::string& now) {
  return (then == now ? "still " : "") + then;
}

std::string changed_words(const StayReport& r, const Lever& lever) {
  const auto both = energy::told(r.answer);
  const Duration longest = r.answer.longest;
  const auto in_words = [&](Duration told) { return stay_in_days(told, told >= longest); };
  const auto changed = [&](const Told& now, Duration told) {
    return stay_changed(now, told, lever.relieves());
  };
  const std::string parked_now = in_words(both.parked.length);
  const std::string with_now = in_words(both.travelled.length);
  if (lever.kind == LeverKind::driving)
    return still(in_words(changed(both.parked, lever.told)), parked_now);
  const Duration stands = changed(both.parked, lever.parked_told);
  const std::string parked = in_words(stands);
  const std::string with = in_words(std::max(stands, changed(both.travelled, lever.told)));
  if (!states_travel(r) || parked == with)
    return parked_now == with_now || !states_travel(r) ? still(parked, parked_now)
                                                       : parked + ", with your travel too";
  return still(parked, parked_now) + " parked, " + still(with, with_now) + " with your travel";
}

/// How each kind begins.
std::string question_of(const Lever& lever) {
  switch (lever.kind) {
  case LeverKind::no_sun: return "If it rains and no sun comes through at all";
  case LeverKind::trees: return "Parked under trees";
  case LeverKind::kettle:
  case LeverKind::cooler: return "With " + lever.change;
  default: return capitalised(lever.change);
  }
}

std::string sentence_of(const StayReport& r, const Lever& lever) {
  const std::string question = question_of(lever);
  if (!lever.possible) return question + ": not possible, " + lever.why + ".";
  if (!lever.why.empty()) return question + " changes nothing, since " + lever.why + ".";
  return question + ": " + changed_words(r, lever) + ".";
}

std::string in_month(const StayReport& r, const energy::StayAnswer& a) {
  const auto both = energy::told(a);
  const std::string parked = stay_in_days(both.parked.length, both.parked.or_more);
  const std::string with = stay_in_days(both.travelled.length, both.travelled.or_more);
  if (!states_travel(r) || parked == with) return parked;
  return parked + " parked, " + with + " with your travel";
}

std::string seasons_sentence(const StayReport& r) {
  const Seasons& s = *r.seasons;
  const auto named = [](const energy::StayAnswer& a) {
    return std::string(energy::month_name(a.month));
  };
  if (s.alike) return "In every month: " + in_month(r, s.hardest) + ".";
  return "In " + named(s.hardest) + ", the hardest month: " + in_month(r, s.hardest) + "; in " +
         named(s.easiest) + ", the easiest: " + in_month(r, s.easiest) + ".";
}

}  // namespace

std::string stay_in_days(Duration told, bool or_more) {
  const double n = days(told);
  if (n < 0.5) return "less than half a day";
  if (n == 0.5) return "half a day";
  return print_plain(n) + (n == 1.0 ? " day" : " days") + (or_more ? " or more" : "");
}
std::string stay_in_days(Duration met, Duration longest) {
  return stay_in_days(energy::half_days(met), met >= longest);
}

std::string stay_told(const Told& t, bool unlimited) {
  if (unlimited) return "unlimited";
  std::string text = stay_in_days(t.length, t.or_more);
  if (!t.or_more && t.nights > 0)
    text += " (" + std::to_string(t.nights) + (t.nights == 1 ? " night)" : " nights)");
  return text;
}

std::string stay_doubt(const Told& t) {
  std::string text;
  if (t.length < t.point) {
    // To the tenth, but never so that a figure below a half day looks like it.
    const double tenths = std::floor(days(t.point) * 10.0 + 1e-9) / 10.0;
    if (tenths > days(t.length))
      text = print_plain(tenths) +
             (t.at_lower_end ? " simulated, the lower end is given" : " rounded down");
  }
  if (t.could_be[0] != t.could_be[1])
    text += (text.empty() ? "" : "; ") + ("could be " + could_be(t));
  return text;
}

std::string stay_worst(const Told& t, const energy::StayAnswer& a) {
  if (t.first_percentile >= a.longest)
    return a.years < 10 ? "all of them last that long" : "99 of 100 last that long";
  return (a.years < 10 ? "the shortest ends after " : "1 in 100 ends after ") +
         stay_in_days(t.first_percentile, false);
}

std::string stay_among(const energy::StayAnswer& a) {
  return of_so_many(a.chance) + (a.years < 10 ? " stays (too few years for a chance)" : " stays");
}

std::string stay_place(const design::Design& d) {
  if (d->site.hourly) return d->site.weather;
  if (!d->site.town) return "no place";
  return d->site.town->title + (d->site.far ? " (far from every town of the climate table)" : "");
}

std::string stay_travel(const design::Design& d) {
  const auto& t = d->travel;
  std::string travel;
  const auto add = [&](const std::string& what) { travel += (travel.empty() ? "" : ", ") + what; };
  if (t.every.value() > 0.0 && t.driving.value() > 0.0)
    add(print(t.driving) + " of driving " +
        (t.every <= 1.0 * day ? std::string("a day") : "every " + stay_in_days(t.every, false)));
  if (t.mains_nights > 0) add(std::to_string(t.mains_nights) + " of 7 nights on mains");
  if (t.generator.value() > 0.0) add(print(t.generator) + " of generator a day");
  return travel.empty() ? "" : "your travel (" + travel + ")";
}

Duration stay_changed(const Told& as_it_is, Duration told, bool relieves) {
  return relieves ? std::max(as_it_is.length, told) : std::min(as_it_is.length, told);
}

std::vector<std::string> stay_beyond_inverters(const design::Design& d) {
  std::vector<std::string> lines;
  for (const auto& a : d->appliances) {
    if (const auto most = energy::too_much_for_the_batteries(d, a))
      lines.push_back("The batteries let out " + print(*most) + " at most and cannot run " +
                      energy::with_its_power(a) +
                      ": it is counted all the same, and takes a higher `discharge_limit`.");
    if (!a.inverter || a.power * double(a.quantity) <= d[*a.inverter].rating) continue;
    const auto& inverter = d[*a.inverter];
    lines.push_back(housepower::quoted(inverter.name) + " is rated for " + print(inverter.rating) +
                    " and cannot run " + energy::with_its_power(a) +
                    ": it is counted all the same, and takes a larger inverter.");
  }
  return lines;
}

std::string stay_headline(const StayReport& r) {
  const auto both = energy::told(r.answer);
  std::string text = r.design->name + ", " + stay_place(r.design) + ", " + month_of(r) + ": " +
                     stay_told(both.parked, r.parked_unlimited);
  const bool all = r.parked_unlimited && (!states_travel(r) || r.unlimited);
  const std::string chance = all ? "" : ", " + stay_among(r.answer);
  if (!states_travel(r)) return text + " parked" + chance;
  if (same_with_travel(r)) return text + " parked, the same with your travel" + chance;
  return text + " parked, " + stay_told(both.travelled, r.unlimited) + " with your travel" + chance;
}

std::string stay_answer(const StayReport& r) {
  const auto& a = r.answer;
  std::string text =
      far_sentence(r) + not_joined_sentence(r) + parked_sentence(r) + " " + travel_sentence(r);
  if (!r.unlimited)
    text += " With the bank new: " + stay_in_days(a.met_when_new, a.longest) +
            (a.travels ? ", travel counted." : ".");
  return text + promise_sentence(r) + assumed_sentence(r);
}

std::vector<std::string> stay_asked(const StayReport& r) {
  std::vector<std::string> list;
  const auto add = [&](LeverKind kind, std::size_t most = 1) {
    for (const Lever& lever : r.levers.all)
      if (lever.kind == kind && most > 0) list.push_back(sentence_of(r, lever)), --most;
  };
  add(LeverKind::no_sun);
  if (r.seasons) list.push_back(seasons_sentence(r));
  add(LeverKind::trees);
  add(LeverKind::cooler), add(LeverKind::kettle);
  add(LeverKind::without);
  add(LeverKind::inverter), add(LeverKind::people), add(LeverKind::frugal);
  add(LeverKind::battery), add(LeverKind::modules);
  add(LeverKind::driving, 2);
  return list;
}

}  // namespace housepower::report
