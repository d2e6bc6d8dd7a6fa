// What every printing command shares: where the pages go, on what paper, and what is said of them.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "client/command/context.hpp"
#include "client/print/paper.hpp"

namespace CLI {
class App;
}

namespace takehold::client {

/// --out and --paper as typed.
struct TypedPaper {
  std::string out{};
  std::string paper = "a4";
};
void add_paper(CLI::App& app, TypedPaper& paper, const std::string& usual_file);

/// a4 or letter, upright. Wrong usage "unknown-word".
Size paper_size(const std::string& name);

/// The file of --out; its ending says what it becomes. Wrong usage "unknown-ending".
Paper open_paper(const TypedPaper& typed, Size page, sensors::Instant now);

/// A note for texts that had to be shortened, and one for letters no font here has.
void note_trouble(Context& context, const std::vector<std::string>& shortened, int without_font);

/// "labels.pdf: 3 pages", and {file, pages} with whatever `more` holds.
void say_printed(Context& context, const TypedPaper& typed, int pages, nlohmann::json more);

}  // namespace takehold::client
