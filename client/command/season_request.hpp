// What the season plan is made from, taken from the book.
#pragma once

#include "client/book/book.hpp"
#include "client/plan/season_plan.hpp"

namespace takehold::client {

/// The book's season with the seed on hand and the grower's own take rates. Code "no-season".
PlanRequest request_of(const Book& book, sensors::Day made_on, const daemon::Regime& regime);

/// What this and earlier seasons say of every lot. Takes tens of milliseconds a lot and season.
void add_knowledge(const Book& book, PlanRequest& request);

}  // namespace takehold::client
