// SPDX-License-Identifier: Apache-2.0
// A workbook is told from text in every build, also where none is read.
#include "workbook_inside.hpp"

namespace housepower {

bool is_workbook(std::string_view bytes) {
  return bytes.starts_with(workbook::begins_archive) ||
         bytes.starts_with(workbook::begins_old_workbook);
}

}  // namespace housepower
