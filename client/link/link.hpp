// Talking to the daemon: telling it what waits in the outbox, asking it what it knows.
//
// Nothing here reads a clock or touches the book. Every call is one exchange, bounded: 300 ms to
// connect, a few seconds in all. A daemon that is not there is an answer, never an exception.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "client/season/notice.hpp"
#include "daemon/http/exchange.hpp"

namespace takehold::client {

struct LinkOptions {
  daemon::Endpoint endpoint{};
  std::optional<std::string> token{};  ///< sent as Bearer; needed for writing over TCP
  daemon::HttpLimits limits{};
};

/// Which readings to fetch: [from, to), in so many buckets.
struct ReadingsWanted {
  std::optional<std::string> probe{};  ///< left out: all of the chamber
  sensors::Instant from{};
  sensors::Instant to{};
  int points = 500;
};

class Link {
 public:
  explicit Link(LinkOptions options) : options_(std::move(options)) {}
  const daemon::Endpoint& endpoint() const { return options_.endpoint; }
  const LinkOptions& options() const { return options_; }

  /// Tries each notice that is not parked, in their order. Once nobody answers the rest is not
  /// tried but kept as well. For Book::settle.
  std::vector<DeliveryOutcome> deliver(std::span<const Notice> notices) const;

  // Codes: those of exchange() when nobody answers; "bad-answer" for what is no JSON; else the
  // daemon's own code, or "http-404" and the like where it gave none.
  sensors::Result<nlohmann::json> status() const;
  sensors::Result<nlohmann::json> readings(const ReadingsWanted& wanted) const;
  /// Null where the daemon never knew that label.
  sensors::Result<nlohmann::json> exposure(std::string_view label) const;
  sensors::Result<nlohmann::json> warnings() const;
  /// Any other exchange: `method`, a target from "/v1/" on, and a body or none.
  sensors::Result<nlohmann::json> ask(const std::string& method, const std::string& target,
                                      const std::optional<nlohmann::json>& body) const;

 private:
  sensors::Result<daemon::HttpResponse> send(const std::string& method, const std::string& target,
                                             const std::string& body) const;
  DeliveryOutcome deliver_one(const Notice& notice) const;

  LinkOptions options_;
};

/// Percent-encoded for a path or a query: all but letters, digits and - . _ ~ (RFC 3986, 2.3).
std::string url_part(std::string_view text);

}  // namespace takehold::client
