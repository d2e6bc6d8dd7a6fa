#include "daemon/api/problem_document.hpp"

#include <array>
#include <nlohmann/json.hpp>
#include <utility>

namespace takehold::daemon {
namespace {

using nlohmann::json;

constexpr std::array kPhrases = {
    std::pair{200, "OK"},
    std::pair{204, "No Content"},
    std::pair{303, "See Other"},
    std::pair{400, "Bad Request"},
    std::pair{401, "Unauthorized"},
    std::pair{403, "Forbidden"},
    std::pair{404, "Not Found"},
    std::pair{405, "Method Not Allowed"},
    std::pair{408, "Request Timeout"},
    std::pair{409, "Conflict"},
    std::pair{413, "Content Too Large"},
    std::pair{415, "Unsupported Media Type"},
    std::pair{421, "Misdirected Request"},
    std::pair{422, "Unprocessable Content"},
    std::pair{431, "Request Header Fields Too Large"},
    std::pair{500, "Internal Server Error"},
    std::pair{503, "Service Unavailable"},
};

json or_null(const std::string& text) {
  return text.empty() ? json(nullptr) : json(text);
}

std::string text_of(const json& document, const char* key, const std::string& otherwise) {
  const auto found = document.find(key);
  return found != document.end() && found->is_string() ? found->get<std::string>() : otherwise;
}

}  // namespace

void throw_exception_from_error(const ApiProblem& problem, const boost::source_location&) {
  throw sensors::Refused(problem.problem);
}

std::string status_phrase(int status) {
  for (const auto& [number, phrase] : kPhrases) {
    if (number == status) return phrase;
  }
  return "HTTP status " + std::to_string(status);
}

void to_json(json& out, const ApiProblem& refused) {
  const auto& problem = refused.problem;
  out = {{"type", problem.code.empty() ? "about:blank" : "/problems/" + problem.code},
         {"title", problem.title.empty() ? status_phrase(refused.status) : problem.title},
         {"status", refused.status},
         {"detail", or_null(problem.detail)},
         {"code", or_null(problem.code)},
         {"where", or_null(problem.where)},
         {"hint", or_null(problem.hint)}};
}

ApiProblem api_problem_from(int status, const std::string& body) {
  json document = json::parse(body, nullptr, false);
  if (!document.is_object()) document = json::object();
  return {status,
          {text_of(document, "code", "http-" + std::to_string(status)),
           text_of(document, "title", status_phrase(status)), text_of(document, "detail", ""),
           text_of(document, "where", ""), text_of(document, "hint", "")}};
}

}  // namespace takehold::daemon
