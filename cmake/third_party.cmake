# SPDX-License-Identifier: Apache-2.0
# Libraries of others. Only Boost stands in our public headers; fmt and, in native builds, the writer
# of spreadsheets are linked; the rest are headers used inside one room each.
if(EMSCRIPTEN)
  # The cross-compiler finds no package of the host and must not see the host's C headers: it gets
  # a folder with links to the header-only libraries, and targets that point there.
  set(headers ${PROJECT_BINARY_DIR}/headers)
  file(MAKE_DIRECTORY ${headers})
  foreach(folder boost toml++ nlohmann fmt)
    file(CREATE_LINK /usr/include/${folder} ${headers}/${folder} SYMBOLIC)
  endforeach()
  file(CREATE_LINK /usr/include/eigen3/Eigen ${headers}/Eigen SYMBOLIC)
  foreach(name Boost::headers fmt::fmt nlohmann_json::nlohmann_json Eigen3::Eigen)
    add_library(${name} INTERFACE IMPORTED)
    target_include_directories(${name} INTERFACE ${headers})
  endforeach()
else()
  find_package(Boost 1.74 REQUIRED)
  find_package(fmt 9 REQUIRED)
  find_package(Eigen3 3.4 REQUIRED)
  find_package(nlohmann_json 3.11 REQUIRED)
  find_package(CLI11 2.1 REQUIRED)
  include(cmake/housepower-xlsxwriter.cmake)
  if(NOT TARGET housepower::xlsxwriter)
    message(FATAL_ERROR "libxlsxwriter is missing")
  endif()
endif()
