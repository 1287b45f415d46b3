// SPDX-License-Identifier: Apache-2.0
// The van's record for people and programs: all of it, the page that is handed over with the van, and
// what the van would fail under another design.
#pragma once

#include <string>

#include "housepower/answers/record.hpp"
#include "housepower/page/page.hpp"

namespace housepower::report {

using namespace page;

/// `every_entry`: else only whether it is intact, with its seal.
[[nodiscard]] Page record_page(const answers::Record&, bool every_entry = true);
[[nodiscard]] std::string record_json(const answers::Record&);
/// The same of one that was just made or added to, with its text as it stands in the file.
[[nodiscard]] std::string written_record_json(const answers::Record&, const std::string& text);

/// For the owner: what is fitted, what it can do, what never to do, where the fuses are, how to wake
/// and to isolate the bank; then for a later workshop the diagram and the figures as it was built.
struct Handover {
  const answers::Record& record;
  const answers::VanOfRecord& van;
  const answers::Opening& built;
};
[[nodiscard]] Page handover_page(const Handover&);
[[nodiscard]] std::string handover_json(const Handover&);

[[nodiscard]] Page against_page(const answers::VanAgainstDesign&);
[[nodiscard]] std::string against_json(const answers::VanAgainstDesign&);

}  // namespace housepower::report
