// SPDX-License-Identifier: Apache-2.0
// Pieces of answers that more than one of them shows, so that a figure is made in one place.
#pragma once

#include <span>
#include <string>

#include "housepower/choice/mend.hpp"
#include "housepower/page/rows.hpp"
#include "housepower/report/results.hpp"

namespace housepower::report {

/// "12.5 %"; a length in days.
[[nodiscard]] inline std::string percent(Ratio share) {
  return print_plain(100.0 * double(share), 3) + " %";
}
/// "12 %"; "0 %" for the last digits of nothing.
[[nodiscard]] std::string short_percent(Ratio share);
[[nodiscard]] inline double days(Duration d) { return double(d / day); }
/// "1.23 d"; below a day "23 h".
[[nodiscard]] inline std::string days_or_hours(Duration d) {
  return d < 1.0 * day ? print(d) : print_plain(days(d), 3) + " d";
}
/// "What the profile … does not ask: …"; empty where it asks all.
[[nodiscard]] Paragraph silences_of(const CheckedDesign&);
/// A finding as a page shows it.
[[nodiscard]] Judgement judgement(const checks::Finding&);
[[nodiscard]] JudgementsBlock judgements(std::span<const checks::Finding>,
                                         bool with_working = false);
/// "1 fail, 2 not-checked, 40 pass".
[[nodiscard]] std::string counts_of(const checks::Checked&);
/// "Van: safety pass, service fail (1): 1 fail, 124 pass"; or that there is nothing to check.
[[nodiscard]] std::string first_line_of(const CheckedDesign&);
/// All that a check found and shows.
[[nodiscard]] Page whole_check_page(const CheckedDesign&, const Detail&);
/// Passes in one line a rule: how many, and the least margin.
[[nodiscard]] TableBlock passes_table(std::span<const checks::Finding>);
/// The same default of many runs is one line.
[[nodiscard]] TableBlock assumptions_table(const design::Design&);

/// A key that `mend` would change, and why.
[[nodiscard]] const Columns<choice::MendedPart>& mended_columns();

/// What a day uses and how long the bank lasts; of an assessment that has a month.
/// "31 h", "60 d or more": how long the bank lasts without any charging.
[[nodiscard]] std::string autonomy_text(const energy::Assessment&);
[[nodiscard]] std::string energy_answer(const design::Design&, const energy::Assessment&);
/// What is used a day in the month that counts.
[[nodiscard]] TableBlock consumer_table(const energy::Assessment&);
[[nodiscard]] TableBlock month_table(const energy::Assessment&);

/// Of the wiring what is neither a run nor a device: consumers, batteries, charging.
[[nodiscard]] std::vector<Block> beside_runs(const design::Design&, const wiring::Assessment&);

}  // namespace housepower::report
