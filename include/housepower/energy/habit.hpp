// SPDX-License-Identifier: Apache-2.0
// How people use what there is: sparingly or freely, how many they are, and what they leave off.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/working/source.hpp"

namespace housepower::energy {

enum class Use { frugal, typical, heavy };
[[nodiscard]] std::string_view word_of(Use);  // "frugal", "typical", "heavy"
/// Factor on the hours in which people use something: 0.75, 1, 1.4.
[[nodiscard]] Ratio use_factor(Use);
inline constexpr Source use_source{SourceKind::common_practice, "habits of people who camp",
                                   "frugal 0.75, typical 1, heavy 1.4 of the stated hours; more "
                                   "people in proportion"};

struct Habit {
  Use use = Use::typical;
  std::optional<int> day_of_seven{};  // 0 to 6; absent: the mean of the week
  std::vector<int> left_off{};        // appliances, by their index
  std::optional<int> people{};        // absent: those for whom the hours are written
};

/// Factor on the hours of one appliance. What people use follows their habits and their number; the
/// van's own use does not. Where nobody said which it is, more use raises it and less does not
/// lower it.
[[nodiscard]] Ratio hours_factor(const design::Design&, const design::resolved::Appliance&,
                                 const Habit&);

}  // namespace housepower::energy
