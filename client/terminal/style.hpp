// What the place we print to can show: how wide it is, whether it knows colours and UTF-8; and what
// its reader is used to.
#pragma once

#include <string>
#include <string_view>

#include "client/season/words.hpp"

namespace takehold::client {

/// Plain values; the default is what every place can show.
struct TerminalStyle {
  int width = 80;        ///< columns
  bool colour = false;   ///< only on a terminal, and never with NO_COLOR set
  bool unicode = false;  ///< false: our own signs fall back to ASCII
  // How this reader wants numbers and days; everything is kept in metric units.
  Units units = Units::metric;
  DateOrder dates = DateOrder::year_first;
  bool cuts = true;      ///< a table is cut to the width; false for a pipe, which wants it whole
};

/// What standard output is: asks the terminal for its size ($COLUMNS wins) and the environment
/// (NO_COLOR, TERM, LC_ALL, LC_CTYPE, LANG) for the rest. No terminal: text is broken
/// at 100 columns, tables are left whole, no colour.
TerminalStyle style_of_stdout();

/// Is the character set named by these three settings UTF-8? The first that is not empty decides.
bool is_utf8_locale(std::string_view lc_all, std::string_view lc_ctype, std::string_view lang);

enum class Ink { plain, strong, faint, good, warn, bad };

/// `text` in this ink, or as it is where there is no colour. Ink never carries meaning alone.
std::string inked(std::string_view text, Ink ink, const TerminalStyle& style);

}  // namespace takehold::client
