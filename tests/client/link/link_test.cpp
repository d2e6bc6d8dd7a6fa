#include "client/link/link.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "client/link/find_daemon.hpp"
#include "embedded/places.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

/// Python's http.server as a child, until the end of the test.
class Server {
 public:
  Server(const std::string& where, int status, const std::string& body) {
    int ends[2];
    if (::pipe(ends) != 0) throw std::runtime_error("no pipe");
    child_ = ::fork();
    if (child_ == 0) {
      ::dup2(ends[1], STDOUT_FILENO);
      ::close(ends[0]);
      ::close(ends[1]);
      ::execlp("python3", "python3", TAKEHOLD_SOURCE_DIR "/tests/client/link/answering_server.py",
               where.c_str(), std::to_string(status).c_str(), body.c_str(), nullptr);
      ::_exit(127);
    }
    ::close(ends[1]);
    output_ = ::fdopen(ends[0], "r");
    address_ = line();
  }
  ~Server() {
    ::kill(child_, SIGKILL);
    ::waitpid(child_, nullptr, 0);
    std::fclose(output_);
  }
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  Link link(std::optional<std::string> token = std::nullopt) const {
    return Link({daemon::Endpoint::parse(address_).value(), std::move(token), {}});
  }
  json next_request() { return json::parse(line()); }

 private:
  std::string line() {
    std::string text;
    for (int c; (c = std::fgetc(output_)) != EOF && c != '\n';) text += static_cast<char>(c);
    return text;
  }

  pid_t child_ = 0;
  std::FILE* output_ = nullptr;
  std::string address_;
};

Notice notice(const char* label, std::optional<std::string> body, std::int64_t revision = 3) {
  Notice made;
  made.label = label;
  made.revision = revision;
  made.body = std::move(body);
  made.at = sensors::parse_instant("2027-04-12T09:30:00Z").value();
  return made;
}

std::vector<DeliveryOutcome> deliver(const Link& link, std::vector<Notice> notices) {
  return link.deliver(notices);
}

std::filesystem::path fresh_folder() {
  std::string name = (std::filesystem::temp_directory_path() / "link-test-XXXXXX").string();
  return ::mkdtemp(name.data());
}

TEST(Link, puts_the_newest_state_of_a_label_over_a_unix_socket) {
  const auto folder = fresh_folder();
  {
    Server server("unix:" + (folder / "s").string(), 200, R"({"revision":3})");
    const auto outcomes = deliver(server.link(), {notice("G1", R"({"revision":3})")});
    ASSERT_EQ(outcomes.size(), 1u);
    EXPECT_EQ(outcomes[0].delivery, Delivery::delivered) << outcomes[0].trouble;
    EXPECT_EQ(outcomes[0].revision, 3);
    const json said = server.next_request();
    EXPECT_EQ(said["method"], "PUT");
    EXPECT_EQ(said["target"], "/v1/occupants/G1");
    EXPECT_EQ(said["body"], R"({"revision":3})");
    EXPECT_TRUE(said["token"].is_null());
  }
  std::filesystem::remove_all(folder);
}

TEST(Link, deletes_a_label_that_left_with_its_moment_and_the_token) {
  Server server("tcp", 204, "");
  const auto outcomes = deliver(server.link("secret"), {notice("G1", std::nullopt)});
  EXPECT_EQ(outcomes.at(0).delivery, Delivery::delivered) << outcomes[0].trouble;
  const json said = server.next_request();
  EXPECT_EQ(said["method"], "DELETE");
  EXPECT_EQ(said["target"], "/v1/occupants/G1?at=2027-04-12T09%3A30%3A00Z");
  EXPECT_EQ(said["token"], "Bearer secret");
}

TEST(Link, a_label_nobody_knows_needs_no_deleting) {
  Server server("tcp", 404, "");
  EXPECT_EQ(deliver(server.link(), {notice("G1", std::nullopt)}).at(0).delivery,
            Delivery::delivered);
  EXPECT_EQ(deliver(server.link(), {notice("G1", "{}")}).at(0).delivery, Delivery::parked);
}

