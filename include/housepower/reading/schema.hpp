// SPDX-License-Identifier: Apache-2.0
// The JSON Schema of a file that stands alone, and of one that adds to another.
#pragma once

#include "housepower/reading/fields.hpp"

namespace housepower {

/// A pack `extends` another file: what that has need not stand in it again.
enum class SchemaOf { whole, pack };
[[nodiscard]] std::string json_schema(FieldList, std::string_view title, SchemaOf);

}  // namespace housepower
