// SPDX-License-Identifier: Apache-2.0
// The order of diagnostics, and the search for the word that somebody meant.
#include "housepower/reading/diagnostic.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace housepower {

void Diagnostics::sort_by_place() {
  std::map<std::string, std::size_t> first_met;
  for (const auto& d : all) first_met.try_emplace(d.place.file, first_met.size());
  const auto rank = [&](const Diagnostic& d) {
    return std::tuple(first_met.at(d.place.file), d.place.line, d.place.column);
  };
  std::stable_sort(all.begin(), all.end(),
                   [&](const Diagnostic& a, const Diagnostic& b) { return rank(a) < rank(b); });
}

namespace {
// Insertions, deletions, replacements and neighbours that changed places ("panle"), in bytes, by
// rows.
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1), before(row), next(row);
  for (std::size_t j = 0; j < row.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    next[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = row[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      next[j] = std::min({row[j] + 1, next[j - 1] + 1, replaced});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        next[j] = std::min(next[j], before[j - 2] + 1);
    }
    before.swap(row);
    row.swap(next);
  }
  return row.back();
}
}  // namespace

std::string_view nearest(std::string_view word, const std::vector<std::string_view>& known) {
  std::string_view best;
  std::size_t least = 3;
  for (const auto candidate : known) {
    const std::size_t longer = std::max(word.size(), candidate.size());
    if (longer - std::min(word.size(), candidate.size()) > 2)
      continue;  // also keeps a hostile word of megabytes cheap
    const std::size_t apart = distance(word, candidate);
    if (apart < least && apart <= longer / 3) {
      least = apart;
      best = candidate;
    }
  }
  return best;
}

std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& known) {
  const auto best = nearest(word, known);
  if (best.empty()) return {};
  return "did you mean \"" + std::string(best) + "\"?";
}

}  // namespace housepower
