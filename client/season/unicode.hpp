// As much of Unicode as names need.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace takehold::client {

/// Takes one character off the front of `text`. None, and nothing taken, if it does not begin with
/// a valid UTF-8 sequence (overlong forms and surrogates are not valid).
std::optional<char32_t> take_character(std::string_view& text);

void append_character(std::string& text, char32_t c);

/// A mark that belongs to the letter before it: U+0300..U+036F and its kin.
bool is_combining(char32_t c);
/// U+0000..U+001F, U+007F..U+009F, and the line and paragraph separators.
bool is_control(char32_t c);
char32_t small_letter(char32_t c);

}  // namespace takehold::client
