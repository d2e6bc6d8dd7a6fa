// One trial by its four numbers (seed, maker, band, failure), looked at closely.
#pragma once

namespace takehold::bench {

/// Each prints to stdout and returns the program's exit code; `words`: the four numbers.
int print_trace(char** words);     ///< as a table of readings that chamberd --replay takes
int print_picture(char** words);   ///< SVG
int print_thoughts(char** words);  ///< what the watch thinks of it, minute by minute

}  // namespace takehold::bench
