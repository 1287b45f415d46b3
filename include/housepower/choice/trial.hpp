// SPDX-License-Identifier: Apache-2.0
// A changed design, tried: what the files of this room share. Rules are known here by their names,
// verdicts, subjects and sign tables only.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "housepower/checks/rule.hpp"

namespace housepower::choice {

using checks::Finding;
using checks::Verdict;
using design::Document;
using design::Subject;

/// With the ordinary defaults: they are the harsher ones, so what passes here passes in `check`.
/// Energy does not hang on conductors or devices, so it is assessed once and given.
struct Trial {
  design::Design design;
  wiring::Assessment wiring;
  std::vector<Finding> findings;
};
[[nodiscard]] std::optional<Trial> try_out(Document, const tables::Tables&,
                                           const energy::Assessment&);

/// Of a design as it is; nothing where it does not resolve.
[[nodiscard]] std::optional<energy::Assessment> energy_of(const Document&, const tables::Tables&);

/// The worst verdict of each rule on each subject, to tell what is new.
class Standing {
public:
  explicit Standing(const std::vector<Finding>&);
  /// Caution or worse, and worse than it stood.
  [[nodiscard]] bool is_new(const Finding&) const;

private:
  std::map<std::pair<std::string_view, Subject>, Verdict> worst_;
};

/// The runs that a finding's subject hangs on, nearest first: its own, then those of the ways there
/// and back. All of a case; none of the bank, the vehicle and what else is no place.
[[nodiscard]] std::vector<std::size_t> runs_of(const Trial&, const Subject&);

/// The run that a subject is, or is a part of.
[[nodiscard]] std::optional<std::size_t> own_run(const Subject&);
/// The device of a run that a subject is, by its number.
[[nodiscard]] std::optional<std::size_t> device_number(const Subject&);
[[nodiscard]] Subject subject_of_run(const Document&, std::size_t run);
/// What may be done about a rule's finding by a change of the wiring, by its sign table.
[[nodiscard]] std::optional<checks::Effect> effect_of(std::string_view rule, checks::Parameter);

}  // namespace housepower::choice
