// The sheets taken to the bench: what to sow, what to graft, what the chamber must be.
#pragma once

#include <optional>

#include "client/command/match_book.hpp"
#include "client/print/sheet_page.hpp"
#include "daemon/healing/regime.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

/// The lines of the accepted plan to be sown on `day`, each with boxes to tick and a place for what
/// was really sown. False, and nothing drawn, where there are none.
bool draw_sowing_sheet(SheetPage& page, const Book& book, Day day);

/// Who goes onto whom of one pairing, in tray order, with the clip for each and boxes for the work.
void draw_graft_sheet(SheetPage& page, const Book& book, const BookMatch& told,
                      const MatchShare& share, Units units);
/// Blades and disinfectants, once behind the tables.
void draw_graft_caution(SheetPage& page);

/// A card to hang on the chamber: stage by stage what the air should be and what to do; with
/// `grafted_at` the days by the calendar.
void draw_chamber_card(SheetPage& page, const daemon::Regime& regime,
                       std::optional<sensors::Instant> grafted_at, const sensors::TimeZone& zone,
                       Units units);

}  // namespace takehold::client
