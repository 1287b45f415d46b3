// SPDX-License-Identifier: Apache-2.0
#include "stock.hpp"

#include <algorithm>
#include <cmath>

namespace housepower::choice::inside {
namespace {

using design::Document;
using design::StockedConductor;
using design::StockedDevice;

template <class Kind> std::vector<const Kind*> parts_of(const Document& document) {
  std::vector<const Kind*> list;
  for (const auto& part : document.part)
    if (const auto* one = std::get_if<Kind>(&part.is)) list.push_back(one);
  return list;
}

template <class Kind> bool says_what_is_in_stock(const std::vector<const Kind*>& parts) {
  return std::any_of(parts.begin(), parts.end(),
                     [](const Kind* part) { return part->in_stock.has_value(); });
}

const tables::Conductor* named(const std::variant<tables::Conductor, tables::SizeProblem>& found) {
  return std::get_if<tables::Conductor>(&found);
}

}  // namespace

bool same_rating(Current a, Current b) { return std::abs(a / b - 1.0) < 1e-6; }

std::vector<tables::Conductor>
conductors_for(const Document& document, const tables::Tables& tables, std::string_view series) {
  const auto parts = parts_of<StockedConductor>(document);
  if (!says_what_is_in_stock(parts)) {
    const auto all = tables::series_named(tables, series);
    return {all.begin(), all.end()};
  }
  std::vector<tables::Conductor> list;
  for (const auto* part : parts) {
    const auto found = tables::conductor_named(tables, part->size);
    if (part->in_stock.value_or(false) && named(found)) list.push_back(*named(found));
  }
  std::sort(list.begin(), list.end(),
            [](const auto& a, const auto& b) { return a.copper < b.copper; });
  return list;
}

bool devices_are_stocked(const Document& document) {
  return says_what_is_in_stock(parts_of<StockedDevice>(document));
}

std::vector<Current> stocked_ratings(const Document& document, std::string_view type) {
  std::vector<Current> ratings;
  for (const auto* part : parts_of<StockedDevice>(document))
    if (part->type == type && part->in_stock.value_or(false))
      ratings.insert(ratings.end(), part->ratings.begin(), part->ratings.end());
  std::sort(ratings.begin(), ratings.end());
  ratings.erase(std::unique(ratings.begin(), ratings.end(), same_rating), ratings.end());
  return ratings;
}

std::optional<design::Money>
price_of_conductor(const Document& document, const tables::Tables& tables, std::string_view size) {
  const auto wanted = tables::conductor_named(tables, size);
  for (const auto* part : parts_of<StockedConductor>(document)) {
    const auto found = tables::conductor_named(tables, part->size);
    if (part->price && named(found) && named(wanted) && named(found)->name == named(wanted)->name)
      return design::money_of(*part->price);
  }
  return std::nullopt;
}

std::optional<design::Money> price_of_device(const Document& document, std::string_view type,
                                             Current rating) {
  for (const auto* part : parts_of<StockedDevice>(document))
    if (part->type == type && part->price &&
        std::any_of(part->ratings.begin(), part->ratings.end(),
                    [&](Current one) { return same_rating(one, rating); }))
      return design::money_of(*part->price);
  return std::nullopt;
}

}  // namespace housepower::choice::inside