TEST(Link, a_refusal_parks_the_notice_with_the_daemons_reason) {
  Server server("tcp", 409, R"({"title":"label of another book","status":409,"detail":""})");
  const auto outcomes = deliver(server.link(), {notice("G1", "{}")});
  EXPECT_EQ(outcomes.at(0).delivery, Delivery::parked);
  EXPECT_NE(outcomes[0].trouble.find("label of another book"), std::string::npos)
      << outcomes[0].trouble;
}

TEST(Link, a_daemon_in_trouble_is_tried_again_later) {
  Server server("tcp", 503, "");
  EXPECT_EQ(deliver(server.link(), {notice("G1", "{}")}).at(0).delivery, Delivery::kept);
}

TEST(Link, nobody_there_keeps_everything_and_costs_one_try) {
  const auto folder = fresh_folder();
  const Link link({daemon::Endpoint::parse("unix:" + (folder / "none").string()).value(), {}, {}});
  const auto start = std::chrono::steady_clock::now();
  const auto outcomes = deliver(link, {notice("G1", "{}"), notice("G2", "{}"), notice("G3", "{}")});
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(1));
  ASSERT_EQ(outcomes.size(), 3u);
  for (const auto& outcome : outcomes) {
    EXPECT_EQ(outcome.delivery, Delivery::kept);
    EXPECT_FALSE(outcome.trouble.empty());
  }
  std::filesystem::remove_all(folder);
}

TEST(Link, a_parked_notice_is_left_alone) {
  Server server("tcp", 200, "{}");
  Notice parked = notice("G1", "{}");
  parked.parked = true;
  EXPECT_TRUE(deliver(server.link(), {parked}).empty());
}

TEST(Link, asks_for_readings_with_everything_encoded) {
  Server server("tcp", 200, R"({"buckets":[]})");
  ReadingsWanted wanted;
  wanted.probe = "left & right";
  wanted.from = sensors::parse_instant("2027-04-12T00:00:00Z").value();
  wanted.to = sensors::parse_instant("2027-04-13T00:00:00Z").value();
  wanted.points = 48;
  EXPECT_EQ(server.link().readings(wanted).value(), json::parse(R"({"buckets":[]})"));
  EXPECT_EQ(server.next_request()["target"],
            "/v1/readings?from=2027-04-12T00%3A00%3A00Z&to=2027-04-13T00%3A00%3A00Z&points=48"
            "&probe=left%20%26%20right");
}

TEST(Link, an_answer_that_is_no_json_is_a_problem_and_no_crash) {
  Server server("tcp", 200, "<html>");
  EXPECT_EQ(server.link().status().error().code, "bad-answer");
}

TEST(FindDaemon, the_option_wins_then_the_environment_then_the_setting) {
  DaemonNames names;
  names.setting = "http://127.0.0.1:3";
  EXPECT_EQ(find_daemon(names).value().port, 3);
  names.environment = "http://127.0.0.1:2";
  EXPECT_EQ(find_daemon(names).value().port, 2);
  names.option = "http://127.0.0.1:1";
  EXPECT_EQ(find_daemon(names).value().port, 1);
  names.option = "";
  EXPECT_EQ(find_daemon(names).value().port, 2);
  names.option = "carrier pigeon";
  EXPECT_EQ(find_daemon(names).error().where, "--daemon");
}

TEST(FindDaemon, the_growers_own_socket_comes_before_the_systems) {
  const auto folder = fresh_folder();
  DaemonNames names;
  names.runtime_dir = folder.string();
  names.system_socket = folder / "system.sock";
  const std::string own = (folder / "takehold" / "chamberd.sock").string();
  EXPECT_EQ(find_daemon(names).value().host, own);
  std::ofstream(names.system_socket).put('x');
  EXPECT_EQ(find_daemon(names).value().host, names.system_socket.string());
  std::filesystem::create_directories(folder / "takehold");
  std::ofstream(own).put('x');
  EXPECT_EQ(find_daemon(names).value().host, own);
  std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace takehold::client
