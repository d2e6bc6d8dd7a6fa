#include "client/terminal/style.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>

namespace takehold::client {
namespace {

constexpr int kWidthOfAPipe = 100;
constexpr int kLeastWidth = 40;

std::string_view environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? std::string_view{} : std::string_view(value);
}

/// $COLUMNS, or 0.
int columns_set() {
  return std::atoi(std::string(environment("COLUMNS")).c_str());
}

int width_of_stdout(bool terminal) {
  if (const int columns = columns_set(); columns > 0) return std::max(columns, kLeastWidth);
  winsize size{};
  if (terminal && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) {
    return std::max<int>(size.ws_col, kLeastWidth);
  }
  return kWidthOfAPipe;
}

const char* code_of(Ink ink) {
  switch (ink) {
    case Ink::plain:
      return "";
    case Ink::strong:
      return "\033[1m";
    case Ink::faint:
      return "\033[2m";
    case Ink::good:
      return "\033[32m";
    case Ink::warn:
      return "\033[33m";
    case Ink::bad:
      return "\033[31m";
  }
  return "";
}

}  // namespace

bool is_utf8_locale(std::string_view lc_all, std::string_view lc_ctype, std::string_view lang) {
  std::string_view deciding = !lc_all.empty() ? lc_all : !lc_ctype.empty() ? lc_ctype : lang;
  std::string letters;
  for (const char c : deciding) {
    if (std::isalnum(static_cast<unsigned char>(c)) != 0) {
      letters += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    }
  }
  return letters.find("utf8") != std::string::npos;
}

TerminalStyle style_of_stdout() {
  const bool terminal = isatty(STDOUT_FILENO) == 1;
  TerminalStyle style;
  style.width = width_of_stdout(terminal);
  style.cuts = terminal || columns_set() > 0;
  style.colour = terminal && environment("NO_COLOR").empty() && environment("TERM") != "dumb";
  style.unicode =
      is_utf8_locale(environment("LC_ALL"), environment("LC_CTYPE"), environment("LANG"));
  return style;
}

std::string inked(std::string_view text, Ink ink, const TerminalStyle& style) {
  if (!style.colour || ink == Ink::plain || text.empty()) return std::string(text);
  return std::string(code_of(ink)) + std::string(text) + "\033[0m";
}

}  // namespace takehold::client
