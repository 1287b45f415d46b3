# SPDX-License-Identifier: Apache-2.0
# What the program prints of itself and a system looks for: manual page and completions, made by the
# program once it is built; and a Debian package of them, the program and its documents (`cpack`).
set(folder ${PROJECT_BINARY_DIR}/program_files)
file(MAKE_DIRECTORY ${folder})
set(files ${folder}/housepower.1 ${folder}/housepower ${folder}/_housepower ${folder}/housepower.fish)
add_custom_command(OUTPUT ${files} DEPENDS housepower_cli VERBATIM
  COMMAND housepower_cli manual > ${folder}/housepower.1
  COMMAND housepower_cli completions bash > ${folder}/housepower
  COMMAND housepower_cli completions zsh > ${folder}/_housepower
  COMMAND housepower_cli completions fish > ${folder}/housepower.fish)
add_custom_target(housepower_program_files ALL DEPENDS ${files})

set(share ${CMAKE_INSTALL_DATADIR})
install(FILES ${folder}/housepower.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program)
install(FILES ${folder}/housepower DESTINATION ${share}/bash-completion/completions
  COMPONENT program)
install(FILES ${folder}/_housepower DESTINATION ${share}/zsh/vendor-completions COMPONENT program)
install(FILES ${folder}/housepower.fish DESTINATION ${share}/fish/vendor_completions.d
  COMPONENT program)
install(FILES README.md SAFETY.md SECURITY.md CHANGELOG.md LICENSE docs/EDITORS.md docs/FORMAT.md docs/GLOSSARY.md
  docs/SOURCES.md docs/MEASURED.md DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(DIRECTORY examples DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
# The page, where `./dev page` has built it; `housepower page` puts a maker's designs into it.
install(FILES ${PROJECT_BINARY_DIR}/housepower.html DESTINATION ${share}/housepower COMPONENT program
  OPTIONAL)

set(CPACK_GENERATOR DEB)
set(CPACK_COMPONENTS_ALL program)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_PACKAGE_CONTACT "the authors of housepower <housepower@example.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY ${PROJECT_DESCRIPTION})
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME housepower)
set(CPACK_DEBIAN_PROGRAM_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
include(CPack)
