# SPDX-License-Identifier: Apache-2.0
# The engine of the page: build/browser/housepower.js and housepower.wasm, which answer in a worker and
# in Node what the program answers in a terminal.
set(browser ${PROJECT_SOURCE_DIR}/src/browser)
add_executable(housepower_engine ${browser}/door.cpp ${browser}/no_workbooks.cpp)
housepower_outside(housepower_engine)
target_link_libraries(housepower_engine PRIVATE housepower_browser housepower_commands)
set(into ${PROJECT_SOURCE_DIR}/build/browser)
set_target_properties(housepower_engine PROPERTIES
  OUTPUT_NAME housepower RUNTIME_OUTPUT_DIRECTORY ${into} LINK_DEPENDS ${browser}/ask.js)
# Linked at -O1, for the tool of the next step needs the names of what is taken from JavaScript.
target_link_options(housepower_engine PRIVATE -O1 -fwasm-exceptions --no-entry --post-js ${browser}/ask.js
  -sMODULARIZE=1 -sEXPORT_NAME=createHousepower -sENVIRONMENT=worker,node -sFILESYSTEM=0
  -sALLOW_MEMORY_GROWTH=1 -sEXPORTED_FUNCTIONS=_housepower_ask,_housepower_free,_malloc,_free)
# Small, and nothing put into another function: a browser compiles a large function twice, the second
# time while it answers.
find_program(WASM_OPT wasm-opt REQUIRED)
add_custom_command(TARGET housepower_engine POST_BUILD VERBATIM
  COMMAND ${WASM_OPT} -Oz -aimfs 0 -fimfs 0 -ocimfs 0 --enable-exception-handling --enable-simd
    --enable-mutable-globals --enable-bulk-memory --enable-nontrapping-float-to-int
    --enable-sign-ext --enable-reference-types ${into}/housepower.wasm -o ${into}/housepower.wasm)
