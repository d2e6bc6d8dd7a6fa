# Compiler switches, carried by the INTERFACE target takehold_flags.
#
#   TAKEHOLD_SANITIZE   a list for -fsanitize=, e.g. "address,undefined" or "thread"; empty: none
#   TAKEHOLD_FUZZ       build the libFuzzer targets of tests/fuzz (needs clang)

if(NOT CMAKE_BUILD_TYPE)
  set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "" FORCE)
endif()
set(CMAKE_CXX_FLAGS_RELWITHDEBINFO "-O2 -g1")  # asserts stay on: they cost little and tell much

set(TAKEHOLD_SANITIZE "" CACHE STRING "sanitizers, comma separated")
option(TAKEHOLD_FUZZ "build the fuzz targets" OFF)

set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
set(CMAKE_RUNTIME_OUTPUT_DIRECTORY "${PROJECT_BINARY_DIR}/bin")

find_program(TAKEHOLD_CCACHE ccache)
if(TAKEHOLD_CCACHE AND NOT CMAKE_CXX_COMPILER_LAUNCHER)
  set(CMAKE_CXX_COMPILER_LAUNCHER "${TAKEHOLD_CCACHE}")
endif()

add_library(takehold_flags INTERFACE)
target_include_directories(takehold_flags INTERFACE "${PROJECT_SOURCE_DIR}" "${PROJECT_BINARY_DIR}/embedded")
target_compile_options(takehold_flags INTERFACE
  -Wall -Wextra -Wpedantic -Werror -Wshadow -Wnon-virtual-dtor -Wold-style-cast -Wcast-qual
  -Woverloaded-virtual -Wimplicit-fallthrough
  # What g++ 12 guesses from optimised flow differs by level and cries wolf: shown, not fatal.
  -Wno-error=maybe-uninitialized -Wno-error=restrict -Wno-error=array-bounds
  -Wno-error=stringop-overflow -Wno-error=stringop-overread -Wno-error=mismatched-new-delete
  -ffp-contract=off)  # the same numbers on every machine
if(TAKEHOLD_FUZZ)  # clang knows other warnings; g++ is the one that judges them
  target_compile_options(takehold_flags INTERFACE
    -w -g1 -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=undefined)
  target_link_options(takehold_flags INTERFACE -fsanitize=address,undefined)
endif()
if(TAKEHOLD_SANITIZE)
  target_compile_options(takehold_flags INTERFACE
    -fsanitize=${TAKEHOLD_SANITIZE} -fno-omit-frame-pointer -fno-sanitize-recover=all)
  target_link_options(takehold_flags INTERFACE -fsanitize=${TAKEHOLD_SANITIZE})
endif()
