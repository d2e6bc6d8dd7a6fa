// chart: a picture of the chamber, of stems, of takes or of the plan, as a file.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/batch_fates.hpp"
#include "client/command/batch_view.hpp"
#include "client/command/chart_pages.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/printing.hpp"

namespace takehold::client {
namespace {

constexpr Size kPage{240, 150};
constexpr double kMargin = 8;

struct Typed {
  std::string what, batch;
  std::vector<std::string> sowings;
  double hours = 72;
  TakeSource takes;
  std::string out;
};

Box inside(Size page) {
  return Box{0, 0, page.width, page.height}.inset(kMargin);
}

Paper paper_for(const Typed& words, Size page, sensors::Instant now) {
  return open_paper({words.out, ""}, page, now);
}

// Tall enough for its rows, as a table would be.
Size page_of_rows(std::size_t rows) {
  return {kPage.width, std::max(60.0, 30.0 + 9.0 * static_cast<double>(rows) + 2 * kMargin)};
}

sensors::TimeSpan climate_span(const Typed& words, const Book& book, sensors::Instant now) {
  if (words.batch.empty()) {
    const auto back = std::chrono::milliseconds(static_cast<std::int64_t>(words.hours * 3.6e6));
    return {now - back, now};
  }
  const Batch batch = find_numbered<Batch>(book, words.batch);
  const auto whole = daemon::whole_length(regime_of(batch));
  return {batch.at, std::min(now, batch.at + std::chrono::milliseconds(whole))};
}

Paper climate(const Typed& words, const Book& book, Context& context) {
  const auto span = climate_span(words, book, context.now);
  const auto readings =
      answered(daemon_link(context).readings({std::nullopt, span.from, span.to, 800}));
  const ClimateCharts charts = climate_charts(book, readings, span, context.units);
  Paper paper = paper_for(words, kPage, context.now);
  const Box box = inside(kPage);
  const double half = box.height / 2;
  draw_time_chart(paper, {box.x, box.y, box.width, half - 2}, charts.temperature, book.time_zone());
  draw_time_chart(paper, {box.x, box.y + half, box.width, half}, charts.humidity, book.time_zone());
  return paper;
}

Paper growth(const Typed& words, const Book& book, Context& context) {
  std::vector<Sowing> sowings;
  for (const auto& name : words.sowings) sowings.push_back(find_numbered<Sowing>(book, name));
  if (words.sowings.empty()) sowings = book.all<Sowing>();
  Paper paper = paper_for(words, kPage, context.now);
  draw_time_chart(paper, inside(kPage), growth_chart(book, sowings, context.units),
                  book.time_zone());
  return paper;
}

Paper takes(const Typed& words, Context& context) {
  const TakeRecord record = take_record(words.takes, context);
  const auto rows = take_intervals(record);
  const Size page = page_of_rows(rows.size());
  Paper paper = paper_for(words, page, context.now);
  draw_intervals(
      paper, inside(page),
      fmt::format("Takes by {}: likely share, and where it lies 9 times in 10", to_text(record.by)),
      rows);
  return paper;
}

Paper plan(const Typed& words, const Book& book, Context& context) {
  const auto rows = plan_rows(book);
  const Size page = page_of_rows(rows.size());
  Paper paper = paper_for(words, page, context.now);
  draw_days(paper, inside(page), "The plan as accepted", rows);
  return paper;
}

void draw(const Typed& words, Context& context) {
  Paper paper = [&] {
    if (words.what == "takes") return takes(words, context);
    const Book book = open_book(context, BookUse::reading);
    if (words.what == "climate") return climate(words, book, context);
    return words.what == "growth" ? growth(words, book, context) : plan(words, book, context);
  }();
  paper.finish();
  note_trouble(context, {}, paper.letters_without_font());
  say_printed(context, {words.out, ""}, paper.pages(), {{"chart", words.what}});
}

}  // namespace

void add_chart(CommandTree& tree) {
  CLI::App& app = tree.command(
      "chart", {kLearning, "a picture as a file: climate, growth, takes or plan",
                "climate asks the daemon, for the last hours or for a batch; the rest is drawn\n"
                "from the book.",
                "chart takes --out takes.svg\nchart growth S1 S2 --out stems.png\n"
                "chart climate --batch G1 --out g1.pdf"});
  const auto words = std::make_shared<Typed>();
  app.add_option("what", words->what, "climate, growth, takes or plan")
      ->required()
      ->check(CLI::IsMember({"climate", "growth", "takes", "plan"}));
  app.add_option("sowings", words->sowings, "growth: of these only");
  app.add_option("--batch", words->batch, "climate: while this batch healed");
  app.add_option("--hours", words->hours, "climate: the last so many hours")
      ->check(CLI::Range(0.1, 20000.0))
      ->capture_default_str();
  add_take_source(app, words->takes);
  app.add_option("--out", words->out, "the file: .svg, .png or .pdf")->required();
  tree.action(app, [words](Context& context) { draw(*words, context); });
}

}  // namespace takehold::client
