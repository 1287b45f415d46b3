// SPDX-License-Identifier: Apache-2.0
// The record that stays with a van: plain text that is only added to. Each entry holds the digest of
// the one before and ends with its own (SHA-256), so that a changed line shows; the last digest is the
// seal, which is kept elsewhere, so that a cut end shows too.
//
//   entry 2
//   at: 2026-03-14 10:20
//   by: line 7
//   what: readings
//   | verdict: pass
//   | file: van-0417.toml
//   |   schema = 1
//   before: 9f86d0…
//   digest: 2c26b4…
//
// The first entry holds the whole design as one text, so that what was built can be judged, drawn and
// compared when the design has long been another.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/answers/test_sheet.hpp"

namespace housepower::answers {

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

// ---- What entries hold ----

/// Who makes an entry, and when.
struct Stamp {
  std::string at, by;
};
/// "2026-03-14", "2026-03-14 10:20", "2026-03-14 10:20 UTC": a day that the calendar has, and perhaps a
/// time of it.
[[nodiscard]] bool is_time(std::string_view text);
/// What is fitted beyond the design: options by their names, parts by their serials.
struct Fitted {
  struct Part {
    std::string path;  // of the design: "bank/battery/1", "inverter/NAME", "run/NAME/protection/0"
    std::string serial;
  };
  std::vector<std::string> options{};
  std::vector<Part> parts{};
  [[nodiscard]] bool none() const { return options.empty() && parts.empty(); }
};
/// "bank/battery/1=SN 123". Nothing, and told under that name, where it is none.
[[nodiscard]] std::optional<Fitted::Part> part_of(std::string_view written, const std::string& name,
                                                  Diagnostics&);
/// Every path of a design that a part may bear.
[[nodiscard]] std::vector<std::string> part_paths(const design::Design&);
/// Told, where the design has no such part: with the nearest that it has.
void require_parts(const Fitted&, const design::Design&, const std::string& name, Diagnostics&);

/// The first: serial, design with its verdicts and the digest of its file, options and parts. The
/// opening was checked.
[[nodiscard]] RecordEntry entry_of_van(const Stamp&, const std::string& serial,
                                       const std::string& file, std::string_view text,
                                       const Opening&, const Fitted& = {});
/// Options and parts that are fitted later; a part at a place that has one replaces it.
[[nodiscard]] RecordEntry entry_of_fitted(const Stamp&, const Fitted&);
/// A file of readings with what they say of the van as it was built; `why_not`: they were not judged.
[[nodiscard]] RecordEntry entry_of_readings(const Stamp&, const std::string& file,
                                            std::string_view text,
                                            const std::optional<DiagnosedVan>&,
                                            const std::string& why_not);
/// Who releases the van, what stands against it, and why it goes all the same.
struct Release {
  std::string who;
  std::string design_verdicts;       // of the design as it was built; empty: not known
  std::vector<std::string> against;  // each in words; empty: nothing
  std::optional<std::string> despite{};
};
/// `built`: the design as it was built, checked; nothing: it cannot be, `why_not`.
[[nodiscard]] Release release_of(const std::string& who, const Record&,
                                 const std::optional<Opening>& built, const std::string& why_not);
[[nodiscard]] RecordEntry entry_of_release(const Stamp&, const Release&, const Record&);
[[nodiscard]] RecordEntry entry_of_note(const Stamp&, std::string_view text);

/// What the entries say of the van; each is empty where none says it.
struct VanOfRecord {
  std::string serial, van, design_file, design_digest;
  std::string design;           // as it was built, TOML; empty in a record that does not hold it
  std::string design_verdicts;  // as recorded, when it was begun
  std::string tested_at, tested_by, verdict;  // of the last readings
  std::vector<std::string> not_tested;        // what they left open, a line each
  std::string released_at, released_by, released_despite;
  Fitted fitted;  // of each place the last part
  /// Readings failed, and none that followed take that back.
  [[nodiscard]] bool failed() const;
};
[[nodiscard]] VanOfRecord van_of(const Record&);

/// The design as it was built, checked today; weather and tables come from where they are. Nothing, and
/// told, where the record does not hold it or it cannot be read.
[[nodiscard]] std::optional<Opening> as_built(const VanOfRecord&, Shelf&, const FileReader&,
                                              Diagnostics&);

/// A van that was built by one design, under what another asks of it.
struct Difference {
  std::string path, built, now;  // empty: it is not there
};
struct VanAgainstDesign {
  VanOfRecord van;
  std::string design_file;
  std::vector<Difference> differences;
  std::vector<checks::Finding> findings;  // that the van did not have when built; the worst first
  checks::Verdict verdict = checks::Verdict::pass;
  std::string why_not;  // what was built does not fit together with what is asked; else empty
  checks::Verdict when_built{};        // of the design that it was built by
  std::vector<std::string> not_built;  // runs that the van has not
  /// Runs whose name is another now, between the same ends: judged with the copper that was built.
  struct Renamed {
    std::string built, now;
  };
  std::vector<Renamed> renamed{};
  std::vector<std::string>
      left_out{};  // runs of the van that the design has not: nobody judges them
  std::vector<Fitted::Part> no_place{};  // parts of the van that the design has no place for
};
/// The design's demands (what runs, cases, place, promise, rules) on the copper, devices and equipment
/// of the van as it was built.
[[nodiscard]] VanAgainstDesign van_against(const VanOfRecord&, const Opening& built,
                                           const Opening& design, const std::string& design_file);

}  // namespace housepower::answers
