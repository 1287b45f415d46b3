// SPDX-License-Identifier: Apache-2.0
// What may be chosen: the design's series of conductors and the types of devices, or, where its
// parts say what is in stock, that alone; and what it costs.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "housepower/design/document.hpp"
#include "housepower/design/money.hpp"
#include "housepower/tables/tables.hpp"

namespace housepower::choice::inside {

/// With rising copper: of that series, or of the conductors in stock.
[[nodiscard]] std::vector<tables::Conductor>
conductors_for(const design::Document&, const tables::Tables&, std::string_view series);

/// Within what writing a rating down may change.
[[nodiscard]] bool same_rating(Current, Current);
/// Whether the parts say which devices are in stock.
[[nodiscard]] bool devices_are_stocked(const design::Document&);
/// The ratings of a type that are in stock, rising; none where it is not.
[[nodiscard]] std::vector<Current> stocked_ratings(const design::Document&, std::string_view type);

/// As a part of the design states it; nothing where none does. Of a metre, and of a piece.
[[nodiscard]] std::optional<design::Money>
price_of_conductor(const design::Document&, const tables::Tables&, std::string_view size);
[[nodiscard]] std::optional<design::Money> price_of_device(const design::Document&,
                                                           std::string_view type, Current rating);

}  // namespace housepower::choice::inside
