// What a command prints: lines for a person, or one JSON document for a program, never both.
#pragma once

#include <iosfwd>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "client/terminal/style.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {

/// A note that does not fail the command.
struct Note {
  std::string code;   ///< stable, for programs
  std::string about;  ///< what it is about: a name, an id; or empty
  std::string text;   ///< the sentence
};

nlohmann::json to_json(const Note& note);
/// {"error":{code,title,detail,where,hint}}
nlohmann::json error_json(const sensors::Problem& problem);
/// The document as text. Bytes that are not UTF-8 are replaced, never thrown over.
std::string document_text(const nlohmann::json& document);

class Output {
 public:
  /// The streams must outlive the Output.
  Output(std::ostream& out, std::ostream& err, bool json, TerminalStyle style)
      : out_(out), err_(err), json_(json), style_(style) {}

  bool is_json() const { return json_; }
  const TerminalStyle& style() const { return style_; }
  void show_units(Units units) { style_.units = units; }
  void show_dates(DateOrder dates) { style_.dates = dates; }

  /// The one document of a --json run: `document` (an object) with the notes added as "warnings".
  /// Does nothing otherwise.
  void document(nlohmann::json document);
  /// An object on a line of its own, for a command that goes on until interrupted.
  void stream_line(const nlohmann::json& object);
  /// Text for people, in ASCII where the place knows no more. Does nothing with --json.
  void text(std::string_view text);
  void line(std::string_view text = "");
  /// A note: printed on stderr at once, and part of the document.
  void note(Note note);
  const std::vector<Note>& notes() const { return notes_; }

  /// The end of a command that was refused.
  void refusal(const sensors::Problem& problem);

 private:
  std::string as_shown(std::string_view text) const;

  std::ostream& out_;
  std::ostream& err_;
  bool json_;
  TerminalStyle style_;
  std::vector<Note> notes_;
};

}  // namespace takehold::client
