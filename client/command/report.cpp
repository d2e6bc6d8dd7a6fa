// report: the season on a few pages, for anyone.
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/printing.hpp"
#include "client/command/season_report.hpp"

namespace takehold::client {
namespace {

void write_html(const Report& report, const std::string& file) {
  std::ofstream out(file, std::ios::binary);
  out << report_html(report);
  out.close();
  if (!out) {
    throw sensors::Refused({"cannot-write", "cannot write this file",
                            "the folder is not there, or is full", file, ""});
  }
}

void print_report(const TypedPaper& words, Context& context) {
  const Report report = season_report(open_book(context, BookUse::reading), context.now, context.units);
  nlohmann::json sections = nlohmann::json::array();
  for (const ReportSection& section : report.sections) sections.push_back(section.title);
  if (std::filesystem::path(words.out).extension() == ".html") {
    write_html(report, words.out);
    say_printed(context, words, 1, {{"sections", std::move(sections)}});
    return;
  }
  Paper paper = open_paper(words, paper_size(words.paper), context.now);
  std::vector<std::string> shortened;
  if (draw_report(paper, report)) shortened.emplace_back("report");
  paper.finish();
  note_trouble(context, shortened, paper.letters_without_font());
  say_printed(context, words, paper.pages(), {{"sections", std::move(sections)}});
}

}  // namespace

void add_report(CommandTree& tree) {
  CLI::App& app = tree.command(
      "report", {kLearning, "the season on a few pages, with charts, for anyone to read",
                 "As a page of HTML or as a PDF, by the file's ending.",
                 "report --out season.html\nreport --out season.pdf"});
  const auto words = std::make_shared<TypedPaper>();
  add_paper(app, *words, "season.html");
  tree.action(app, [words](Context& context) { print_report(*words, context); });
}

}  // namespace takehold::client
