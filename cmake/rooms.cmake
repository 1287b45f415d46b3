# SPDX-License-Identifier: Apache-2.0
# The map of the house. Data goes from left to right; a room knows only rooms on its left. The list
# below is the single statement of it: the linker holds to it, tests/map.sh compares each #include.

# One static library housepower_<room>, alias housepower::<room>, of src/<room>/*.cpp, with its face
# in include/housepower/<room>/. A room without a source yet is its headers only. THIRD_PARTY are
# header-only libraries that the users of the room do not see; PRECOMPILED is a set of headers below.
# BATCH sources are compiled at once, but for those ALONE.
function(housepower_room room)
  cmake_parse_arguments(PARSE_ARGV 1 its "" "PRECOMPILED;BATCH" "LINKS;THIRD_PARTY;SOURCES;ALONE")
  file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/${room}/*.cpp)
  list(TRANSFORM its_ALONE PREPEND ${PROJECT_SOURCE_DIR}/src/${room}/)
  list(PREPEND sources ${its_SOURCES} ${its_ALONE})  # the longest first
  list(REMOVE_DUPLICATES sources)
  if(EMSCRIPTEN)  # a page in a browser makes no spreadsheet, and reads none
    list(FILTER sources EXCLUDE REGEX "/(spreadsheet|workbook(_sheets)?)\\.cpp$")
  endif()
  list(TRANSFORM its_LINKS PREPEND housepower_)
  set(target housepower_${room})
  if(sources)
    set(scope PUBLIC)
    add_library(${target} STATIC ${sources})
    housepower_settings(${target})
    target_link_libraries(${target} PRIVATE fmt::fmt $<BUILD_INTERFACE:${its_THIRD_PARTY}>)
    housepower_take_precompiled(${target} ${its_PRECOMPILED})
    housepower_in_batches(${target} ${its_BATCH} ${its_ALONE} ${its_SOURCES})
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
housepower_embed_text(first_van examples/two-berth.toml housepower/answers/first_van.hpp
  housepower::answers first_van)

housepower_quickest(energy/kernel.cpp energy/stay.cpp energy/stays_seen.cpp energy/weather.cpp
  energy/surroundings.cpp energy/draws.cpp energy/sun.cpp energy/years.cpp energy/plant.cpp
  wiring/network/solve.cpp page/json.cpp)

housepower_room(units PRECOMPILED units BATCH 6)
housepower_room(working LINKS units PRECOMPILED units BATCH 6)
housepower_room(reading LINKS units PRECOMPILED units BATCH 8 ALONE toml.cpp)
housepower_room(page    LINKS reading working THIRD_PARTY nlohmann_json::nlohmann_json PRECOMPILED units BATCH 7
  ALONE json.cpp spreadsheet.cpp)
housepower_room(tables  LINKS working reading SOURCES ${embedded_tables} PRECOMPILED units BATCH 7)
housepower_room(design  LINKS tables PRECOMPILED design BATCH 6 ALONE fields.cpp)
housepower_room(lists   LINKS design PRECOMPILED design BATCH 8)
housepower_room(parts   LINKS design PRECOMPILED design BATCH 8)
housepower_room(energy  LINKS parts PRECOMPILED design BATCH 8)
# The kernel once more for processors with wide registers; which of them runs is asked at run time.
if(CMAKE_SYSTEM_PROCESSOR MATCHES "x86_64|AMD64")
  foreach(by IN ITEMS "four -mavx2" "eight -mavx512f;-mavx512dq;-mprefer-vector-width=512")
    string(REPLACE " " ";" by "${by}")
    list(POP_FRONT by width)
    set_source_files_properties(${PROJECT_SOURCE_DIR}/src/energy/kernel_by_${width}.cpp PROPERTIES
      COMPILE_OPTIONS "${by}" SKIP_PRECOMPILE_HEADERS ON SKIP_UNITY_BUILD_INCLUSION ON)
  endforeach()
endif()
housepower_room(wiring  LINKS parts THIRD_PARTY Eigen3::Eigen PRECOMPILED design BATCH 7 ALONE network/solve.cpp)
housepower_room(checks  LINKS energy wiring PRECOMPILED checks BATCH 5)
housepower_room(choice  LINKS checks PRECOMPILED checks BATCH 7)
housepower_room(pack    LINKS choice PRECOMPILED checks BATCH 7)
housepower_room(range   LINKS choice PRECOMPILED checks BATCH 7)
housepower_room(answers LINKS pack range lists SOURCES ${first_van} PRECOMPILED checks BATCH 7)
housepower_room(diagram LINKS answers page PRECOMPILED checks BATCH 7)
housepower_room(report  LINKS diagram PRECOMPILED checks BATCH 6)
if(NOT EMSCRIPTEN)
  target_link_libraries(housepower_page PRIVATE housepower::xlsxwriter)
  target_link_libraries(housepower_lists PRIVATE housepower::zip pugixml::pugixml)
endif()

# All rooms together.
add_library(housepower INTERFACE)
target_link_libraries(housepower INTERFACE housepower_report)
add_library(housepower::housepower ALIAS housepower)

# housepower_outside(TARGET): what is no room, and asks them.
function(housepower_outside target)
  housepower_settings(${target})
  target_link_libraries(${target} PUBLIC housepower PRIVATE fmt::fmt)
endfunction()

# The commands, without what they run on.
file(GLOB commands CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/cli/*.cpp)
set(parser ${PROJECT_SOURCE_DIR}/src/cli/parse.cpp)
set(machine main.cpp machine_files.cpp machine_write.cpp threads.cpp)
list(TRANSFORM machine PREPEND ${PROJECT_SOURCE_DIR}/src/cli/)
list(REMOVE_ITEM commands ${machine} ${parser})
add_library(housepower_commands STATIC ${parser} ${commands})
housepower_outside(housepower_commands)
target_link_libraries(housepower_commands PRIVATE CLI11::CLI11)
housepower_take_precompiled(housepower_commands checks)
housepower_in_batches(housepower_commands 6 ${parser})

# The same asked by a page in a browser.
set(page_sources ask.cpp door.cpp texts.cpp)
list(TRANSFORM page_sources PREPEND ${PROJECT_SOURCE_DIR}/src/browser/)
add_library(housepower_one_thread STATIC ${PROJECT_SOURCE_DIR}/src/browser/one_thread.cpp)
housepower_outside(housepower_one_thread)
add_library(housepower_browser STATIC ${page_sources})
housepower_outside(housepower_browser)
target_link_libraries(housepower_browser PRIVATE housepower_commands housepower_one_thread)
target_include_directories(housepower_browser INTERFACE ${PROJECT_SOURCE_DIR}/src/browser)

if(EMSCRIPTEN)
  include(cmake/page.cmake)
else()  # the program, at build/housepower
  add_executable(housepower_cli ${machine})
  housepower_outside(housepower_cli)
  find_package(Threads REQUIRED)
  target_link_libraries(housepower_cli PRIVATE housepower_commands Threads::Threads)
  set_target_properties(housepower_cli PROPERTIES
    OUTPUT_NAME housepower RUNTIME_OUTPUT_DIRECTORY ${PROJECT_BINARY_DIR})
  housepower_take_precompiled(housepower_cli checks)
endif()

# The simulation is most of what a sanitized test does; without inlining it takes three times as long.
if(CMAKE_CXX_FLAGS MATCHES "-fsanitize=")
  target_compile_options(housepower_energy PRIVATE -O2)
endif()

# toml++ tests for characters that cannot occur by reaching code marked unreachable; harmless, but
# the sanitizer stops there.
if(CMAKE_CXX_FLAGS MATCHES "-fsanitize=")
  set_source_files_properties(${PROJECT_SOURCE_DIR}/src/reading/toml.cpp
    PROPERTIES COMPILE_OPTIONS -fno-sanitize=unreachable)
endif()
