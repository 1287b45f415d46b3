# SPDX-License-Identifier: Apache-2.0
# find_package(housepower): Boost stands in the headers, fmt is linked by the static libraries.
include(CMakeFindDependencyMacro)
find_dependency(Boost 1.74)
find_dependency(fmt)
include(${CMAKE_CURRENT_LIST_DIR}/housepower-targets.cmake)
