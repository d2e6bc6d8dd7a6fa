// Grafted plants of a scion, or those on its own roots, gathered from their batches or sowings.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/takes/worth.hpp"

namespace takehold::client {

struct Bearing;

class CropSide {
 public:
  /// `name` is for sentences: "grafted" or "on own roots". Borrows both.
  CropSide(const Book& book, const char* name) : book_(book), name_(name) {}

  /// A batch that was finished, or a sowing. One of which nothing was picked gives its remarks
  /// only.
  void add(const std::string& subject);

  /// Weighed plant by plant only if every picking was. A plant that died in its bed without ever
  /// having borne counts with 0 kg; a living one that was never weighed is left out, and said.
  Crop crop() const;
  /// Sentences on what was left out or guessed.
  std::vector<std::string> doubts() const;
  const std::set<std::string>& beds() const { return beds_; }
  /// Prices that are not known.
  const std::set<std::string>& missing() const { return missing_; }

 private:
  void add_by_plant(const Bearing& bearing, int planted);
  void add_cost(const std::string& subject, int planted);
  void add_remarks(const std::string& subject);

  const Book& book_;
  const char* name_;
  Crop crop_{};
  bool together_ = false, guessed_ = false, cost_known_ = true;
  int unweighed_ = 0, costed_ = 0;
  double cost_ = 0;
  std::set<std::string> beds_{}, missing_{};
};

}  // namespace takehold::client
