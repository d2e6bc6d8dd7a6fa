#include "client/command/printing.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <nlohmann/json.hpp>

#include "client/terminal/numbers.hpp"

namespace takehold::client {

void add_paper(CLI::App& app, TypedPaper& paper, const std::string& usual_file) {
  paper.out = usual_file;
  app.add_option("--out", paper.out, "the file: .pdf, or .svg or .png for one page")
      ->capture_default_str();
  app.add_option("--paper", paper.paper, "a4 or letter")->capture_default_str();
}

Size paper_size(const std::string& name) {
  if (name == "a4") return {210, 297};
  if (name == "letter") return {215.9, 279.4};
  throw WrongUsage(
      {"unknown-word", "\"" + name + "\" is no paper known here", "", "--paper", "a4 or letter"});
}

Paper open_paper(const TypedPaper& typed, Size page, sensors::Instant now) {
  const auto kind = paper_kind(typed.out);
  if (!kind) {
    throw WrongUsage({"unknown-ending", "the file's ending does not say what it is to be", "",
                      typed.out, ".pdf, .svg or .png"});
  }
  return Paper(typed.out, *kind, page, now);
}

void note_trouble(Context& context, const std::vector<std::string>& shortened, int without_font) {
  if (!shortened.empty()) {
    context.out.note({"shortened", shortened.front(),
                      fmt::format("too long for its place even in the smallest letters, so "
                                  "shortened: {}",
                                  fmt::join(shortened, ", "))});
  }
  if (without_font > 0) {
    context.out.note(
        {"no-font", "",
         fmt::format("{} for which this machine has no font: boxes stand in their place",
                     counted(without_font, "letter", "letters"))});
  }
}

void say_printed(Context& context, const TypedPaper& typed, int pages, nlohmann::json more) {
  context.out.line(fmt::format("{}: {}", typed.out, counted(pages, "page", "pages")));
  more["file"] = typed.out;
  more["pages"] = pages;
  context.out.document(std::move(more));
}

}  // namespace takehold::client
