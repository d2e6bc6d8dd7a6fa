#include "client/terminal/live_screen.hpp"

// The only file that sees curses: its short macros would break every library after it.
#define NCURSES_NOMACROS 1
#define NCURSES_WIDECHAR 1
#include <curses.h>
#include <unistd.h>

#include <clocale>
#include <cstdlib>

#include "client/terminal/text_width.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {

namespace {

constexpr short kGood = 1;
constexpr short kWarn = 2;
constexpr short kBad = 3;

void choose_colours() {
  ::start_color();
  ::use_default_colors();
  ::init_pair(kGood, COLOR_GREEN, -1);
  ::init_pair(kWarn, COLOR_YELLOW, -1);
  ::init_pair(kBad, COLOR_RED, -1);
}

attr_t attributes(Ink ink, bool colour) {
  const auto pair = [&](short number) {
    return colour ? static_cast<attr_t>(COLOR_PAIR(number)) : attr_t{A_NORMAL};
  };
  switch (ink) {
    case Ink::plain:
      return A_NORMAL;
    case Ink::strong:
      return A_BOLD;
    case Ink::faint:
      return A_DIM;
    case Ink::good:
      return pair(kGood);
    case Ink::warn:
      return A_BOLD | pair(kWarn);
    case Ink::bad:
      return A_REVERSE | A_BOLD | pair(kBad);
  }
  return A_NORMAL;
}

}  // namespace

LiveScreen::LiveScreen(const TerminalStyle& style) : style_(style) {
  const char* kind = std::getenv("TERM");
  std::setlocale(LC_ALL, "");
  // newterm tells of failure where initscr ends the program.
  if (!::isatty(STDOUT_FILENO) || kind == nullptr || ::newterm(nullptr, stdout, stdin) == nullptr) {
    throw sensors::Refused(sensors::Problem{"no-terminal", "this needs a terminal to draw on", "",
                                            "watch", "elsewhere, use watch --json"});
  }
  ::raw();  // Ctrl-C as a key
  ::noecho();
  ::keypad(::stdscr, TRUE);
  ::curs_set(0);
  if (style_.colour && ::has_colors()) {
    choose_colours();
  } else {
    style_.colour = false;
  }
}

LiveScreen::~LiveScreen() {
  ::endwin();
}

int LiveScreen::columns() const {
  return ::getmaxx(::stdscr);
}
int LiveScreen::rows() const {
  return ::getmaxy(::stdscr);
}

void LiveScreen::show(std::span<const ScreenLine> lines) {
  ::werase(::stdscr);
  int row = 0;
  for (const auto& line : broken_to_width(lines, columns())) {
    if (row >= rows()) break;
    const auto text =
        cut_to_width(style_.unicode ? line.text : to_ascii(line.text), columns(), style_.unicode);
    ::wattrset(::stdscr, static_cast<int>(attributes(line.ink, style_.colour)));
    ::wmove(::stdscr, row++, 0);
    ::waddnstr(::stdscr, text.c_str(), -1);
  }
  ::wattrset(::stdscr, A_NORMAL);
  ::wrefresh(::stdscr);
}

std::optional<int> LiveScreen::key(std::chrono::milliseconds wait) {
  ::wtimeout(::stdscr, static_cast<int>(wait.count()));
  const int pressed = ::wgetch(::stdscr);
  if (pressed == ERR || pressed == KEY_RESIZE) return std::nullopt;
  return pressed;
}

}  // namespace takehold::client
