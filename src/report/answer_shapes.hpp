// SPDX-License-Identifier: Apache-2.0
// What each JSON answer holds, beside the head that all have: told in the file that makes it, below
// its maker; answer_schema.cpp lists them by command.
#pragma once

#include <initializer_list>
#include <string_view>
#include <vector>

#include "housepower/page/json_shape.hpp"
#include "housepower/working/verdict.hpp"

namespace housepower::report {

using page::JsonKeys;
namespace is = page::is;

/// The words of these values of an enumeration.
template <class Enum> page::Json words_of(std::initializer_list<Enum> values) {
  std::vector<std::string_view> words;
  for (const Enum value : values) words.push_back(word_of(value));
  return is::words(words);
}

// What several answers share.
[[nodiscard]] page::Json verdict_shape();  // of one finding: not checked is one, too
[[nodiscard]] JsonKeys verdict_keys();     // of a whole design
[[nodiscard]] JsonKeys design_keys();      // name, file, digest
[[nodiscard]] page::Json counts_shape();   // of findings, by verdict
[[nodiscard]] page::Json assumed_shape();  // of keys that were not said
[[nodiscard]] page::Json place_shape();    // file, line, column
[[nodiscard]] JsonKeys finding_keys();
[[nodiscard]] page::Json step_shape();
[[nodiscard]] page::Json source_shape();
[[nodiscard]] page::Json diagnostic_shape();
[[nodiscard]] JsonKeys energy_keys();
[[nodiscard]] JsonKeys wiring_keys();
[[nodiscard]] JsonKeys sizing_keys();
[[nodiscard]] page::Json choice_shape();
[[nodiscard]] page::Json days_or_null();  // two, of which neither need be known

// The answers.
[[nodiscard]] JsonKeys diagnostics_answer();
[[nodiscard]] JsonKeys check_answer();
[[nodiscard]] JsonKeys finding_answer();
[[nodiscard]] JsonKeys energy_answer_keys();
[[nodiscard]] JsonKeys wiring_answer();
[[nodiscard]] JsonKeys mend_answer();
[[nodiscard]] JsonKeys mend_range_answer();
[[nodiscard]] JsonKeys stay_answer();
[[nodiscard]] JsonKeys first_figure_answer();
[[nodiscard]] JsonKeys pack_answer();
[[nodiscard]] JsonKeys range_answer();
[[nodiscard]] JsonKeys compare_answer();
[[nodiscard]] JsonKeys test_sheet_answer();
[[nodiscard]] JsonKeys diagnosis_answer();
[[nodiscard]] JsonKeys record_answer();
[[nodiscard]] JsonKeys handover_answer();
[[nodiscard]] JsonKeys against_answer();
[[nodiscard]] JsonKeys looms_answer();
[[nodiscard]] JsonKeys replace_answer();
[[nodiscard]] JsonKeys build_list_answer();
[[nodiscard]] JsonKeys schedule_answer();
[[nodiscard]] JsonKeys cable_answer();
[[nodiscard]] JsonKeys list_answer();
[[nodiscard]] JsonKeys list_csv_answer();
[[nodiscard]] JsonKeys rule_list_answer();
[[nodiscard]] JsonKeys rule_answer();
[[nodiscard]] JsonKeys formula_list_answer();
[[nodiscard]] JsonKeys formula_answer();
[[nodiscard]] JsonKeys table_list_answer();
[[nodiscard]] JsonKeys table_answer();

}  // namespace housepower::report
