# SPDX-License-Identifier: Apache-2.0
# find_package(housepower): Boost stands in the headers; fmt, the writer and what reads spreadsheets are
# linked by the static libraries. What only the insides include (Eigen, the JSON library) nobody has to have.
include(CMakeFindDependencyMacro)
find_dependency(Boost 1.74)
find_dependency(fmt 9)
find_dependency(pugixml 1.13)
include(${CMAKE_CURRENT_LIST_DIR}/housepower-spreadsheets.cmake)
if(NOT TARGET housepower::xlsxwriter OR NOT TARGET housepower::zip)
  set(housepower_FOUND FALSE)
  set(housepower_NOT_FOUND_MESSAGE
    "libxlsxwriter or libzip is missing (Debian: libxlsxwriter-dev, libzip-dev)")
  return()
endif()
include(${CMAKE_CURRENT_LIST_DIR}/housepower-targets.cmake)
