# Run with cmake -P: writes OUT, a header that holds each of FILES ("|" between them) as text.
# Text is cut into pieces, for a string literal may not be longer than the standard promises (65 536).
string(REPLACE "|" ";" FILES "${FILES}")
set(rows "")
set(count 0)
foreach(file IN LISTS FILES)
  get_filename_component(name "${file}" NAME)
  file(READ "${file}" text)
  set(pieces "")
  string(LENGTH "${text}" left)
  set(at 0)
  while(at LESS left)
    string(SUBSTRING "${text}" ${at} 12000 piece)
    string(APPEND pieces "\n     R\"embedded(${piece})embedded\"")
    math(EXPR at "${at} + 12000")
  endwhile()
  if(pieces STREQUAL "")
    set(pieces "\"\"")
  endif()
  string(APPEND rows "    File{\"${name}\",${pieces}},\n")
  math(EXPR count "${count} + 1")
endforeach()
file(WRITE "${OUT}" "// Made by config/build/embed.cmake; do not edit.
#pragma once
#include <array>
#include <string_view>

namespace takehold::embedded {
#ifndef TAKEHOLD_EMBEDDED_FILE
#define TAKEHOLD_EMBEDDED_FILE
struct File {
  std::string_view name;
  std::string_view text;
};
#endif
inline constexpr std::array<File, ${count}> ${PREFIX}{{
${rows}}};
}  // namespace takehold::embedded
")
