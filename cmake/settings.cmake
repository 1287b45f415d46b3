# SPDX-License-Identifier: Apache-2.0
# How our own code is compiled: housepower_settings(target), and the headers precompiled once.

# A fast edit-and-test turn: the compiler's cache, told that a precompiled header is no obstacle. It asks
# by what was read, byte for byte (depend): by what the preprocessor leaves of it, a header that changed in
# its comments alone brings back the precompiled one of before, and g++ then reads that header twice.
# The namespace keeps away what was kept before it asked so.
find_program(HOUSEPOWER_CCACHE ccache)
if(HOUSEPOWER_CCACHE AND PROJECT_IS_TOP_LEVEL AND NOT CMAKE_CXX_COMPILER_LAUNCHER)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${CMAKE_COMMAND} -E env
    CCACHE_DEPEND=1 CCACHE_NAMESPACE=housepower-by-bytes
    CCACHE_SLOPPINESS=pch_defines,time_macros,include_file_mtime,include_file_ctime
    ${HOUSEPOWER_CCACHE})
endif()

function(housepower_settings target)
  target_compile_features(${target} PUBLIC cxx_std_20)
  set_target_properties(${target} PROPERTIES CXX_EXTENSIONS OFF)
  target_compile_options(${target} PRIVATE
    -Wall -Wextra -Wpedantic -Wconversion -Wshadow
    $<$<BOOL:${HOUSEPOWER_STRICT}>:-Werror>  # the presets'; other flags bring false alarms of g++ 12
    -ffp-contract=off)  # the same last digit on every processor
  target_compile_definitions(${target} PRIVATE HOUSEPOWER_VERSION="${PROJECT_VERSION}")
  if(EMSCRIPTEN)
    # Without the first every `catch` is dead, and nothing says so. With -Oz em++ forbids to put even
    # the smallest function into another; a quantity's + is one, and the engine ten times slower.
    target_compile_options(${target} PRIVATE -fwasm-exceptions -finline-functions)
  endif()
endfunction()

# A page is downloaded, so it is compiled to be small, but for what runs millions of times: such a
# source is compiled by itself.
function(housepower_quickest)
  if(EMSCRIPTEN)
    list(TRANSFORM ARGN PREPEND ${PROJECT_SOURCE_DIR}/src/)
    set_source_files_properties(${ARGN} PROPERTIES COMPILE_OPTIONS -O3)
  endif()
endfunction()

# housepower_precompiled(NAME HEADERS…): headers parsed once, which targets then take by
# housepower_take_precompiled(TARGET NAME). Those need the same options.
function(housepower_precompiled name)
  if(EMSCRIPTEN)
    return()
  endif()
  set(target housepower_headers_${name})
  file(CONFIGURE OUTPUT ${CMAKE_CURRENT_BINARY_DIR}/${target}.cpp CONTENT "")
  add_library(${target} OBJECT ${CMAKE_CURRENT_BINARY_DIR}/${target}.cpp)
  housepower_settings(${target})
  target_include_directories(${target} PRIVATE ${PROJECT_SOURCE_DIR}/include)
  target_link_libraries(${target} PRIVATE Boost::headers fmt::fmt)
  target_precompile_headers(${target} PRIVATE ${ARGN})
endfunction()

function(housepower_take_precompiled target name)
  if(TARGET housepower_headers_${name})
    target_precompile_headers(${target} REUSE_FROM housepower_headers_${name})
  endif()
endfunction()

# Several sources at once: what they take in is read once a batch, and that is most of the work. Names
# without linkage are therefore each used by one file of a room. File by file proves that every one
# includes what it uses.
option(HOUSEPOWER_FILE_BY_FILE "Compile each source by itself" OFF)

# housepower_in_batches(TARGET SIZE ALONE…): so many sources a batch; ALONE are those that hold a
# heavy library to themselves.
function(housepower_in_batches target size)
  if(HOUSEPOWER_FILE_BY_FILE)
    return()
  endif()
  set_target_properties(${target} PROPERTIES
    UNITY_BUILD ON UNITY_BUILD_MODE BATCH UNITY_BUILD_BATCH_SIZE ${size})
  set_source_files_properties(${ARGN} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
endfunction()
