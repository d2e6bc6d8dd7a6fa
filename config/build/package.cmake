# What `cpack` puts into the Debian package: the three programs, and what belongs beside them. Manual
# pages and completions are told by the programs themselves (target package_data).
include(GNUInstallDirs)

set(share "${PROJECT_BINARY_DIR}/share")
set(package_data "")
# takehold_told(FILE WORDS ...): FILE under share/ is what `takehold WORDS` prints; gzipped for .gz.
function(takehold_told file)
  set(out "${share}/${file}")
  get_filename_component(folder "${out}" DIRECTORY)
  string(REGEX REPLACE "\\.gz$" "" plain "${out}")
  set(pack "")
  if(NOT plain STREQUAL out)
    set(pack COMMAND gzip -9nf "${plain}")
  endif()
  add_custom_command(OUTPUT "${out}"
    COMMAND "${CMAKE_COMMAND}" -E make_directory "${folder}"
    COMMAND takehold ${ARGN} > "${plain}" ${pack} DEPENDS takehold chamberd probe-sim VERBATIM)
  set(package_data ${package_data} "${out}" PARENT_SCOPE)
endfunction()

takehold_told(man/man1/takehold.1.gz manual takehold)
takehold_told(man/man1/probe-sim.1.gz manual probe-sim)
takehold_told(man/man8/chamberd.8.gz manual chamberd)
takehold_told(bash-completion/completions/takehold completion bash)
takehold_told(zsh/vendor-completions/_takehold completion zsh)
takehold_told(fish/vendor_completions.d/takehold.fish completion fish)
# takehold_packed(NAME FILE): FILE gzipped as NAME.gz beside the documents.
function(takehold_packed name file)
  set(out "${share}/doc/takehold/${name}.gz")
  add_custom_command(OUTPUT "${out}"
    COMMAND "${CMAKE_COMMAND}" -E make_directory "${share}/doc/takehold"
    COMMAND gzip -9nc "${file}" > "${out}" DEPENDS "${file}" VERBATIM)
  set(package_data ${package_data} "${out}" PARENT_SCOPE)
endfunction()
configure_file("${PROJECT_SOURCE_DIR}/config/package/changelog.in" "${PROJECT_BINARY_DIR}/changelog" @ONLY)
takehold_packed(changelog "${PROJECT_BINARY_DIR}/changelog")
takehold_packed(NEWS "${PROJECT_SOURCE_DIR}/NEWS.md")
add_custom_target(package_data DEPENDS ${package_data})

set(here "${PROJECT_SOURCE_DIR}")
set(documents "${CMAKE_INSTALL_DATADIR}/doc/takehold")
install(TARGETS takehold probe-sim chamberd RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(DIRECTORY "${share}/" DESTINATION ${CMAKE_INSTALL_DATADIR})
install(FILES "${here}/config/systemd/chamberd.service" DESTINATION lib/systemd/system)
install(FILES "${here}/config/udev/60-takehold-serial.rules" DESTINATION lib/udev/rules.d)
install(FILES "${here}/config/package/copyright" "${here}/README.md" DESTINATION ${documents})
install(FILES "${here}/config/package/lintian-overrides" RENAME takehold
  DESTINATION ${CMAKE_INSTALL_DATADIR}/lintian/overrides)
install(DIRECTORY "${here}/config/examples/typical/" "${here}/config/regimes" DESTINATION ${documents}/examples)
install(DIRECTORY "${here}/docs" DESTINATION ${documents} PATTERN decisions EXCLUDE PATTERN numerics EXCLUDE)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME takehold)
set(CPACK_PACKAGE_VERSION "${PROJECT_VERSION}")
set(CPACK_PACKAGE_VENDOR "the Takehold contributors")
set(CPACK_PACKAGE_CONTACT "the Takehold contributors <takehold@example.org>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)  # which libraries: asked of the programs
set(CPACK_DEBIAN_PACKAGE_DEPENDS "adduser, tzdata")
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "ca-certificates, fonts-dejavu-core")
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA
  "${here}/config/package/postinst;${here}/config/package/prerm;${here}/config/package/postrm")
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION "sowing plan, healing chamber and take rates for grafted tomatoes
Takehold plans what to sow when so that rootstock and scion stems match on
one day, says which seedling goes onto which, watches the healing chamber
and warns in time, and learns an honest take rate of every pairing.
.
takehold keeps the grower's book, chamberd watches the chamber, probe-sim
is a simulated chamber to try both without hardware.")
include(CPack)
