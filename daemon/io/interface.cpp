#include "daemon/io/interface.hpp"

#include <spdlog/spdlog.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "daemon/io/batch_exposure.hpp"
#include "daemon/io/messages.hpp"
#include "daemon/io/occupant_batch.hpp"
#include "daemon/io/page_content.hpp"
#include "sensors/check/judge.hpp"

namespace takehold::daemon {

using nlohmann::json;
using sensors::Instant;
using sensors::Problem;
using sensors::Reading;
using namespace std::chrono_literals;

namespace {

Response json_response(const json& body, int status = 200) {
  Response response;
  response.status = status;
  response.body = json_text(body) + "\n";
  return response;
}

/// "W12" -> 12
std::optional<std::int64_t> warning_number(const std::string& id) {
  if (id.size() < 2 || id.size() > 18 || id.front() != 'W') return std::nullopt;
  if (id.find_first_not_of("0123456789", 1) != std::string::npos) return std::nullopt;
  return std::stoll(id.substr(1));
}

template <class Q>
std::optional<Spread<Q>> spread_of(const std::optional<Bucket::Spread>& s) {
  if (!s) return std::nullopt;
  return Spread<Q>{quantity_of<Q>(s->mean), quantity_of<Q>(s->low), quantity_of<Q>(s->high)};
}

ReadingBucket bucket_message(const Bucket& bucket) {
  using sensors::Celsius;
  return {bucket.from,
          spread_of<Celsius>(bucket.temperature_degc),
          spread_of<sensors::RelativeHumidity>(bucket.humidity_pct),
          spread_of<Celsius>(bucket.leaf_temperature_degc),
          spread_of<sensors::CarbonDioxide>(bucket.co2_ppm),
          spread_of<sensors::PhotonFlux>(bucket.light_umol)};
}

}  // namespace

Response refusal(const ApiProblem& problem) {
  auto response = json_response(problem, problem.status);
  response.content_type = kProblemType;
  return response;
}

Response refusal(int status, Problem problem) {
  return refusal(ApiProblem{status, std::move(problem)});
}

Response Interface::handle(const Request& request, Instant now) {
  const auto route = route_of(request.method, request.target);
  if (!route) {
    auto response = refusal(route.error());
    if (response.status == 405) response.allow = allowed_methods(request.target);
    return response;
  }
  try {
    return answer(*route, request, now);
  } catch (const std::exception& error) {
    spdlog::error("interface: {} {}: {}", request.method, request.target, error.what());
    return refusal(500, {"internal", "the request could not be carried out", "", "", ""});
  }
}

Response Interface::answer(const Route& route, const Request& request, Instant now) {
  switch (route.name) {
    case RouteName::page: {
      Response response;
      response.content_type = "text/html; charset=utf-8";
      response.policy = page_policy();
      response.body = page_of(page_content(keeper_, reader_, now, zone_));
      return response;
    }
    case RouteName::status:
      return json_response(status_message(keeper_, now));
    case RouteName::readings:
      return readings(route, now);
    case RouteName::push_readings:
      return push(request, now);
    case RouteName::occupants:
      return json_response(occupants_json(occupant_messages(keeper_.chamber(), now)));
    case RouteName::put_occupant:
      return put_occupant(route, request, now);
    case RouteName::delete_occupant:
      return delete_occupant(route, now);
    case RouteName::warnings:
      return warnings();
    case RouteName::acknowledge_warning:
    case RouteName::shelve_warning:
      return answer_warning(route, request, now);
    case RouteName::exposure:
      return exposure(route, now);
    case RouteName::live:
      break;
  }
  throw std::logic_error("a stream of events is no answer");  // the session has sent it already
}

Response Interface::readings(const Route& route, Instant now) {
  const auto query = readings_query(route, now);
  if (!query) return refusal(query.error());
  ReadingsMessage message;
  message.from = query->from;
  message.to = query->to;
  message.step = (query->to - query->from) / query->points;
  BucketQuery wanted{{}, query->from, query->to, query->points};
  for (const auto& probe : keeper_.settings().probes) {
    if (!query->probe || *query->probe == probe.name) wanted.probes.push_back(probe.name);
  }
  if (query->probe && wanted.probes.empty()) {
    return refusal(
        404, {"unknown-probe", "there is no such probe", "\"" + *query->probe + "\"", "", ""});
  }
  const auto found = reader_.buckets(wanted);
  for (std::size_t i = 0; i < found.size(); ++i) {
    ProbeBuckets one{wanted.probes[i], {}};
    one.buckets.reserve(found[i].size());
    for (const auto& bucket : found[i]) one.buckets.push_back(bucket_message(bucket));
    message.probes.push_back(std::move(one));
  }
  Response response;
  response.body = readings_text(message) + "\n";
  return response;
}

/// The probe that `pushed` may speak for, or why there is none.
ApiResult<const ProbeSettings*> Interface::pushing_probe(const PushedReading& pushed,
                                                         const Request& request) const {
  const std::string name = "\"" + pushed.probe + "\"";
  const auto& probes = keeper_.settings().probes;
  const auto probe = std::find_if(probes.begin(), probes.end(),
                                  [&](const auto& p) { return p.name == pushed.probe; });
  if (probe == probes.end()) {
    return ApiProblem{404,
                      {"unknown-probe", "there is no such probe", name, "",
                       "name it in a [[probe]] of the settings"}};
  }
  if (!std::holds_alternative<PushSource>(probe->source)) {
    return ApiProblem{409,
                      {"not-pushed", "this probe is polled, it takes no readings", name, "", ""}};
  }
  const auto& may = request.may_push;
  if (may && std::find(may->begin(), may->end(), pushed.probe) == may->end()) {
    return ApiProblem{403, {"not-allowed", "this token may not speak for the probe", name, "", ""}};
  }
  return &*probe;
}

Response Interface::push(const Request& request, Instant now) {
  const auto pushed = pushed_readings_from(request.body);
  if (!pushed) return refusal(pushed.error());
  std::vector<Reading> readings;
  for (const auto& one : *pushed) {
    const auto probe = pushing_probe(one, request);
    if (!probe) return refusal(probe.error());
    const Instant at = one.at.value_or(now);
    if (at > now + 60s) {
      return refusal(422, {"in-the-future", "the reading is more than 60 s ahead of our clock",
                           sensors::to_string(at), "", "set the probe's clock"});
    }
    const Reading raw{one.probe, at, one.temperature, one.humidity, sensors::Quality::good,
                      one.extras};
    readings.push_back(sensors::judge(raw, (*probe)->calibration).reading);
  }
  const auto fresh = keeper_.unknown_of(std::move(readings));
  if (!fresh.empty()) keeper_.push(fresh, now);
  if (const auto& trouble = keeper_.trouble()) {
    return refusal(503, {"log-waits", "taken, but the log cannot be written: it is not safe yet",
                         trouble->error, "", "send it again later"});
  }
  const auto accepted = std::int64_t(fresh.size());
  return json_response(PushedMessage{accepted, std::int64_t(pushed->size()) - accepted});
}

Response Interface::put_occupant(const Route& route, const Request& request, Instant now) {
  const auto body = occupant_body_from(request.body);
  if (!body) return refusal(body.error());
  const auto& batches = keeper_.chamber().batches();
  if (const auto known = batches.find(route.about); known != batches.end()) {
    if (known->second.from_settings()) {
      return refusal(409, {"read-only", "this batch comes from the settings", route.about, "", ""});
    }
    if (known->second.book != body->book) {
      return refusal(409, {"other-book", "another book has a batch of this label", route.about, "",
                           "let its book end that batch first"});
    }
    if (body->revision <= known->second.revision) {
      return json_response({{"label", route.about}, {"revision", known->second.revision}});
    }
  }
  auto batch = batch_from(route.about, *body);
  keeper_.put(record_of(batch), batch, now);
  return json_response({{"label", route.about}, {"revision", body->revision}});
}

Response Interface::delete_occupant(const Route& route, Instant now) {
  const auto& batches = keeper_.chamber().batches();
  const auto known = batches.find(route.about);
  if (known == batches.end()) {
    return refusal(404, {"unknown-occupant", "there is no such batch", route.about, "", ""});
  }
  if (known->second.from_settings()) {
    return refusal(409, {"read-only", "this batch comes from the settings", route.about, "", ""});
  }
  Instant left = now;
  if (const auto at = route.query.find("at"); at != route.query.end()) {
    const auto parsed = sensors::parse_instant(at->second);
    if (!parsed) return refusal(422, parsed.error());
    left = *parsed;
  }
  Response response;
  response.status = 204;
  response.content_type.clear();
  if (known->second.left_at) return response;  // again: nothing to do
  auto batch = known->second;
  batch.left_at = left;
  keeper_.put(record_of(batch), batch, now);
  return response;
}

Response Interface::answer_warning(const Route& route, const Request& request, Instant now) {
  const auto number = warning_number(route.about);
  std::optional<Warning> after;
  if (route.name == RouteName::shelve_warning) {
    const auto until = shelve_until_from(request.body, now);
    if (!until) return refusal(until.error());
    if (number) after = keeper_.shelve(*number, *until, now);
  } else if (number) {
    after = keeper_.acknowledge(*number, now);
  }
  if (!after && number) after = reader_.warning(*number);  // answered and over long ago
  if (!after) {
    return refusal(404, {"unknown-warning", "there is no such warning", route.about, "", ""});
  }
  return json_response(warning_message(*after));
}

Response Interface::exposure(const Route& route, Instant now) {
  const auto& batches = keeper_.chamber().batches();
  const auto known = batches.find(route.about);
  if (known == batches.end()) {
    return refusal(404, {"unknown-occupant", "there is no such batch", route.about, "", ""});
  }
  return json_response(exposure_of(known->second, keeper_.settings(), reader_, now));
}

Response Interface::warnings() {
  std::vector<WarningMessage> messages;
  for (const auto& warning : reader_.warnings(200)) messages.push_back(warning_message(warning));
  return json_response(warnings_json(messages));
}

}  // namespace takehold::daemon
