// SPDX-License-Identifier: Apache-2.0
// What must hold of each formula of a room's list: a name one can type, a source, and a text that
// gives what its code gives.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <set>
#include <span>
#include <string_view>
#include <vector>

#include "working_adds_up.hpp"

namespace housepower::test {

/// `sample(kind, place)` gives harmless operands. The names go into a set: none stands there twice.
template <class Sample>
void texts_give_what_code_gives(std::span<const FormulaEntry> formulas, const Sample& sample,
                                std::set<std::string_view>& names) {
  for (const FormulaEntry& f : formulas) {
    CAPTURE(f.name);
    CHECK(names.insert(f.name).second);
    CHECK(f.name.find_first_not_of("abcdefghijklmnopqrstuvwxyz-0123456789") == f.name.npos);
    CHECK(f.about.operands.size() == f.kinds.size());
    CHECK_FALSE(f.about.text.empty());
    CHECK_FALSE(f.about.source.title.empty());
    std::vector<Number> operands;
    for (const Kind& kind : f.kinds) operands.push_back(sample(kind, operands.size()));
    Working working;
    const Number value = f.evaluate(operands, &working);
    CHECK(std::isfinite(value.si));
    CHECK(value.kind == f.kind);
    for (const Step& s : working) CHECK(text_against_code(s) == "");
  }
}

}  // namespace housepower::test
