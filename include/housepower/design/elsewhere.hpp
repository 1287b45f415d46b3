// SPDX-License-Identifier: Apache-2.0
// A design at another place, and in another month: for those who ask about many of them.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "housepower/design/document.hpp"
#include "housepower/tables/tables.hpp"

namespace housepower::design {

/// A town by its name or title in any letters, with its country or without, or by the beginning of
/// it: "Alice Springs", "HOBART", "Paris, France", "málaga", "launc". Null: there is none, or several.
[[nodiscard]] const tables::Town* town_named(const tables::Tables&, std::string_view written);
/// The name of a month, "july", however it was written: "Jul", "7"; "worst" for none in particular.
[[nodiscard]] std::optional<std::string_view> name_of_month(std::string_view written);
/// The twelve, as a design states them.
[[nodiscard]] std::string_view name_of_month(int number);  // from 0

/// The coldest air ever to expect there: the record less 3 K, since a van meets colder nights than one
/// station; where none was recorded, the mean night of the coldest month.
[[nodiscard]] Temperature coldest_to_expect(const tables::Town&);

/// Instead of the place that it states. Its own record low counts on where it is the colder one.
void put_at(Document&, const tables::Town&);
/// Instead of the month that it states; without a place it knows no month.
void put_in(Document&, std::string_view month);

}  // namespace housepower::design
