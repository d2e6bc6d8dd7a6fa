// Widths follow Unicode's East Asian Width (UAX #11) in its broad ranges: full exactness for every
// script would take a table longer than this program's other text code, and growers' labels are
// written in letters.
#include "client/terminal/text_width.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

namespace takehold::client {
namespace {

struct Range {
  char32_t first, last;
};

constexpr std::array kMarks{Range{0x0300, 0x036F}, Range{0x0483, 0x0489}, Range{0x0591, 0x05BD},
                            Range{0x0610, 0x061A}, Range{0x064B, 0x065F}, Range{0x1AB0, 0x1AFF},
                            Range{0x1DC0, 0x1DFF}, Range{0x200B, 0x200F}, Range{0x20D0, 0x20FF},
                            Range{0xFE00, 0xFE0F}, Range{0xFE20, 0xFE2F}};
constexpr std::array kWide{Range{0x1100, 0x115F},   Range{0x2E80, 0x303E},  Range{0x3041, 0x33FF},
                           Range{0x3400, 0x4DBF},   Range{0x4E00, 0x9FFF},  Range{0xA000, 0xA4CF},
                           Range{0xAC00, 0xD7A3},   Range{0xF900, 0xFAFF},  Range{0xFE30, 0xFE6F},
                           Range{0xFF00, 0xFF60},   Range{0xFFE0, 0xFFE6},  Range{0x1F300, 0x1F64F},
                           Range{0x1F900, 0x1F9FF}, Range{0x20000, 0x3FFFD}};

template <std::size_t N>
bool within(const std::array<Range, N>& ranges, char32_t c) {
  return std::any_of(ranges.begin(), ranges.end(),
                     [c](Range r) { return r.first <= c && c <= r.last; });
}

/// One character, or one colour sequence, or one byte that is no UTF-8.
struct Piece {
  std::string_view bytes;
  char32_t code = 0;
  int columns = 0;
};

Piece colour_sequence(std::string_view text) {
  const std::size_t end = text.find('m');
  return {text.substr(0, end == std::string_view::npos ? text.size() : end + 1), 0, 0};
}

Piece first_piece(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  if (text.starts_with("\033[")) return colour_sequence(text);
  const unsigned char lead = byte(0);
  const std::size_t length = lead < 0x80           ? 1
                             : (lead >> 5) == 0x06 ? 2
                             : (lead >> 4) == 0x0E ? 3
                             : (lead >> 3) == 0x1E ? 4
                                                   : 0;
  if (length == 0 || length > text.size()) return {text.substr(0, 1), U'?', 1};
  char32_t code = length == 1 ? lead : lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) >> 6) != 0x02) return {text.substr(0, 1), U'?', 1};
    code = (code << 6) | (byte(i) & 0x3FU);
  }
  return {text.substr(0, length), code, within(kMarks, code) ? 0 : within(kWide, code) ? 2 : 1};
}

template <class Visit>
void each_piece(std::string_view text, Visit visit) {
  while (!text.empty()) {
    const Piece piece = first_piece(text);
    visit(piece);
    text.remove_prefix(piece.bytes.size());
  }
}

struct Spelling {
  std::string_view letters;  ///< UTF-8 characters that share one spelling
  std::string_view ascii;
};

