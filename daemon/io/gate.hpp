// Who may do what: the check that every request passes before the interface sees it.
//
// Over the Unix socket the file's mode is the right. Over TCP: whoever writes shows a token;
// whoever reads needs one unless the connection is from this machine; Host must be ours, and
// Origin, when sent, must match it (else a web page elsewhere could speak to us through a browser).
// Pure.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "daemon/api/route.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

struct Token {
  enum class Kind { push, grower };
  Kind kind = Kind::push;
  std::string secret;
  std::vector<std::string> probes;  ///< that a push token may speak for
};

/// Reads [[token]] tables: kind, secret, probes. The file must be the owner's alone (mode 0600):
/// code "open-to-others".
std::vector<Token> load_tokens(const std::string& file);

/// The same time whatever differs, and where.
bool same_secret(std::string_view a, std::string_view b);

/// What a TCP request shows of itself.
struct Credentials {
  std::string host;
  std::string origin;
  std::string authorization;
  std::string cookie;
  bool loopback = false;
  std::string local;  ///< our own end, "address:port": a name of ours too, if we listen everywhere
};

struct Admission {
  /// Of a push token: the probes it may speak for.
  std::optional<std::vector<std::string>> may_push;
};

class Gate {
 public:
  /// `port` ours; `hosts` the names we are called by besides loopback's.
  Gate(std::vector<Token> tokens, std::vector<std::string> hosts, int port);
  /// 401 "no-token", 403 "wrong-token", "wrong-host", "wrong-origin", "not-allowed".
  ApiResult<Admission> admit(const Route& route, const Credentials& shown) const;
  /// `GET /?token=SECRET`: the cookie for a browser, which cannot send a Bearer header with a page
  /// or an event stream. Only a grower's token. 403 as above.
  ApiResult<std::string> log_in(const std::string& secret, const Credentials& shown) const;
  /// The token with this secret.
  const Token* find(std::string_view secret) const;

 private:
  std::optional<ApiProblem> refuse_place(const Credentials& shown) const;
  bool is_our_host(const Credentials& shown) const;

  std::vector<Token> tokens_;
  std::vector<std::string> hosts_;
};

}  // namespace takehold::daemon
