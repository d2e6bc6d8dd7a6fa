// A report: sections of words, tables and charts, as a page of HTML or as a PDF.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "client/print/sheet_page.hpp"

namespace takehold::client {

/// Drawn into whatever box the page gives it, as wide as the page.
struct ReportChart {
  double height_mm = 80;
  std::string in_words{};  ///< what it shows, for those who cannot see it
  std::function<void(Paper&, const Box&)> draw{};
};

struct ReportTable {
  std::vector<SheetColumn> columns{};
  std::vector<std::vector<std::string>> rows{};
};

/// In this order on the page: title, words, chart, table, afterwords.
struct ReportSection {
  std::string title{};
  std::vector<std::string> words{};
  std::optional<ReportChart> chart{};
  std::optional<ReportTable> table{};
  std::vector<std::string> afterwords{};
};

struct Report {
  std::string title{};
  std::string made{};  ///< "2027-06-01"
  std::vector<ReportSection> sections{};
};

/// One file with its charts inside as SVG, nothing fetched from anywhere.
std::string report_html(const Report& report);
/// Gives whether any text had to be shortened.
bool draw_report(Paper& paper, const Report& report);

}  // namespace takehold::client
