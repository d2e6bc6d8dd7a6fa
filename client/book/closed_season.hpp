// Seasons that are over.
#pragma once

#include <string_view>

#include "client/book/book.hpp"

namespace takehold::client {

/// Refuses, code "season-closed", if a season of this name was closed in this book.
void refuse_closed_season(const Book& book, std::string_view season);

/// The same for the season that the book holds now, if it holds any.
void refuse_closed(const Book& book);

}  // namespace takehold::client
