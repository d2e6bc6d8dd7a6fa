#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>

#include "daemon/io/keeper.hpp"
#include "daemon/io/messages.hpp"
#include "daemon/io/run.hpp"
#include "sensors/check/judge.hpp"
#include "sensors/codec/trace_row.hpp"

namespace takehold::daemon {

using sensors::Problem;
using sensors::Reading;
using sensors::Refused;

namespace {

/// A folder that is gone when the replay is over: a replay leaves the real log alone.
class ScratchFolder {
 public:
  ScratchFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "chamberd-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) {
      throw Refused({"cannot-open", "no folder for a scratch log", "", name, ""});
    }
    path_ = name;
  }
  ~ScratchFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

/// Rows of one instant, one after the other.
class TraceRounds {
 public:
  TraceRounds(const std::filesystem::path& file, const Settings& settings)
      : file_(file), settings_(settings), stream_(file) {
    if (!stream_) throw Refused({"no-file", "the trace cannot be read", "", file.string(), ""});
  }

  /// Empty: there are no more.
  std::vector<PollResult> next() {
    std::vector<PollResult> round;
    if (!held_) held_ = read_row();
    while (held_ && (round.empty() || held_->reading.at == round.front().reading.at)) {
      round.push_back(std::move(*held_));
      held_ = read_row();
    }
    return round;
  }

 private:
  std::optional<PollResult> read_row() {
    std::string line;
    while (std::getline(stream_, line)) {
      ++line_;
      if (!line.empty() && line.back() == '\r') line.pop_back();
      if (line.empty() || line.front() == '#' || line == sensors::kTraceHead) continue;
      return checked(line);
    }
    return std::nullopt;
  }

  PollResult checked(const std::string& line) {
    auto row = sensors::parse_trace_row(line);
    if (!row) refuse(row.error());
    const auto probe = std::find_if(settings_.probes.begin(), settings_.probes.end(),
                                    [&](const auto& p) { return p.name == row->probe; });
    if (probe == settings_.probes.end()) {
      refuse(
          {"unknown-probe", "the settings know no such probe", "\"" + row->probe + "\"", "", ""});
    }
    if (last_at_ && row->at < *last_at_) {
      refuse({"out-of-order", "this row is older than the one before", sensors::to_string(row->at),
              "", "sort the table by its first column"});
    }
    last_at_ = row->at;
    auto judged = sensors::judge(*row, probe->calibration);
    return {std::move(judged.reading), std::move(judged.reason)};
  }

  [[noreturn]] void refuse(Problem problem) const {
    problem.where = file_.string() + ":" + std::to_string(line_);
    throw Refused(std::move(problem));
  }

  std::filesystem::path file_;
  const Settings& settings_;
  std::ifstream stream_;
  int line_ = 0;
  std::optional<PollResult> held_;
  std::optional<sensors::Instant> last_at_;
};

}  // namespace

int run_replay(const Settings& settings, const ReplayFiles& files, std::ostream& out) {
  if (std::filesystem::exists(files.kept_log)) {
    throw Refused({"file-exists", "this file is there already", "", files.kept_log.string(),
                   "a replay's log wants a file of its own"});
  }
  TraceRounds rounds(files.trace, settings);
  auto round = rounds.next();
  if (round.empty()) return 0;
  ScratchFolder scratch;
  // Not synced: a replay can be run again, and a week of rounds would wait 10,000 times.
  ChamberLog log(files.kept_log.empty() ? scratch.path() / "replay.db" : files.kept_log, false);
  Keeper keeper(settings, log, round.front().reading.at);
  keeper.on_round([&out](const LoggedRound& logged) {
    for (const auto& [row, event] : logged.events) {
      out << json_text(event_message(event)) << "\n";
    }
  });
  for (; !round.empty(); round = rounds.next()) keeper.round(round.front().reading.at, round);
  return 0;
}

}  // namespace takehold::daemon
