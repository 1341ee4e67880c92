# What `cmake --install` puts where, and the Debian package that CPack makes of it.
include(GNUInstallDirs)

# Manual page and completions are the program's own output.
set(extras ${PROJECT_BINARY_DIR}/extras)
add_custom_command(
  OUTPUT ${extras}/tailproof.1 ${extras}/tailproof.bash ${extras}/_tailproof ${extras}/tailproof.fish
  COMMAND ${CMAKE_COMMAND} -E make_directory ${extras}
  COMMAND tailproof_program manual --output ${extras}/tailproof.1
  COMMAND tailproof_program completions bash --output ${extras}/tailproof.bash
  COMMAND tailproof_program completions zsh --output ${extras}/_tailproof
  COMMAND tailproof_program completions fish --output ${extras}/tailproof.fish
  DEPENDS tailproof_program VERBATIM)
add_custom_target(tailproof_extras ALL DEPENDS ${extras}/tailproof.1)

set(data ${CMAKE_INSTALL_DATADIR})
set(documents ${data}/doc/tailproof)
install(TARGETS tailproof_program RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES ${extras}/tailproof.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${extras}/tailproof.bash DESTINATION ${data}/bash-completion/completions RENAME tailproof)
# Debian's zsh looks into the first of these under /usr, every zsh into the second under /usr/local.
install(FILES ${extras}/_tailproof DESTINATION ${data}/zsh/vendor-completions)
install(FILES ${extras}/_tailproof DESTINATION ${data}/zsh/site-functions)
install(FILES ${extras}/tailproof.fish DESTINATION ${data}/fish/vendor_completions.d)
install(FILES ${PROJECT_SOURCE_DIR}/README.md DESTINATION ${documents})
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${documents} RENAME copyright)
# Where the links of README.md lead.
install(FILES ${PROJECT_SOURCE_DIR}/src/ledger/tables.md DESTINATION ${documents}/src/ledger)
install(FILES ${PROJECT_SOURCE_DIR}/grammars/README.md DESTINATION ${documents}/grammars)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/demo_manuscripts/ DESTINATION ${documents}/demo_manuscripts)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/ci/recipes/ DESTINATION ${documents}/recipes USE_SOURCE_PERMISSIONS)
# For whoever writes a plugin.
install(DIRECTORY ${PROJECT_SOURCE_DIR}/include/tailproof DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME tailproof)
set(CPACK_PACKAGE_VENDOR "the tailproof maintainers")
set(CPACK_PACKAGE_CONTACT "the tailproof maintainers <maintainers@tailproof.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "check manuscripts about aircraft against a ledger of evidence")
set(CPACK_PACKAGE_DESCRIPTION
  "tailproof reads manuscripts about individually serialled aircraft, extracts what they claim,
holds each claim against the author's evidence in plain tables, and reports every
contradiction where it stands, with its source.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION text)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
include(CPack)
