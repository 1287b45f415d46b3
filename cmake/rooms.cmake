# SPDX-License-Identifier: Apache-2.0
# The map of the house. Data goes from left to right; a room knows only rooms on its left. The list
# below is the single statement of it: the linker holds to it, tests/map.sh compares each #include.

# One static library housepower_<room>, alias housepower::<room>, of src/<room>/*.cpp, with its face
# in include/housepower/<room>/. A room without a source yet is its headers only. THIRD_PARTY are
# header-only libraries that the users of the room do not see; PRECOMPILED is a set of headers below.
function(housepower_room room)
  cmake_parse_arguments(PARSE_ARGV 1 its "" "PRECOMPILED" "LINKS;THIRD_PARTY;SOURCES")
  file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/${room}/*.cpp)
  if(EMSCRIPTEN)  # a page in a browser makes no spreadsheet
    list(FILTER sources EXCLUDE REGEX "/spreadsheet\\.cpp$")
  endif()
  list(APPEND sources ${its_SOURCES})
  list(TRANSFORM its_LINKS PREPEND housepower_)
  set(target housepower_${room})
  if(sources)
    set(scope PUBLIC)
    add_library(${target} STATIC ${sources})
    housepower_settings(${target})
    target_link_libraries(${target} PRIVATE fmt::fmt $<BUILD_INTERFACE:${its_THIRD_PARTY}>)
    housepower_take_precompiled(${target} ${its_PRECOMPILED})
  else()
    set(scope INTERFACE)
    add_library(${target} INTERFACE)
  endif()
  target_include_directories(${target} ${scope} $<BUILD_INTERFACE:${PROJECT_SOURCE_DIR}/include>)
  target_link_libraries(${target} ${scope} Boost::headers ${its_LINKS})
  set_target_properties(${target} PROPERTIES EXPORT_NAME ${room})
  add_library(housepower::${room} ALIAS ${target})
endfunction()

# Headers that most of a room's sources take in, parsed once: as far as the design, and as far as the
# rules. The browser's build goes without, and so proves that every file includes what it uses.
set(everywhere <algorithm> <array> <cmath> <functional> <map> <optional> <span> <string>
  <string_view> <variant> <vector> <fmt/format.h>)
set(faces ${PROJECT_SOURCE_DIR}/include/housepower)
housepower_precompiled(units ${everywhere} ${faces}/units/number.hpp)
housepower_precompiled(design ${everywhere} ${faces}/design/design.hpp ${faces}/units/unit.hpp)
housepower_precompiled(checks ${everywhere} ${faces}/checks/rule.hpp ${faces}/units/unit.hpp)

housepower_embed(embedded_tables)

housepower_room(units PRECOMPILED units)
housepower_room(working LINKS units PRECOMPILED units)
housepower_room(reading LINKS units PRECOMPILED units)
housepower_room(page    LINKS reading working THIRD_PARTY nlohmann_json::nlohmann_json PRECOMPILED units)
housepower_room(tables  LINKS working reading SOURCES ${embedded_tables} PRECOMPILED units)
housepower_room(design  LINKS tables PRECOMPILED design)
housepower_room(lists   LINKS design PRECOMPILED design)
housepower_room(parts   LINKS design PRECOMPILED design)
housepower_room(energy  LINKS parts PRECOMPILED design)
housepower_room(wiring  LINKS parts THIRD_PARTY Eigen3::Eigen PRECOMPILED design)
housepower_room(checks  LINKS energy wiring PRECOMPILED checks)
housepower_room(choice  LINKS checks PRECOMPILED checks)
housepower_room(pack    LINKS choice PRECOMPILED checks)
housepower_room(range   LINKS choice PRECOMPILED checks)
housepower_room(answers LINKS pack range lists PRECOMPILED checks)
housepower_room(diagram LINKS answers page PRECOMPILED checks)
housepower_room(report  LINKS diagram PRECOMPILED checks)
if(NOT EMSCRIPTEN)
  target_link_libraries(housepower_page PRIVATE xlsxwriter)
endif()

# All rooms together.
add_library(housepower INTERFACE)
target_link_libraries(housepower INTERFACE housepower_report)
add_library(housepower::housepower ALIAS housepower)

# The program, at build/housepower.
file(GLOB cli_sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/cli/*.cpp)
if(cli_sources AND NOT EMSCRIPTEN)
  add_executable(housepower_cli ${cli_sources})
  housepower_settings(housepower_cli)
  find_package(Threads REQUIRED)
  target_link_libraries(housepower_cli PRIVATE housepower fmt::fmt CLI11::CLI11 Threads::Threads)
  set_target_properties(housepower_cli PROPERTIES
    OUTPUT_NAME housepower RUNTIME_OUTPUT_DIRECTORY ${PROJECT_BINARY_DIR})
  housepower_take_precompiled(housepower_cli checks)
endif()

# toml++ tests for characters that cannot occur by reaching code marked unreachable; harmless, but
# the sanitizer stops there.
if(CMAKE_CXX_FLAGS MATCHES "-fsanitize=")
  set_source_files_properties(${PROJECT_SOURCE_DIR}/src/reading/toml.cpp
    PROPERTIES COMPILE_OPTIONS -fno-sanitize=unreachable)
endif()
