#include "client/print/report.hpp"

#include "sensors/codec/markup.hpp"

namespace takehold::client {
namespace {

constexpr double kChartWidth = 180;  // mm, as on paper; a browser scales it

std::string element(const char* name, const std::string& text) {
  return std::string("<") + name + ">" + sensors::markup_text(text) + "</" + name + ">\n";
}

constexpr const char* kStyle =
    "body{font:16px/1.5 sans-serif;max-width:46rem;margin:1.5rem auto;padding:0 1rem;color:#111;"
    "background:#fff}h1{font-size:1.7rem}h2{font-size:1.2rem;margin-top:2rem;border-bottom:1px "
    "solid "
    "#999}table{border-collapse:collapse;width:100%}th,td{padding:.25rem .5rem;text-align:left;"
    "border-bottom:1px solid #ccc}.r{text-align:right}figure{margin:1rem 0}svg{max-width:100%;"
    "height:auto}.made{color:#555}@media print{h2{break-after:avoid}figure,tr{break-inside:avoid}}";

// From its own element on: what stands before it belongs to a file, not into a page. Cairo's SVGs
// name their glyphs and patterns; within one page of HTML such names must not meet, so each chart's
// get a mark of their own.
std::string inside_page(const std::string& svg, std::size_t number) {
  std::string text = svg.substr(svg.find("<svg"));
  const std::string mark = "c" + std::to_string(number) + "-";
  for (const char* before : {" id=\"", "\"#", "url(#"}) {
    const std::string key(before);
    for (auto at = text.find(key); at != std::string::npos; at = text.find(key, at + 1)) {
      text.insert(at + key.size(), mark);
    }
  }
  return text;
}

std::string figure(const ReportChart& chart, std::size_t number) {
  Paper paper = Paper::svg_text({kChartWidth, chart.height_mm});
  chart.draw(paper, {0, 0, kChartWidth, chart.height_mm});
  paper.finish();
  return "<figure role=\"img\" aria-label=\"" + sensors::markup_text(chart.in_words) + "\">\n" +
         inside_page(paper.svg(), number) + "</figure>\n";
}

std::string table_html(const ReportTable& table) {
  std::string html = "<table>\n<tr>";
  const auto side = [&](std::size_t i) {
    return i < table.columns.size() && table.columns[i].across == Across::right ? " class=\"r\""
                                                                                : "";
  };
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    html +=
        std::string("<th") + side(i) + ">" + sensors::markup_text(table.columns[i].head) + "</th>";
  }
  html += "</tr>\n";
  for (const auto& row : table.rows) {
    html += "<tr>";
    for (std::size_t i = 0; i < row.size(); ++i) {
      html += std::string("<td") + side(i) + ">" + sensors::markup_text(row[i]) + "</td>";
    }
    html += "</tr>\n";
  }
  return html + "</table>\n";
}

}  // namespace

std::string report_html(const Report& report) {
  std::string html =
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" +
      element("title", report.title) + "<style>" + kStyle + "</style>\n</head>\n<body>\n" +
      element("h1", report.title) + "<p class=\"made\">" + sensors::markup_text(report.made) +
      "</p>\n";
  std::size_t charts = 0;
  for (const ReportSection& section : report.sections) {
    html += element("h2", section.title);
    for (const auto& words : section.words) html += element("p", words);
    if (section.chart) html += figure(*section.chart, ++charts);
    if (section.table) html += table_html(*section.table);
    for (const auto& words : section.afterwords) html += element("p", words);
  }
  return html + "</body>\n</html>\n";
}

bool draw_report(Paper& paper, const Report& report) {
  SheetPage page(paper, report.title, report.made);
  for (const ReportSection& section : report.sections) {
    page.title(section.title);
    for (const auto& words : section.words) page.paragraph(words);
    if (section.chart) section.chart->draw(paper, page.room(section.chart->height_mm));
    if (section.table) page.table(section.table->columns, section.table->rows);
    for (const auto& words : section.afterwords) page.paragraph(words);
    page.space(3);
  }
  return page.was_shortened();
}

}  // namespace takehold::client
