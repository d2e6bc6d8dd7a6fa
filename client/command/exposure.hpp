// What a batch went through in the chamber: asked of the daemon once the batch has left, and kept.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/link/link.hpp"
#include "client/season/batch.hpp"

namespace takehold::client {

/// A batch that left the chamber, of which the book does not know yet what it went through. One
/// whose notice still waits is not among them: the daemon does not know yet that it left.
struct ExposureOwed {
  std::string batch;
  sensors::Instant left_at;
};
std::vector<ExposureOwed> exposures_owed(const Book& book, sensors::Instant now);

/// What became of asking for one.
struct ExposureAnswer {
  std::string batch;
  std::optional<double> observed;  ///< share of the time with a trusted reading, 0..1
  std::string trouble;             ///< empty: it is in the book now
};

/// Asks for everything owed and keeps the answers; a label that the daemon never knew is kept as
/// "nothing observed". Once nobody answers the rest is not asked. Never refuses.
std::vector<ExposureAnswer> fetch_exposures(Book& book, const Link& link, sensors::Instant now);

/// What the book knows of the batch's time in the chamber up to its leaving; none: not yet fetched,
/// or it is still inside.
std::optional<Exposure> kept_exposure(const Book& book, const std::string& batch);

/// The daemon's document as kept; null where none is, or where the daemon never knew the batch.
nlohmann::json exposure_json(const Book& book, const std::string& batch);

}  // namespace takehold::client
