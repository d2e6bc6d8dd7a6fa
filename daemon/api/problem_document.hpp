// Refusals on the wire: problem details as RFC 9457 has them.
#pragma once

#include <boost/system/result.hpp>
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

inline constexpr const char* kProblemType = "application/problem+json";

/// A refusal and the HTTP status it is sent with.
struct ApiProblem {
  int status = 500;
  sensors::Problem problem;
};

[[noreturn]] void throw_exception_from_error(const ApiProblem& problem,
                                             const boost::source_location&);

template <class T>
using ApiResult = boost::system::result<T, ApiProblem>;

/// `{type, title, status, detail, code, where, hint}`; the last three are ours, null when empty.
void to_json(nlohmann::json& json, const ApiProblem& problem);

/// Reads what any server may have sent: what is missing is made from the status.
ApiProblem api_problem_from(int status, const std::string& body);

/// "Not Found" for 404.
std::string status_phrase(int status);

}  // namespace takehold::daemon