constexpr std::array kSpellings{Spelling{"àáâãäåāăą", "a"}, Spelling{"ÀÁÂÃÄÅĀĂĄ", "A"},
                                Spelling{"çćčċĉ", "c"},     Spelling{"ÇĆČĊĈ", "C"},
                                Spelling{"èéêëēėęě", "e"},  Spelling{"ÈÉÊËĒĖĘĚ", "E"},
                                Spelling{"ìíîïīįı", "i"},   Spelling{"ÌÍÎÏĪĮİ", "I"},
                                Spelling{"ñńňņ", "n"},      Spelling{"ÑŃŇŅ", "N"},
                                Spelling{"òóôõöøōő", "o"},  Spelling{"ÒÓÔÕÖØŌŐ", "O"},
                                Spelling{"ùúûüūůűų", "u"},  Spelling{"ÙÚÛÜŪŮŰŲ", "U"},
                                Spelling{"ýÿ", "y"},        Spelling{"Ý", "Y"},
                                Spelling{"śšşș", "s"},      Spelling{"ŚŠŞȘ", "S"},
                                Spelling{"źżž", "z"},       Spelling{"ŹŻŽ", "Z"},
                                Spelling{"ğģ", "g"},        Spelling{"ĞĢ", "G"},
                                Spelling{"łļľ", "l"},       Spelling{"ŁĻĽ", "L"},
                                Spelling{"řŕ", "r"},        Spelling{"ŘŔ", "R"},
                                Spelling{"ťțţ", "t"},       Spelling{"ŤȚŢ", "T"},
                                Spelling{"ďđ", "d"},        Spelling{"ĎĐ", "D"},
                                Spelling{"ķ", "k"},         Spelling{"Ķ", "K"},
                                Spelling{"ß", "ss"},        Spelling{"æ", "ae"},
                                Spelling{"Æ", "AE"},        Spelling{"œ", "oe"},
                                Spelling{"µμ", "u"},        Spelling{"°", ""},
                                Spelling{"²", "2"},         Spelling{"³", "3"},
                                Spelling{"±", "+-"},        Spelling{"×", "x"},
                                Spelling{"·•", "."},        Spelling{"–—−─═", "-"},
                                Spelling{"│┃", "|"},        Spelling{"┼├┤└┘┌┐┴┬", "+"},
                                Spelling{"…", "..."},       Spelling{"‘’", "'"},
                                Spelling{"“”", "\""},       Spelling{"≤", "<="},
                                Spelling{"≥", ">="},        Spelling{"→", "->"},
                                Spelling{"█▓▆▇", "#"},      Spelling{"▒▄▅", "+"},
                                Spelling{"░▁▂▃", "."},      Spelling{"\u00A0\u202F", " "},
                                Spelling{"●", "*"}};

std::string_view ascii_of(std::string_view character) {
  for (const Spelling& spelling : kSpellings) {
    if (spelling.letters.find(character) != std::string_view::npos) return spelling.ascii;
  }
  return "?";
}

}  // namespace

int text_width(std::string_view text) {
  int columns = 0;
  each_piece(text, [&](const Piece& piece) { columns += piece.columns; });
  return columns;
}

std::string cut_to_width(std::string_view text, int columns, bool unicode) {
  if (text_width(text) <= columns) return std::string(text);
  std::string kept;
  int used = 0;
  bool full = false;
  each_piece(text, [&](const Piece& piece) {
    const bool is_colour = piece.code == 0 && piece.columns == 0;
    if (!full && used + piece.columns > columns - 1) {
      full = true;
      kept += unicode ? "…" : ".";
    }
    if (!full || is_colour) kept += piece.bytes;  // a colour begun must be ended
    used += piece.columns;
  });
  return kept;
}

std::string padded_right(std::string_view text, int columns) {
  const int blanks = std::max(0, columns - text_width(text));
  return std::string(text) + std::string(static_cast<std::size_t>(blanks), ' ');
}

std::string padded_left(std::string_view text, int columns) {
  const int blanks = std::max(0, columns - text_width(text));
  return std::string(static_cast<std::size_t>(blanks), ' ') + std::string(text);
}

std::string to_ascii(std::string_view text) {
  std::string plain;
  each_piece(text, [&](const Piece& piece) {
    if (piece.bytes.size() == 1 || piece.code == 0) {
      plain += static_cast<unsigned char>(piece.bytes.front()) < 0x80 ? piece.bytes : "?";
    } else if (piece.columns > 0) {
      plain += ascii_of(piece.bytes);
    }
  });
  return plain;
}

std::string wrapped(std::string_view text, int columns, std::string_view indent) {
  std::string lines(indent);
  int used = text_width(indent);
  bool first = true;
  while (!text.empty()) {
    const std::size_t start = text.find_first_not_of(' ');
    if (start == std::string_view::npos) break;
    text.remove_prefix(start);
    const std::string_view word = text.substr(0, text.find(' '));
    text.remove_prefix(word.size());
    if (!first && used + 1 + text_width(word) > columns) {
      lines += "\n" + std::string(indent);
      used = text_width(indent);
    } else if (!first) {
      lines += ' ';
      ++used;
    }
    lines += word;
    used += text_width(word);
    first = false;
  }
  return lines;
}

}  // namespace takehold::client
