#include "client/link/link.hpp"

#include <nlohmann/json.hpp>

#include "daemon/api/problem_document.hpp"

namespace takehold::client {
namespace {

using daemon::HttpResponse;
using nlohmann::json;
using sensors::Problem;
using sensors::Result;

constexpr int kNotFound = 404;

bool is_good(const HttpResponse& answer) {
  return answer.status >= 200 && answer.status < 300;
}

// Of the 4xx two speak of the moment and not of what was sent.
bool is_refusal(int status) {
  constexpr int kRequestTimeout = 408;
  constexpr int kTooManyRequests = 429;
  return status >= 400 && status < 500 && status != kRequestTimeout && status != kTooManyRequests;
}

Problem problem_of(const HttpResponse& answer) {
  Problem problem = daemon::api_problem_from(answer.status, answer.body).problem;
  if (problem.code.empty()) problem.code = "http-" + std::to_string(answer.status);
  return problem;
}

// A label that the daemon never heard of has left as well as can be.
bool is_done(const Notice& notice, const HttpResponse& answer) {
  return is_good(answer) || (!notice.body && answer.status == kNotFound);
}

}  // namespace

std::string url_part(std::string_view text) {
  constexpr std::string_view kPlain =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~";
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string part;
  for (const char c : text) {
    if (kPlain.find(c) != std::string_view::npos) {
      part += c;
      continue;
    }
    const auto byte = static_cast<unsigned char>(c);
    part += '%';
    part += kDigits[byte >> 4];
    part += kDigits[byte & 15u];
  }
  return part;
}

Result<HttpResponse> Link::send(const std::string& method, const std::string& target,
                                const std::string& body) const {
  daemon::HttpRequest request;
  request.method = method;
  request.target = target;
  request.body = body;
  if (!body.empty()) request.headers.emplace_back("Content-Type", "application/json");
  if (options_.token) request.headers.emplace_back("Authorization", "Bearer " + *options_.token);
  return daemon::exchange(options_.endpoint, request, options_.limits);
}

DeliveryOutcome Link::deliver_one(const Notice& notice) const {
  const std::string target = "/v1/occupants/" + url_part(notice.label);
  const auto answer =
      notice.body ? send("PUT", target, *notice.body)
                  : send("DELETE", target + "?at=" + url_part(sensors::to_string(notice.at)), "");
  DeliveryOutcome outcome{notice.label, notice.revision, Delivery::kept, "", std::nullopt};
  if (!answer) {
    outcome.trouble = answer.error().sentence();
  } else if (is_done(notice, *answer)) {
    outcome.delivery = Delivery::delivered;
    const json stored = json::parse(answer->body, nullptr, false);
    if (stored.is_object() && stored.contains("revision") && stored["revision"].is_number_integer())
      outcome.known_revision = stored["revision"].get<std::int64_t>();
  } else {
    outcome.trouble = std::to_string(answer->status) + ": " + problem_of(*answer).sentence();
    if (is_refusal(answer->status)) outcome.delivery = Delivery::parked;
  }
  return outcome;
}

std::vector<DeliveryOutcome> Link::deliver(std::span<const Notice> notices) const {
  std::vector<DeliveryOutcome> outcomes;
  std::string silence;
  for (const Notice& notice : notices) {
    if (notice.parked) continue;
    if (!silence.empty()) {
      outcomes.push_back({notice.label, notice.revision, Delivery::kept, silence, std::nullopt});
      continue;
    }
    outcomes.push_back(deliver_one(notice));
    if (outcomes.back().delivery == Delivery::kept) silence = outcomes.back().trouble;
  }
  return outcomes;
}

namespace {

Result<json> document_of(const HttpResponse& answer, const std::string& target) {
  if (!is_good(answer)) return problem_of(answer);
  if (answer.body.empty()) return Result<json>(boost::system::in_place_value, json::object());
  json document = json::parse(answer.body, nullptr, false);
  if (document.is_discarded())
    return Problem{"bad-answer", "the daemon's answer is no JSON", "", target, ""};
  return Result<json>(boost::system::in_place_value, std::move(document));
}

}  // namespace

Result<json> Link::ask(const std::string& method, const std::string& target,
                       const std::optional<json>& body) const {
  const auto answer = send(method, target, body ? body->dump() : "");
  if (!answer) return answer.error();
  return document_of(*answer, target);
}

Result<json> Link::status() const {
  return ask("GET", "/v1/status", std::nullopt);
}

Result<json> Link::readings(const ReadingsWanted& wanted) const {
  std::string target = "/v1/readings?from=" + url_part(sensors::to_string(wanted.from)) +
                       "&to=" + url_part(sensors::to_string(wanted.to)) +
                       "&points=" + std::to_string(wanted.points);
  if (wanted.probe) target += "&probe=" + url_part(*wanted.probe);
  return ask("GET", target, std::nullopt);
}

Result<json> Link::exposure(std::string_view label) const {
  const std::string target = "/v1/exposure/" + url_part(label);
  const auto answer = send("GET", target, "");
  if (!answer) return answer.error();
  if (answer->status == kNotFound) return Result<json>(boost::system::in_place_value, json());
  return document_of(*answer, target);
}

Result<json> Link::warnings() const {
  return ask("GET", "/v1/warnings", std::nullopt);
}

}  // namespace takehold::client
