// A line as a command shows it, before it is known how wide the place is.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "client/terminal/style.hpp"

namespace takehold::client {

struct ScreenLine {
  std::string text;
  Ink ink = Ink::plain;
};

/// The same lines with those wider than `columns` broken between words, what follows set in by two.
/// Lines that fit are left as they are, blanks and all.
std::vector<ScreenLine> broken_to_width(std::span<const ScreenLine> lines, int columns);

}  // namespace takehold::client
