// How many columns a text takes on a terminal, and making it fit.
//
// Text is UTF-8. Bytes that are not count one column each, so that nothing here ever fails. Colour
// sequences (ESC [ ... m) take no columns.
#pragma once

#include <string>
#include <string_view>

namespace takehold::client {

/// Columns of `text`: 0 for a combining mark, 2 for a wide (East Asian, emoji) character.
int text_width(std::string_view text);

/// `text`, shortened to `columns` with a closing "…" ("." where unicode is false) if it is longer.
std::string cut_to_width(std::string_view text, int columns, bool unicode);

/// `text` with blanks added after (or before) it up to `columns`.
std::string padded_right(std::string_view text, int columns);
std::string padded_left(std::string_view text, int columns);

/// The same in ASCII: signs by their usual spelling (µ u, ° left out, … ...), letters without their
/// accents, anything else "?". For places whose locale is C.
std::string to_ascii(std::string_view text);

/// Words broken into lines of at most `columns`, for help texts and notes.
std::string wrapped(std::string_view text, int columns, std::string_view indent = "");

}  // namespace takehold::client
