#include "daemon/io/gate.hpp"

#include <gtest/gtest.h>
#include <sys/stat.h>

#include <fstream>

#include "tests/support/running_program.hpp"

namespace takehold::daemon {
namespace {

const std::string kGrower = "the-grower-has-this-one";
const std::string kPusher = "the-probe-has-this-one-";

Gate gate() {
  return Gate({{Token::Kind::grower, kGrower, {}}, {Token::Kind::push, kPusher, {"left"}}},
              {"192.0.2.7"}, 7453);
}

Credentials shown(const std::string& secret, bool loopback = true) {
  Credentials credentials;
  credentials.host = "127.0.0.1:7453";
  if (!secret.empty()) credentials.authorization = "Bearer " + secret;
  credentials.loopback = loopback;
  return credentials;
}

/// "" for admitted, else the code.
std::string code(const char* method, const char* target, const Credentials& credentials) {
  const auto admitted = gate().admit(route_of(method, target).value(), credentials);
  return admitted ? "" : admitted.error().problem.code;
}

TEST(Gate, reads_without_a_token_on_loopback_only) {
  EXPECT_EQ(code("GET", "/v1/status", shown("")), "");
  EXPECT_EQ(code("GET", "/v1/status", shown("", false)), "no-token");
  EXPECT_EQ(code("HEAD", "/v1/status", shown("", false)), "no-token");
}

TEST(Gate, writes_with_a_token_everywhere) {
  EXPECT_EQ(code("PUT", "/v1/occupants/G1", shown("")), "no-token");
  EXPECT_EQ(code("PUT", "/v1/occupants/G1", shown(kGrower)), "");
  EXPECT_EQ(code("PUT", "/v1/occupants/G1", shown(kPusher)), "not-allowed");
  EXPECT_EQ(code("PUT", "/v1/occupants/G1", shown(kGrower + "x")), "wrong-token");
  EXPECT_EQ(code("PUT", "/v1/occupants/G1", shown(kGrower.substr(1))), "wrong-token");
}

TEST(Gate, a_push_token_speaks_for_its_probes) {
  const auto admitted = gate().admit(route_of("POST", "/v1/readings").value(), shown(kPusher));
  ASSERT_TRUE(admitted);
  EXPECT_EQ(admitted->may_push, std::vector<std::string>{"left"});
  EXPECT_FALSE(gate().admit(route_of("POST", "/v1/readings").value(), shown(kGrower))->may_push);
}

TEST(Gate, only_our_own_names_are_ours) {
  auto credentials = shown("");
  for (const char* host : {"localhost:7453", "[::1]:7453", "192.0.2.7:7453", "127.0.0.1:7453"}) {
    credentials.host = host;
    EXPECT_EQ(code("GET", "/v1/status", credentials), "") << host;
  }
  for (const char* host : {"", "127.0.0.1", "127.0.0.1:7454", "elsewhere.example:7453",
                           "127.0.0.1.elsewhere.example:7453", "192.0.2.8:7453"}) {
    credentials.host = host;
    EXPECT_EQ(code("GET", "/v1/status", credentials), "wrong-host") << host;
  }
  credentials.local = "192.0.2.8:7453";  // we listen everywhere and were reached there
  credentials.host = credentials.local;
  EXPECT_EQ(code("GET", "/v1/status", credentials), "");
}

TEST(Gate, a_cookie_counts_only_by_its_own_name) {
  auto credentials = shown("", false);
  credentials.cookie = "a=b; takehold=" + kGrower + "; c=d";
  EXPECT_EQ(code("GET", "/v1/status", credentials), "");
  credentials.cookie = "nottakehold=" + kGrower;
  EXPECT_EQ(code("GET", "/v1/status", credentials), "no-token");
}

TEST(Gate, the_token_file_is_its_owners_alone_and_secrets_are_long_and_plain) {
  takehold::testing::ScratchFolder folder;
  const auto file = folder.path("tokens.toml");
  const auto refused = [&](const std::string& secret, mode_t mode) -> std::string {
    std::ofstream(file) << "[[token]]\nkind = \"grower\"\nsecret = \"" << secret << "\"\n";
    ::chmod(file.c_str(), mode);
    try {
      return load_tokens(file).empty() ? "empty" : "";
    } catch (const sensors::Refused& problem) {
      return problem.what();
    }
  };
  EXPECT_EQ(refused(kGrower, 0600), "");
  EXPECT_NE(refused(kGrower, 0640).find("chmod 600"), std::string::npos);
  EXPECT_NE(refused(kGrower, 0604).find("chmod 600"), std::string::npos);
  EXPECT_NE(refused("short", 0600).find("16 characters"), std::string::npos);
  EXPECT_NE(refused("long enough; but not plain", 0600).find("letters"), std::string::npos);
}

}  // namespace
}  // namespace takehold::daemon
