# SPDX-License-Identifier: Apache-2.0
# The writer of spreadsheets brings no CMake package: for our own build and for find_package(housepower).
find_library(HOUSEPOWER_XLSXWRITER xlsxwriter)
if(HOUSEPOWER_XLSXWRITER AND NOT TARGET housepower::xlsxwriter)
  add_library(housepower::xlsxwriter UNKNOWN IMPORTED)
  set_target_properties(housepower::xlsxwriter PROPERTIES IMPORTED_LOCATION ${HOUSEPOWER_XLSXWRITER})
endif()
