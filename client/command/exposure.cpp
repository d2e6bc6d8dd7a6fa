#include "client/command/exposure.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/book/recorder.hpp"

namespace takehold::client {

namespace {

std::optional<Exposure> last_exposure(const Book& book, const std::string& batch) {
  std::optional<Exposure> last;
  for (const Exposure& exposure : book.all<Exposure>()) {
    if (exposure.batch == batch) last = exposure;
  }
  return last;
}

void keep(Book& book, const ExposureOwed& owed, const nlohmann::json& document,
          sensors::Instant now) {
  book.record("exposure " + owed.batch, now, [&](Recorder& r) {
    const auto before = last_exposure(book, owed.batch);
    Exposure exposure;
    exposure.id = before ? before->id : r.next_number(Kind::exposure);
    exposure.batch = owed.batch;
    exposure.at = owed.left_at;
    if (document.is_object()) {
      exposure.document = document.dump();
      const auto observed = document.find("observed");
      if (observed != document.end() && observed->is_number()) exposure.observed = *observed;
    }
    r.put(exposure);
  });
}

}  // namespace

std::optional<Exposure> kept_exposure(const Book& book, const std::string& batch) {
  const auto left = book.left_chamber(batch);
  auto exposure = last_exposure(book, batch);
  if (!left || !exposure || exposure->at != *left) return std::nullopt;
  return exposure;
}

nlohmann::json exposure_json(const Book& book, const std::string& batch) {
  const auto kept = kept_exposure(book, batch);
  if (!kept || kept->document.empty()) return nullptr;
  return nlohmann::json::parse(kept->document);
}

std::vector<ExposureOwed> exposures_owed(const Book& book, sensors::Instant now) {
  const auto waiting = book.waiting();
  std::vector<ExposureOwed> owed;
  for (const Batch& batch : book.all<Batch>()) {
    const auto left = book.left_chamber(batch.id);
    if (!left || *left > now || kept_exposure(book, batch.id)) continue;
    const bool untold = std::any_of(waiting.begin(), waiting.end(),
                                    [&](const Notice& n) { return n.label == batch.id; });
    if (!untold) owed.push_back({batch.id, *left});
  }
  return owed;
}

std::vector<ExposureAnswer> fetch_exposures(Book& book, const Link& link, sensors::Instant now) {
  std::vector<ExposureAnswer> answers;
  std::string silence;
  for (const ExposureOwed& owed : exposures_owed(book, now)) {
    ExposureAnswer answer{owed.batch, std::nullopt, silence};
    if (silence.empty()) {
      const auto document = link.exposure(owed.batch);
      if (document) {
        keep(book, owed, *document, now);
        answer.observed = kept_exposure(book, owed.batch)->observed;
      } else {
        answer.trouble = silence = document.error().sentence();
      }
    }
    answers.push_back(std::move(answer));
  }
  return answers;
}

}  // namespace takehold::client
