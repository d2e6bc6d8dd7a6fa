// A whole terminal drawn over and over, for what is live. Lines in, keys out; nothing more.
//
// One at a time in a process; not shared between threads. The terminal is given back as it was when
// the object goes, also when a signal ends the program.
#pragma once

#include <chrono>
#include <optional>
#include <span>

#include "client/terminal/screen_line.hpp"

namespace takehold::client {

class LiveScreen {
 public:
  /// Takes the terminal. Refuses with code "no-terminal" when output is none or cannot be drawn on.
  explicit LiveScreen(const TerminalStyle& style);
  ~LiveScreen();
  LiveScreen(const LiveScreen&) = delete;
  LiveScreen& operator=(const LiveScreen&) = delete;

  /// As asked for, without what this terminal cannot show.
  const TerminalStyle& style() const { return style_; }
  int columns() const;
  int rows() const;

  /// Replaces what stands there. Lines that are too long go on in the next row, what would stand
  /// below the last row is not shown.
  void show(std::span<const ScreenLine> lines);

  /// Waits for a key. Nothing: the time is up, or the window has another size and wants drawing.
  std::optional<int> key(std::chrono::milliseconds wait);

  /// Ctrl-C comes as a key, so that the terminal is given back in order.
  static constexpr int kInterrupt = 3;

 private:
  TerminalStyle style_;
};

}  // namespace takehold::client
