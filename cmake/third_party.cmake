# SPDX-License-Identifier: Apache-2.0
# Libraries of others. Only Boost stands in our public headers; fmt and, in native builds, what writes
# and reads spreadsheets are linked; the rest are headers used inside one room each.
if(EMSCRIPTEN)
  # The cross-compiler finds no package of the host and must not see the host's C headers: it gets
  # a folder with links to the header-only libraries, and targets that point there.
  set(headers ${PROJECT_BINARY_DIR}/headers)
  file(MAKE_DIRECTORY ${headers})
  foreach(folder boost toml++ nlohmann fmt CLI)
    file(CREATE_LINK /usr/include/${folder} ${headers}/${folder} SYMBOLIC)
  endforeach()
  file(CREATE_LINK /usr/include/eigen3/Eigen ${headers}/Eigen SYMBOLIC)
  foreach(name Boost::headers fmt::fmt nlohmann_json::nlohmann_json Eigen3::Eigen
      CLI11::CLI11)
    add_library(${name} INTERFACE IMPORTED)
    target_include_directories(${name} INTERFACE ${headers})
  endforeach()
  # fmt is not of headers alone: its one source, which its package leaves out, is made of them.
  add_library(housepower_fmt STATIC ${PROJECT_SOURCE_DIR}/src/browser/fmt.cpp)
  target_include_directories(housepower_fmt SYSTEM PRIVATE ${headers})
  target_compile_features(housepower_fmt PRIVATE cxx_std_20)
  target_compile_options(housepower_fmt PRIVATE -fwasm-exceptions -finline-functions)
  target_link_libraries(fmt::fmt INTERFACE housepower_fmt)
else()
  find_package(Boost 1.74 REQUIRED)
  find_package(fmt 9 REQUIRED)
  find_package(Eigen3 3.4 REQUIRED)
  find_package(nlohmann_json 3.11 REQUIRED)
  find_package(CLI11 2.1 REQUIRED)
  find_package(pugixml 1.13 REQUIRED)
  include(cmake/housepower-spreadsheets.cmake)
  foreach(name IN ITEMS xlsxwriter zip)
    if(NOT TARGET housepower::${name})
      message(FATAL_ERROR "lib${name} is missing")
    endif()
  endforeach()
endif()
