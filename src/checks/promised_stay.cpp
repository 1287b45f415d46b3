// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "common.hpp"
#include "housepower/checks/delivered.hpp"
#include "housepower/design/joined.hpp"

namespace housepower::checks {
namespace {

constexpr Formula share_of_stays{
    "p",
    "share of stays that last as long as promised",
    "n / N",
    {{"n", "stays that last"}, {"N", "all stays: each day of arrival in each year"}},
    Source{SourceKind::common_practice, "hourly simulation of the bank over many years", ""},
    [](Ratio lasting, Ratio all) -> Ratio { return lasting / all; }};

std::string interval_of(const energy::Share& share) {
  if (!share.interval) return "";
  return " (95 % sampling interval " + print((*share.interval)[0], 2) + " to " +
         print((*share.interval)[1], 2) + ")";
}

/// "; "drive charger" brings 0 A: it cycles …": of each charger that brings less than its name plate.
std::string short_of_name_plate(const Evidence& e) {
  std::string text;
  for (const auto& one : delivered(e.design, e.wiring))
    if (one.current < e.design->chargers[std::size_t(one.charger)].current)
      text += "; " + quoted(one.what) + " brings " + print(one.current) + " (" + one.why + ")";
  return text;
}

/// What is described and charges nothing only since the design does not say by which way it does.
std::vector<Subject> charging_unsaid(const Evidence& e) {
  std::vector<Subject> list;
  for (const auto& lead : design::undrawn_leads(e.design))
    if (!lead.counts) list.push_back(lead.subject);
  if (e.wiring.ways.empty()) return list;
  for (const auto& line : wiring::tow_feeds(e.design, e.wiring))
    if (line.feed >= 0 && !line.why_unknown.empty())
      list.push_back(subject_of(e.design, e.design->feeds[std::size_t(line.feed)]));
  return list;
}

/// Nobody's promise fails for what is only not described.
void rest_on_what_is_unsaid(Finding& f, const Evidence& e) {
  if (f.verdict != Verdict::fail) return;
  const auto unsaid = charging_unsaid(e);
  if (unsaid.empty()) return;
  f.verdict = Verdict::caution;
  f.message += "; the way from " + unsaid.front().text() +
               " to the bank is not described, and nothing is counted by it";
  f.cure = "describe how " + unsaid.front().text() + " reaches the bank; else: " + f.cure;
}

Finding needs_weather(const Rule& rule, const Subject& subject) {
  return not_checked(rule, subject,
                     "a stay with the weather needs a bank and a place, by name or weather file",
                     {Subject(Subject::Kind::place).with("name")});
}

std::string stays_in_years(int starts, int years) {
  return std::to_string(starts) + " stays in " + std::to_string(years) +
         (years == 1 ? " year" : " years");
}

/// Every one reaches the horizon, with less sun and more use, too: only that is without end.
Finding check_unlimited(const Rule& rule, const Evidence& e) {
  const Subject subject = Subject(Subject::Kind::promise).with("unlimited");
  const auto& answer = e.outlook.without_end;
  if (!answer) return needs_weather(rule, subject);
  Working working;
  const auto share_of = [&](Ratio outlast) {
    return step(e.kept(working), share_of_stays,
                Ratio(std::round(double(outlast) * answer->starts)), Ratio(answer->starts));
  };
  const Ratio share = share_of(std::min(answer->outlast, answer->outlast_with_less));
  Finding f = judge(rule, subject, Number(share), Bound::at_least, {Number(Ratio(1.0)), our_method},
                    std::move(working));
  if (f.verdict == Verdict::fail && answer->outlast >= answer->chance) f.verdict = Verdict::caution;
  f.in_case = std::string(month_name(answer->month));
  f.message = "of " + stays_in_years(answer->starts, answer->years) + " " +
              print(Number(answer->outlast), 3) + " last " + print(answer->longest) +
              " or more, with less sun and more use " +
              print(Number(answer->outlast_with_less), 3) + "; all have to";
  if (answer->outlast < answer->chance)
    f.message +=
        ". " + print(answer->chance, 2) + " of them last " + print(energy::half_days(answer->met));
  f.message += short_of_name_plate(e);
  if (f.verdict != Verdict::pass)
    f.cure = "more bank, more sun, less use, another charging source, or a stay of so many days";
  rest_on_what_is_unsaid(f, e);
  if (answer->years < 10) hold_back(f, "fewer than ten years of weather are too few to say never");
  rest_on_climate(f, e);
  return f;
}

Finding check_stay(const Rule& rule, const Evidence& e) {
  const auto& promise = e.design->promise;
  const Subject subject = Subject(Subject::Kind::promise).with("stay");
  const auto& answer = e.outlook.promised;
  if (!answer || !answer->promise) return needs_weather(rule, subject);
  const double lasting = std::round(double(answer->promise->value) * answer->starts);
  Working working;
  const auto share =
      step(e.kept(working), share_of_stays, Ratio(lasting), Ratio(double(answer->starts)));
  const Ratio sure = energy::sure(*answer->promise);
  // Kept only by the chance of the years that were made up.
  const bool between = share >= promise.chance && answer->years >= 10 && sure < promise.chance;
  if (between)
    given(e.kept(working), "p_low", "lower end of its 95 % sampling interval", sure, our_method);
  Finding f = judge(rule, subject, Number(between ? sure : share), Bound::at_least,
                    {Number(promise.chance), as_stated, between ? Verdict::caution : Verdict::fail},
                    std::move(working));
  f.in_case = std::string(month_name(answer->month));
  const auto [kept, promised] = apart(share, promise.chance);
  f.message = "of " + stays_in_years(answer->starts, answer->years) + " of " +
              std::string(word_of(answer->kind)) + " weather, " + kept + " last the promised " +
              print(*promise.stay) + interval_of(*answer->promise) + "; " + promised +
              " are promised";
  if (answer->travels)
    f.message += "; this is with the travel that is stated: parked, on the sun alone, " +
                 print(Number(answer->promise_parked), 3) + " do";
  f.message += short_of_name_plate(e);
  if (between) f.message += "; the lower end of the interval is below that";
  const Duration low =
      answer->sampling ? std::min((*answer->sampling)[0], answer->met) : answer->met;
  if (f.verdict != Verdict::pass)
    f.cure = print(promise.chance, 2) + " of them last " + print(energy::half_days(low)) +
             ": promise that, or more bank, more sun, less use (`housepower stay` tries each)";
  rest_on_what_is_unsaid(f, e);
  if (f.verdict == Verdict::pass && answer->years < 10)
    hold_back(f, "fewer than ten years of weather are too few for a chance");
  rest_on_climate(f, e);
  return f;
}

std::vector<Finding> check_promise(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  if (e.design->promise.stay) findings.push_back(check_stay(rule, e));
  if (e.design->promise.unlimited) findings.push_back(check_unlimited(rule, e));
  return findings;
}

constexpr Sign promised_stay_signs[] = {{Parameter::load, Effect::worse},
                                        {Parameter::reserve, Effect::worse},
                                        {Parameter::bank_age, Effect::worse}};

}  // namespace

extern const Rule promised_stay{
    .name = "promised-stay",
    .asks = "Do enough stays last as long as promised, with the weather of the place?",
    .why = "A stay that was sold as safe ends in the first grey week, with a warm fridge.",
    .cure = "More usable capacity, more sun, less use, a shorter stay or a smaller chance.",
    .source = {SourceKind::common_practice, "hourly simulation of the bank over many years",
               "a chance of keeping a promise, held at the promised age"},
    .signs = promised_stay_signs,
    .concern = Concern::service,
    .needs = Needs::hours,
    .about = About::promise,
    .check = check_promise};

}  // namespace housepower::checks
