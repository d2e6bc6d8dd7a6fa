#include "client/command/output.hpp"

#include <cassert>
#include <nlohmann/json.hpp>
#include <ostream>

#include "client/terminal/text_width.hpp"

namespace takehold::client {

using nlohmann::json;

json to_json(const Note& note) {
  return {{"code", note.code}, {"about", note.about}, {"text", note.text}};
}

json error_json(const sensors::Problem& problem) {
  return {{"error",
           {{"code", problem.code},
            {"title", problem.title},
            {"detail", problem.detail},
            {"where", problem.where},
            {"hint", problem.hint}}}};
}

std::string document_text(const json& document) {
  return document.dump(2, ' ', false, json::error_handler_t::replace) + "\n";
}

void Output::document(json document) {
  assert(document.is_object());
  if (!json_) return;
  json warnings = document.value("warnings", json::array());
  for (const Note& note : notes_) warnings.push_back(to_json(note));
  document["warnings"] = std::move(warnings);
  out_ << document_text(document) << std::flush;
}

void Output::stream_line(const json& object) {
  out_ << object.dump(-1, ' ', false, json::error_handler_t::replace) << '\n' << std::flush;
}

void Output::text(std::string_view text) {
  if (!json_) out_ << as_shown(text) << std::flush;
}

void Output::line(std::string_view text) {
  this->text(std::string(text) + "\n");
}

void Output::note(Note note) {
  if (!json_) err_ << as_shown(wrapped("note: " + note.text, style_.width)) << '\n';
  notes_.push_back(std::move(note));
}

void Output::refusal(const sensors::Problem& problem) {
  err_ << as_shown(inked("takehold:", Ink::bad, style_)) << ' ' << as_shown(problem.sentence())
       << '\n';
  if (json_) out_ << document_text(error_json(problem)) << std::flush;
}

std::string Output::as_shown(std::string_view text) const {
  return style_.unicode ? std::string(text) : to_ascii(text);
}

}  // namespace takehold::client
