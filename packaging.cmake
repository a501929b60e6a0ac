# What `cmake --install` puts where, beside the program, and the Debian package that `cpack -G DEB`
# makes of it (in the build folder).
include(GNUInstallDirs)

install(FILES docs/ruddle.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES docs/completions/ruddle.bash
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME ruddle)
# Debian's zsh looks for what packages bring in a folder of its own. The prefix is known only when
# installing, hence the escaped variable.
install(CODE [[
  set(RUDDLE_ZSH_FOLDER site-functions)
  if(CMAKE_INSTALL_PREFIX MATCHES "/usr$")
    set(RUDDLE_ZSH_FOLDER vendor-completions)
  endif()]])
install(FILES docs/completions/_ruddle
  DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/\${RUDDLE_ZSH_FOLDER})
install(FILES docs/roof.schema.json docs/kit.schema.json
  DESTINATION ${CMAKE_INSTALL_DATADIR}/ruddle)
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
install(DIRECTORY docs DESTINATION ${CMAKE_INSTALL_DOCDIR} PATTERN completions EXCLUDE
  PATTERN ruddle.1 EXCLUDE PATTERN "*.schema.json" EXCLUDE)
install(DIRECTORY roofs DESTINATION ${CMAKE_INSTALL_DOCDIR} FILES_MATCHING PATTERN "*.yaml"
  PATTERN "README.md")

# Build first: installing and packing take what is there, and do not look after every test program.
set(CMAKE_SKIP_INSTALL_ALL_DEPENDENCY ON)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME ruddle)
set(CPACK_PACKAGE_VENDOR "Ruddle contributors")
set(CPACK_PACKAGE_CONTACT "Ruddle contributors")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "lay out the brackets of a water-filled collector on a roof")
set(CPACK_PACKAGE_DESCRIPTION
  "Reads the survey of a shingled roof, finds the layout of its brackets with the\nmost room to miss, checks it against every rule, and prints the sheet to chalk\nit by. Its strength figures never stand in for a licensed engineer.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
# The libraries are found in the program itself; the font is read when sheets are drawn.
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS fonts-dejavu-core)
include(CPack)
