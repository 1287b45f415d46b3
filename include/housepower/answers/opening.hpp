// SPDX-License-Identifier: Apache-2.0
// The way from a question to a design, and to a checked one: what every answer begins with. Nothing
// here opens a file; what is wrong comes back as diagnostics.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "housepower/answers/checked_design.hpp"
#include "housepower/answers/question.hpp"
#include "housepower/answers/shelf.hpp"
#include "housepower/checks/rule.hpp"
#include "housepower/design/open.hpp"

namespace housepower::answers {

/// A design with what it stands on; `checked` is empty until `check`.
struct Opening {
  std::shared_ptr<const tables::Tables> tables;
  std::optional<design::Document> document;
  std::optional<design::Design> design;
  Node node;
  checks::Checked checked;
  std::string digest;               // of every text that was read and every override
  std::vector<std::string> told{};  // what the question changed, to be said in the answer
  [[nodiscard]] CheckedDesign checked_design() const { return {*design, checked, digest}; }
};

/// Which towns of the climate table are at hand: for questions about other places, every one.
enum class Towns { its_own, every };

/// The design of a question, unchecked. Nothing where there is an error.
[[nodiscard]] std::optional<Opening> open(const Question&, Shelf&, const FileReader&, Diagnostics&,
                                          Towns = Towns::its_own);
/// The only whole check of an opening: judged, softened, each finding at its place in the file.
void check(Opening&, checks::Workings = checks::Workings::left_out);
/// Both.
[[nodiscard]] std::optional<Opening> open_checked(const Question&, Shelf&, const FileReader&,
                                                  Diagnostics&,
                                                  checks::Workings = checks::Workings::left_out);

// ---- The steps by themselves: for many designs on the same tables ----

/// A design as text, before tables are at hand.
struct ReadDesign {
  Node node;
  std::vector<std::string> texts;   // every file and override, for the digest
  std::vector<std::string> told{};  // of the question
};
[[nodiscard]] std::optional<ReadDesign> read_of(const Question&, const FileReader&, Diagnostics&,
                                                ParsedFiles* bases = nullptr);
[[nodiscard]] std::optional<Opening> open_read(ReadDesign, const Question&, Shelf&,
                                               const FileReader&, Diagnostics&,
                                               Towns = Towns::its_own);
/// On tables that it shares with others; a design with a weather file adds that to a copy.
[[nodiscard]] std::optional<Opening> open_on(std::shared_ptr<const tables::Tables>, ReadDesign,
                                             const Question&, const FileReader&, Diagnostics&);

}  // namespace housepower::answers
