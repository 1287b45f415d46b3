# SPDX-License-Identifier: Apache-2.0
# find_package(housepower): Boost stands in the headers; fmt and the writer of spreadsheets are linked
# by the static libraries. What only the insides include (Eigen, the JSON library) nobody has to have.
include(CMakeFindDependencyMacro)
find_dependency(Boost 1.74)
find_dependency(fmt 9)
include(${CMAKE_CURRENT_LIST_DIR}/housepower-xlsxwriter.cmake)
if(NOT TARGET housepower::xlsxwriter)
  set(housepower_FOUND FALSE)
  set(housepower_NOT_FOUND_MESSAGE "libxlsxwriter is missing (Debian: libxlsxwriter-dev)")
  return()
endif()
include(${CMAKE_CURRENT_LIST_DIR}/housepower-targets.cmake)
