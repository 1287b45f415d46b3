// SPDX-License-Identifier: Apache-2.0
// One design as a row among many: what it uses, how long it lasts, what is wrong with it, what it
// weighs and costs. A figure that is not known is absent; a sum of what is stated says what it lacks.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/checks/masses.hpp"
#include "housepower/checks/rule.hpp"
#include "housepower/design/money.hpp"
#include "housepower/energy/weather.hpp"

namespace housepower::range {

/// How much of the hourly simulation is run: the cells of every design and the stays that are
/// promised; stays of all; nothing, then the rules that stand on it are not checked.
enum class Simulate { promised, all, none };

/// What is simulated for a row.
struct RowStays {
  Simulate simulate = Simulate::promised;
  int years = energy::years_for_promise;  // of made-up weather behind the stay
};

/// Longer stays count as this.
inline constexpr int longest_stay_days = 30;

/// What is used a day in the mean of three months each: summer is December to February south of
/// the equator, June to August north of it. Without a place only `all` is known.
struct DailyUse {
  std::optional<Charge> summer, autumn, winter, spring;
  Charge all{};  // mean of the four, or of the one day
};
[[nodiscard]] DailyUse daily_use(const design::Design&, const energy::Assessment&);

/// Sums by currency, as stated: never added to one another.
struct Price {
  std::vector<design::Money> sums;   // by name of the currency
  std::vector<std::string> missing;  // parts whose `price` is not stated
};
[[nodiscard]] Price price_of(const design::Design&);

struct RangeRow {
  std::string name, file;
  std::string verdict;  // "fail", "caution", "pass"; "not-read": only `problem` is known
  std::string verdict_safety, verdict_service;                  // of which that is the worse
  std::string place, month;                                     // month on which the promise rests
  std::optional<Charge> summer, autumn, winter, spring, daily;  // used a day
  std::optional<Duration> autonomy;
  std::optional<bool> autonomy_outlasts;  // it is at least that
  std::optional<Duration> parked,
      stay;  // that `chance` of them reach: on the sun alone, as they travel
  std::optional<Duration> parked_headline, headline;  // as they are told
  std::optional<bool> parked_outlasts, outlasts;      // it is at least that
  std::optional<int> nights;                          // of the headline, as they travel
  std::optional<Duration> first_percentile;           // 1 in 100 ends after that, as they travel
  std::optional<bool> first_percentile_outlasts;      // at least after that
  std::string stay_month;
  std::optional<Ratio> chance;
  std::optional<int> fails, cautions, not_checked, passes;
  std::string worst_rule, worst_verdict, worst_subject;  // empty where all pass
  std::optional<Mass> mass, copper;
  std::string mass_missing;  // then `mass` is the least that it can be
  std::vector<design::Money> prices;
  std::string price, price_missing;
  std::vector<std::string> warnings;       // of reading it: "van.toml:3:1: …"
  std::string problem;                     // likewise
  std::vector<Diagnostic> why_not_read{};  // the same, whole
  std::string inputs_digest;
};
inline constexpr std::string_view not_read = "not-read";
/// The words of `verdict`, rising: worse is more; what could not be read is worst.
[[nodiscard]] std::span<const std::string_view> range_verdicts();

/// The check of a design as a row of the range.
[[nodiscard]] RangeRow range_row(const design::Document&, const design::Design&, const RowStays&);

/// The rows of one design at one place, month by month. What months have in common is worked out with
/// the first: the weather, and the wiring but for what the inverters carry in the cold of a month. Not
/// for several at once.
class RowsAtPlace {
public:
  explicit RowsAtPlace(const RowStays& stays) : stays_(stays) {}
  [[nodiscard]] RangeRow row(const design::Document&, const design::Design&);

private:
  [[nodiscard]] wiring::Assessment wired(const design::Design&, std::span<const wiring::LoadCase>,
                                         Defaults);
  RowStays stays_;
  energy::Skies skies_{};
  std::array<std::optional<wiring::Assessment>, 2> wired_{};  // by Defaults
};

}  // namespace housepower::range
