#include "client/terminal/screen_line.hpp"

#include "client/terminal/text_width.hpp"

namespace takehold::client {

std::vector<ScreenLine> broken_to_width(std::span<const ScreenLine> lines, int columns) {
  constexpr std::size_t kIndent = 2;
  std::vector<ScreenLine> fitted;
  for (const ScreenLine& line : lines) {
    if (text_width(line.text) <= columns) {
      fitted.push_back(line);
      continue;
    }
    std::string text = wrapped(line.text, columns, std::string(kIndent, ' ')).substr(kIndent);
    for (std::size_t end; (end = text.find('\n')) != std::string::npos; text.erase(0, end + 1)) {
      fitted.push_back({text.substr(0, end), line.ink});
    }
    fitted.push_back({std::move(text), line.ink});
  }
  return fitted;
}

}  // namespace takehold::client
