// Would the book still be one that commands could have written, with these tables taken in?
#pragma once

#include <span>

#include "client/book/book.hpp"

namespace takehold::client {

/// Throws Refused naming what does not fit: "more-than-stand" (plants lost, taken, thrown out or
/// set out that were not there), "more-than-sown", "no-such-graft" (a plant's number), "twice" (a
/// batch finished twice), "before-grafting". `taken_in` are the tables' nouns; what stands beside
/// them counts, too.
void check_import(const Book& book, std::span<const PlainNoun> taken_in);

}  // namespace takehold::client
