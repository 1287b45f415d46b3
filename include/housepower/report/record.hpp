// SPDX-License-Identifier: Apache-2.0
// The record that stays with a van: plain text that is only added to. Each entry holds the digest of
// the one before and ends with its own (SHA-256), so that a changed line shows; the last digest is the
// seal, which is kept elsewhere, so that a cut end shows too.
//
//   entry 2
//   at: 2026-03-14 10:20
//   by: line 7
//   what: readings
//   | schema = 1
//   before: 9f86d0…
//   digest: 2c26b4…
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/page/page.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::report {

using namespace page;

struct RecordEntry {
  std::string at, by, what;
  std::vector<std::string> lines;
  std::string before, digest;
  Place place;  // of its first line
};

struct Record {
  std::vector<RecordEntry> entries;
  /// Where it does not hold together, and why; nothing: it is intact.
  std::optional<Diagnostic> broken{};
  [[nodiscard]] std::string seal() const {
    return entries.empty() ? std::string() : entries.back().digest;
  }
};

/// The digest of what comes before the first entry.
inline constexpr std::string_view nothing_before = "none";

/// An entry as text, after the one with the digest `before`.
[[nodiscard]] std::string entry_text(std::size_t number, RecordEntry, std::string_view before);
/// Every entry that can be read, and the first place where the chain breaks. `seal`: what its last
/// digest must be, where that is known.
[[nodiscard]] Record read_record(std::string_view text, std::string_view file,
                                 const std::optional<std::string>& seal = {});

[[nodiscard]] Page record_page(const Record&);
[[nodiscard]] std::string record_json(const Record&);

}  // namespace housepower::report
