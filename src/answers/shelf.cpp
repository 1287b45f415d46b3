// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/shelf.hpp"

#include <algorithm>

namespace housepower::answers {
namespace {

/// Each is up to a megabyte: what was read first gives way.
constexpr std::size_t most_kept = 8;

}  // namespace

/// What names no profile holds all of them, and their ampacity tables; no town, all towns.
bool Shelf::Kept::holds(const tables::Needed& needed) const {
  const bool its_rules =
      profile.empty() || (profile == needed.profile && ampacity == needed.ampacity);
  const bool its_towns = !needed.towns || (towns && (town.empty() || town == needed.town));
  return views == needed.views && its_rules && its_towns;
}

std::shared_ptr<const tables::Tables> Shelf::tables(const tables::Needed& needed,
                                                    Diagnostics& diagnostics) {
  const std::lock_guard lock(mutex_);
  const auto tell = [&](const Diagnostics& told) {
    diagnostics.all.insert(diagnostics.all.end(), told.all.begin(), told.all.end());
  };
  const auto found = std::find_if(kept_.begin(), kept_.end(),
                                  [&](const Kept& kept) { return kept.holds(needed); });
  if (found != kept_.end()) return tell(found->told), found->tables;
  const auto embedded = tables::embedded_tables();
  std::vector<tables::NamedText> texts(embedded.begin(), embedded.end());
  for (const TableText& one : own_) texts.push_back({one.name, one.text});
  Diagnostics told;
  // A broken table is told today, not on the day when an answer first needs it.
  if (!own_.empty() && !tables::read_tables(texts, {}, told)) return tell(told), nullptr;
  auto read = tables::read_tables(texts, needed, told);
  tell(told);
  if (!read) return nullptr;
  if (kept_.size() == most_kept) kept_.erase(kept_.begin());
  kept_.push_back({needed.towns, needed.views, std::string(needed.profile),
                   std::string(needed.ampacity), std::string(needed.town),
                   std::make_shared<const tables::Tables>(*std::move(read)), std::move(told)});
  return kept_.back().tables;
}

}  // namespace housepower::answers
