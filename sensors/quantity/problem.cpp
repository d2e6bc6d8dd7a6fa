#include "sensors/quantity/problem.hpp"

#include <utility>

namespace takehold::sensors {

std::string Problem::sentence() const {
  std::string text = where.empty() ? title : where + ": " + title;
  if (!detail.empty()) text += ": " + detail;
  if (!hint.empty()) text += " (" + hint + ")";
  return text;
}

Refused::Refused(Problem problem)
    : std::runtime_error(problem.sentence()), problem_(std::move(problem)) {}

void throw_exception_from_error(const Problem& problem, const boost::source_location&) {
  throw Refused(problem);
}

}  // namespace takehold::sensors
