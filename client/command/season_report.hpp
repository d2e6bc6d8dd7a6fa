// The season's report: what was planned, what took, what it gave, what to do better.
#pragma once

#include "client/book/book.hpp"
#include "client/print/report.hpp"

namespace takehold::client {

/// For a reader who has never seen the program. The sections draw from copies: the book need not
/// outlive it.
Report season_report(const Book& book, sensors::Instant now, Units units);

}  // namespace takehold::client
