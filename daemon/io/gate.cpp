#include "daemon/io/gate.hpp"

#include <openssl/crypto.h>
#include <sys/stat.h>

#include <algorithm>

#include "daemon/toml/document.hpp"

namespace takehold::daemon {

using sensors::Problem;
using sensors::Refused;

namespace {

ApiProblem denied(int status, const char* code, const char* title, const char* hint = "") {
  return {status, Problem{code, title, "", "", hint}};
}

Token read_token(const TomlTable& table) {
  Token token;
  if (!table.has("kind")) table.need_text("kind");
  const auto kind = table.choice("kind", {"push", "grower"});
  token.kind = kind == "grower" ? Token::Kind::grower : Token::Kind::push;
  token.secret = table.need_text("secret");
  if (!token.secret.empty() && token.secret.size() < 16) {
    table.refuse("secret", Problem{"short-secret", "a secret has at least 16 characters", "", "",
                                   "make one with: openssl rand -hex 24"});
  }
  constexpr std::string_view kPlain =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~+/=";
  if (token.secret.find_first_not_of(kPlain) != std::string::npos) {
    table.refuse("secret",
                 Problem{"bad-secret", "a secret is made of letters, digits and - . _ ~ + / =", "",
                         "", "make one with: openssl rand -hex 24"});  // it goes into a cookie too
  }
  if (const auto probes = table.texts("probes")) token.probes = *probes;
  if (kind == "push" && token.probes.empty()) {
    table.refuse(
        Problem{"missing-key", "a push token names its probes", "", "", "probes = [\"left\"]"});
  }
  return token;
}

/// The secret of "Bearer SECRET", or of the cookie that the page sets.
std::string secret_of(const Credentials& shown) {
  constexpr std::string_view kBearer = "Bearer ";
  constexpr std::string_view kCookie = "takehold=";
  if (shown.authorization.starts_with(kBearer)) return shown.authorization.substr(kBearer.size());
  const auto at = shown.cookie.find(kCookie);
  if (at == std::string::npos || (at > 0 && shown.cookie[at - 1] != ' ')) return "";
  const auto value = shown.cookie.substr(at + kCookie.size());
  return value.substr(0, value.find(';'));
}

}  // namespace

std::vector<Token> load_tokens(const std::string& file) {
  struct stat state {};
  if (::stat(file.c_str(), &state) != 0) {
    throw Refused({"no-file", "there is no token file", "", file, "listen.token_file names it"});
  }
  if ((state.st_mode & 077) != 0) {
    throw Refused(
        {"open-to-others", "others may read the token file", "", file, "chmod 600 " + file});
  }
  const auto document = load_toml(file).value();
  std::vector<Token> tokens;
  for (const auto& table : document.root().tables("token")) tokens.push_back(read_token(table));
  document.refuse_mistakes();
  return tokens;
}

bool same_secret(std::string_view a, std::string_view b) {
  // The length may show; a secret's length is no secret.
  return a.size() == b.size() && CRYPTO_memcmp(a.data(), b.data(), a.size()) == 0;
}

Gate::Gate(std::vector<Token> tokens, std::vector<std::string> hosts, int port)
    : tokens_(std::move(tokens)) {
  hosts.insert(hosts.end(), {"localhost", "127.0.0.1", "::1"});
  for (const auto& host : hosts) {
    const bool six = host.find(':') != std::string::npos;
    const std::string name = six ? "[" + host + "]" : host;
    hosts_.push_back(name + ":" + std::to_string(port));
    if (port == 80) hosts_.push_back(name);
  }
}

bool Gate::is_our_host(const Credentials& shown) const {
  // An address cannot be made to mean another machine, as a name can.
  if (!shown.local.empty() && shown.host == shown.local) return true;
  return std::find(hosts_.begin(), hosts_.end(), shown.host) != hosts_.end();
}

const Token* Gate::find(std::string_view secret) const {
  const Token* found = nullptr;
  for (const auto& token : tokens_) {  // all are looked at, whichever fits
    if (same_secret(token.secret, secret)) found = &token;
  }
  return found;
}

std::optional<ApiProblem> Gate::refuse_place(const Credentials& shown) const {
  if (!is_our_host(shown)) return denied(403, "wrong-host", "this is not our name");
  if (!shown.origin.empty() && shown.origin != "http://" + shown.host) {
    return denied(403, "wrong-origin", "the request comes from a page elsewhere");
  }
  return std::nullopt;
}

ApiResult<std::string> Gate::log_in(const std::string& secret, const Credentials& shown) const {
  if (const auto refused = refuse_place(shown)) return *refused;
  const Token* token = find(secret);
  if (token == nullptr) return denied(403, "wrong-token", "this token is not known");
  if (token->kind != Token::Kind::grower) {
    return denied(403, "not-allowed", "this token may only send readings");
  }
  return "takehold=" + token->secret + "; Path=/; Max-Age=31536000; HttpOnly; SameSite=Strict";
}

ApiResult<Admission> Gate::admit(const Route& route, const Credentials& shown) const {
  if (const auto refused = refuse_place(shown)) return *refused;
  const auto secret = secret_of(shown);
  if (secret.empty()) {
    if (!route.writes() && shown.loopback) return Admission{};
    return denied(401, "no-token", "a token is needed", "send Authorization: Bearer SECRET");
  }
  const Token* token = find(secret);
  if (token == nullptr) return denied(403, "wrong-token", "this token is not known");
  if (token->kind == Token::Kind::grower) return Admission{};
  if (route.name == RouteName::push_readings) return Admission{token->probes};
  if (!route.writes() && shown.loopback) return Admission{};
  return denied(403, "not-allowed", "this token may only send readings");
}

}  // namespace takehold::daemon
