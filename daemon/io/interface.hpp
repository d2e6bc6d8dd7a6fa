// The interface: a request in, an answer out. No sockets; tests call it directly.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "daemon/api/reading_message.hpp"
#include "daemon/api/route.hpp"
#include "daemon/io/keeper.hpp"
#include "daemon/log/log_reader.hpp"
#include "sensors/quantity/machine_zone.hpp"

namespace takehold::daemon {

/// A request whose sender has been found to have the right to make it.
struct Request {
  std::string method;
  std::string target;
  std::string body;
  /// Of a token of kind push: the probes it may speak for. None: anything.
  std::optional<std::vector<std::string>> may_push;
};

struct Response {
  int status = 200;
  std::string content_type = "application/json";
  std::string body;
  std::string allow;   ///< of a 405
  std::string policy;  ///< Content-Security-Policy of a page
};

class Interface {
 public:
  /// `zone`: of the clock times on the page.
  Interface(Keeper& keeper, LogReader& reader, sensors::TimeZone zone = sensors::machine_zone())
      : keeper_(keeper), reader_(reader), zone_(std::move(zone)) {}

  /// Never throws for what a client may send; disk trouble is a 500.
  Response handle(const Request& request, sensors::Instant now);

 private:
  Response answer(const Route& route, const Request& request, sensors::Instant now);
  Response readings(const Route& route, sensors::Instant now);
  ApiResult<const ProbeSettings*> pushing_probe(const PushedReading& pushed,
                                                const Request& request) const;
  Response push(const Request& request, sensors::Instant now);
  Response put_occupant(const Route& route, const Request& request, sensors::Instant now);
  Response delete_occupant(const Route& route, sensors::Instant now);
  Response answer_warning(const Route& route, const Request& request, sensors::Instant now);
  Response warnings();
  Response exposure(const Route& route, sensors::Instant now);

  Keeper& keeper_;
  LogReader& reader_;
  sensors::TimeZone zone_;
};

/// A refusal as RFC 9457 has it.
Response refusal(int status, sensors::Problem problem);
Response refusal(const ApiProblem& problem);

}  // namespace takehold::daemon
