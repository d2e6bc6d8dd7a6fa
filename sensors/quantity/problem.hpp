// What went wrong, told so that a person can mend it.
//
// Three kinds of trouble, three ways: a mistake of ours is an assert; a thing to be expected (a bad
// frame, an unknown name, a wrong number) is a Result or, where a whole command is refused, a thrown
// Refused that one border catches; the environment gone (disk, database) is its own exception.
#pragma once

#include <boost/system/result.hpp>
#include <stdexcept>
#include <string>

namespace takehold::sensors {

/// An expected failure. `code` is stable and for programs; the rest is for people.
struct Problem {
  std::string code;    ///< stable, kebab-case: "unknown-key", "lot-not-found"
  std::string title;   ///< one short sentence: what is wrong
  std::string detail;  ///< more of it, or empty
  std::string where;   ///< file:line, argument or object; or empty
  std::string hint;    ///< what to do; or empty

  /// One line for a terminal: "where: title: detail (hint)", empty parts left out.
  std::string sentence() const;
};

/// A Problem on its way to the border that reports it.
class Refused : public std::runtime_error {
 public:
  explicit Refused(Problem problem);
  const Problem& problem() const { return problem_; }

 private:
  Problem problem_;
};

/// A value, or why there is none. `value()` throws Refused when there is none.
template <class T>
using Result = boost::system::result<T, Problem>;

[[noreturn]] void throw_exception_from_error(const Problem& problem, const boost::source_location&);

}  // namespace takehold::sensors
