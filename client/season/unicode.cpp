// UTF-8 after RFC 3629. The ranges for small letters are those in which capital and small letter
// lie a fixed step apart; the few letters outside them keep their case.
#include "client/season/unicode.hpp"

namespace takehold::client {
namespace {

struct Lead {
  int length;
  char32_t bits;
  char32_t lowest;  // anything below is overlong
};

std::optional<Lead> lead_of(unsigned char c) {
  if (c < 0x80) return Lead{1, c, 0};
  if (c >= 0xC2 && c < 0xE0) return Lead{2, c & 0x1Fu, 0x80};
  if (c >= 0xE0 && c < 0xF0) return Lead{3, c & 0x0Fu, 0x800};
  if (c >= 0xF0 && c < 0xF5) return Lead{4, c & 0x07u, 0x10000};
  return std::nullopt;
}

bool within(char32_t c, char32_t low, char32_t high) {
  return low <= c && c <= high;
}

}  // namespace

std::optional<char32_t> take_character(std::string_view& text) {
  if (text.empty()) return std::nullopt;
  const auto lead = lead_of(static_cast<unsigned char>(text[0]));
  if (!lead || text.size() < static_cast<std::size_t>(lead->length)) return std::nullopt;
  char32_t c = lead->bits;
  for (int i = 1; i < lead->length; ++i) {
    const auto byte = static_cast<unsigned char>(text[static_cast<std::size_t>(i)]);
    if ((byte & 0xC0u) != 0x80u) return std::nullopt;
    c = (c << 6) | (byte & 0x3Fu);
  }
  if (c < lead->lowest || within(c, 0xD800, 0xDFFF) || c > 0x10FFFF) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(lead->length));
  return c;
}

void append_character(std::string& text, char32_t c) {
  const auto put = [&text](char32_t byte) { text += static_cast<char>(byte); };
  if (c < 0x80) {
    put(c);
  } else if (c < 0x800) {
    put(0xC0 | (c >> 6));
    put(0x80 | (c & 0x3F));
  } else if (c < 0x10000) {
    put(0xE0 | (c >> 12));
    put(0x80 | ((c >> 6) & 0x3F));
    put(0x80 | (c & 0x3F));
  } else {
    put(0xF0 | (c >> 18));
    put(0x80 | ((c >> 12) & 0x3F));
    put(0x80 | ((c >> 6) & 0x3F));
    put(0x80 | (c & 0x3F));
  }
}

bool is_combining(char32_t c) {
  return within(c, 0x0300, 0x036F) || within(c, 0x1AB0, 0x1AFF) || within(c, 0x1DC0, 0x1DFF) ||
         within(c, 0x20D0, 0x20FF) || within(c, 0xFE20, 0xFE2F);
}

bool is_control(char32_t c) {
  return c < 0x20 || within(c, 0x7F, 0x9F) || c == 0x2028 || c == 0x2029;
}

char32_t small_letter(char32_t c) {
  if (within(c, 'A', 'Z')) return c + 32;
  if (within(c, 0xC0, 0xDE) && c != 0xD7) return c + 32;                   // Latin-1
  if (within(c, 0x100, 0x137) && c != 0x130 && c != 0x131) return c | 1u;  // Latin Extended-A
  if (within(c, 0x139, 0x148) || within(c, 0x179, 0x17E)) return c + (c & 1u);
  if (within(c, 0x14A, 0x177)) return c | 1u;
  if (c == 0x178) return 0xFF;
  if (within(c, 0x391, 0x3A9)) return c + 32;  // Greek
  if (within(c, 0x410, 0x42F)) return c + 32;  // Cyrillic
  if (within(c, 0x400, 0x40F)) return c + 80;
  return c;
}

}  // namespace takehold::client
