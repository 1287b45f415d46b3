// SPDX-License-Identifier: Apache-2.0
// What a judgement says.
#pragma once

#include <string_view>

namespace housepower {

/// Rising: the worst of many is the maximum. Not checked is never passed.
enum class Verdict { pass, not_checked, caution, fail };
[[nodiscard]] std::string_view word_of(Verdict);  // "pass", "not-checked", "caution", "fail"

}  // namespace housepower
