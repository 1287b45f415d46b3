# SPDX-License-Identifier: Apache-2.0
# The writer of spreadsheets brings no CMake package, and that of the reader of archives asks for its
# programs too: for our own build and for find_package(housepower).
foreach(name IN ITEMS xlsxwriter zip)
  string(TOUPPER HOUSEPOWER_${name} variable)
  find_library(${variable} ${name})
  if(${variable} AND NOT TARGET housepower::${name})
    add_library(housepower::${name} UNKNOWN IMPORTED)
    set_target_properties(housepower::${name} PROPERTIES IMPORTED_LOCATION ${${variable}})
  endif()
endforeach()
