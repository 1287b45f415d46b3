# SPDX-License-Identifier: Apache-2.0
# What `cmake --install` leaves, so that find_package(housepower) gives housepower::housepower and
# housepower::<room>, and `pkg-config --cflags --libs housepower` the same.
include(CMakePackageConfigHelpers)

get_directory_property(targets BUILDSYSTEM_TARGETS)
list(FILTER targets EXCLUDE REGEX "_(headers_[a-z]+|cli|commands|browser|one_thread)$")
install(TARGETS ${targets} EXPORT housepower
  INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
if(TARGET housepower_cli)
  install(TARGETS housepower_cli COMPONENT program)
  if(PROJECT_IS_TOP_LEVEL)
    include(cmake/program_files.cmake)
  endif()
endif()
install(DIRECTORY include/housepower DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR})

set(folder ${CMAKE_INSTALL_LIBDIR}/cmake/housepower)
install(EXPORT housepower NAMESPACE housepower:: DESTINATION ${folder} FILE housepower-targets.cmake)
write_basic_package_version_file(housepower-config-version.cmake COMPATIBILITY SameMinorVersion)
install(FILES cmake/housepower-config.cmake cmake/housepower-spreadsheets.cmake
  ${PROJECT_BINARY_DIR}/housepower-config-version.cmake DESTINATION ${folder})

set(libraries "")
foreach(target IN LISTS targets)
  get_target_property(type ${target} TYPE)
  if(type STREQUAL STATIC_LIBRARY)
    string(PREPEND libraries "-l${target} ")  # rooms are made from left to right
  endif()
endforeach()
file(RELATIVE_PATH up /${CMAKE_INSTALL_LIBDIR}/pkgconfig /)
string(REGEX REPLACE "/$" "" up "${up}")
string(STRIP "${libraries}" libraries)
configure_file(cmake/housepower.pc.in housepower.pc @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/housepower.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)
