// The report's part on what came after the graft: what plants bore, and how they were scored.
#pragma once

#include <vector>

#include "client/book/book.hpp"
#include "client/print/report.hpp"

namespace takehold::client {

/// "Was grafting worth it" and "How they were scored"; none where nothing was picked or scored.
std::vector<ReportSection> crop_sections(const Book& book);

}  // namespace takehold::client
