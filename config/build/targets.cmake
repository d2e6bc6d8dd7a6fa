# How our targets are made.
#
#   takehold_library(NAME SOURCES ... LINKS ...)   one folder, one static library; includes are rooted at the top
#   takehold_program(NAME SOURCES ... LINKS ...)   lands in BUILD/bin
#   takehold_test(NAME SOURCES ... LINKS ...)      a GoogleTest program; its cases are listed as NAME.Suite.case
#   takehold_embed(TARGET SYMBOL-PREFIX FILES ...) files compiled into TARGET; see embed.cmake

function(takehold_library name)
  cmake_parse_arguments(ARG "" "" "SOURCES;LINKS" ${ARGN})
  if(ARG_SOURCES)
    add_library(${name} STATIC ${ARG_SOURCES})
    target_link_libraries(${name} PUBLIC takehold_flags ${ARG_LINKS})
  else()
    add_library(${name} INTERFACE)
    target_link_libraries(${name} INTERFACE takehold_flags ${ARG_LINKS})
  endif()
endfunction()

function(takehold_program name)
  cmake_parse_arguments(ARG "" "" "SOURCES;LINKS" ${ARGN})
  add_executable(${name} ${ARG_SOURCES})
  target_link_libraries(${name} PRIVATE takehold_flags ${ARG_LINKS})
endfunction()

function(takehold_test name)
  cmake_parse_arguments(ARG "" "" "SOURCES;LINKS" ${ARGN})
  string(REPLACE "." "_" target "test_${name}")
  add_executable(${target} ${ARG_SOURCES})
  target_link_libraries(${target} PRIVATE takehold_flags ${ARG_LINKS} GTest::gmock_main)
  set_target_properties(${target} PROPERTIES RUNTIME_OUTPUT_DIRECTORY "${PROJECT_BINARY_DIR}/tests")
  target_compile_options(${target} PRIVATE $<$<CONFIG:RelWithDebInfo>:-O0>)  # half the time; what they test stays optimised
  gtest_discover_tests(${target} TEST_PREFIX "${name}." DISCOVERY_MODE PRE_TEST
    PROPERTIES TIMEOUT 300)
endfunction()

# Each file becomes a std::string_view in namespace takehold::embedded, listed in a generated header
# "embedded/<prefix>.hpp" as  inline const std::array<File, N> <prefix>{{{"name", "content"}, ...}}.
function(takehold_embed target prefix)
  set(header "${PROJECT_BINARY_DIR}/embedded/embedded/${prefix}.hpp")
  list(TRANSFORM ARGN PREPEND "${CMAKE_CURRENT_SOURCE_DIR}/" OUTPUT_VARIABLE files)
  list(JOIN files "|" joined)
  add_custom_command(OUTPUT "${header}"
    COMMAND "${CMAKE_COMMAND}" -DOUT=${header} -DPREFIX=${prefix} "-DFILES=${joined}"
            -P "${PROJECT_SOURCE_DIR}/config/build/embed.cmake"
    DEPENDS ${files} "${PROJECT_SOURCE_DIR}/config/build/embed.cmake"
    VERBATIM)
  add_custom_target(${target}_${prefix}_embedded DEPENDS "${header}")
  add_dependencies(${target} ${target}_${prefix}_embedded)
  target_sources(${target} PRIVATE "${header}")
endfunction()
