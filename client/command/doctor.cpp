// doctor: is everything in order, in plain words; and --salvage for a book that is not.
#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "client/book/salvage.hpp"
#include "client/command/batch_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/exposure.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/text_width.hpp"
#include "daemon/api/status_message.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {

namespace {

namespace fs = std::filesystem;
using nlohmann::json;

enum class State { good, bad, unknown };

struct Finding {
  std::string about;
  State state;
  std::string text;
  std::string advice{};
};
using Findings = std::vector<Finding>;

const char* word_for(State state) {
  return state == State::good ? "good" : state == State::bad ? "BAD" : "unknown";
}

/// Two clocks that differ by more than this put readings and records into another order.
constexpr auto kClocksApart = std::chrono::minutes(1);
/// A book needs room for its journal beside it.
constexpr std::uintmax_t kLeastRoom = 64u << 20u;

void look_at_records(const Book& book, sensors::Instant now, Findings& findings) {
  const auto complaints = book.complaints();
  const auto commands = book.commands();
  if (!complaints.empty()) {
    findings.push_back({"book", State::bad, complaints.front(),
                        "takehold doctor --salvage NEWFILE reads what can be read"});
  } else {
    findings.push_back(
        {"book", State::good,
         fmt::format("{}: whole, {} in it", book.path().string(),
                     counted(static_cast<long long>(commands.size()), "command", "commands"))});
  }
  const bool early = !commands.empty() && commands.front().entered_at > now;
  findings.push_back(
      {"clock", early ? State::bad : State::good,
       early ? fmt::format("it says {}, but the last record was entered at {}",
                           sensors::to_string(now), sensors::to_string(commands.front().entered_at))
             : fmt::format("{} in {}", book.time_zone().local_text(now), book.time_zone().name()),
       early ? "set the machine's clock" : ""});
}

void look_at_outbox(const Book& book, sensors::Instant now, Findings& findings) {
  const auto waiting = book.waiting();
  const auto owed = exposures_owed(book, now);
  std::string text;
  bool parked = false;
  for (const Notice& notice : waiting) {
    parked = parked || notice.parked;
    text += fmt::format("{}{} {}{}", text.empty() ? "" : "; ", notice.label,
                        notice.parked ? "was refused" : "waits",
                        notice.trouble.empty() ? "" : ": " + notice.trouble);
  }
  for (const ExposureOwed& one : owed) {
    text += fmt::format("{}what {} went through is not fetched yet", text.empty() ? "" : "; ",
                        one.batch);
  }
  findings.push_back({"outbox", parked ? State::bad : State::good,
                      text.empty() ? "nothing waits for the chamber's program" : text,
                      text.empty() ? "" : "takehold send"});
}

void look_at_room(const fs::path& book, Findings& findings) {
  std::error_code failed;
  const auto room = fs::space(book.parent_path().empty() ? "." : book.parent_path(), failed);
  if (failed) return;
  findings.push_back({"disk", room.available < kLeastRoom ? State::bad : State::good,
                      fmt::format("{} MB free beside the book", room.available >> 20u),
                      room.available < kLeastRoom ? "make room" : ""});
}

void look_at_book(Context& context, Findings& findings) {
  const fs::path path = book_path(context);
  if (!fs::exists(path)) {
    findings.push_back({"book", State::unknown, "there is none yet at " + path.string(),
                        "takehold season new FILE, then takehold season load FILE"});
    return;
  }
  look_at_room(path, findings);
  constexpr const char* kDamaged =
      "takehold doctor --salvage NEWFILE reads what can be read; a backup is put back by takehold "
      "restore";
  try {
    const Book book = open_book(context, BookUse::reading);
    look_at_records(book, context.now, findings);
    look_at_outbox(book, context.now, findings);
  } catch (const sensors::Refused& refused) {
    const bool damaged = refused.problem().code == "damaged-file";
    findings.push_back({"book", State::bad, refused.problem().sentence(), damaged ? kDamaged : ""});
  } catch (const std::exception& failure) {
    findings.push_back({"book", State::bad, path.string() + ": " + failure.what(), kDamaged});
  }
}

std::string clocks_text(std::chrono::milliseconds ahead) {
  return fmt::format(
      "its clock is {} s {}",
      std::chrono::duration_cast<std::chrono::seconds>(std::chrono::abs(ahead)).count(),
      ahead.count() > 0 ? "ahead" : "behind");
}

void look_at_daemon(Context& context, Findings& findings) {
  const auto link = link_of(context);
  if (!link) {
    findings.push_back({"chamber", State::bad, link.error().sentence(), ""});
    return;
  }
  const auto document = link->status();
  if (!document) {
    findings.push_back({"chamber", State::unknown, document.error().sentence(),
                        "start chamberd, if there is a chamber to watch"});
    return;
  }
  const auto status = daemon::status_message_from(*document);
  if (!status) {
    findings.push_back({"chamber", State::bad, status.error().sentence(), "update both programs"});
    return;
  }
  findings.push_back({"chamber", State::good,
                      fmt::format("{} answers at {}", status->program, link->endpoint().text())});
  const auto ahead = status->at - context.now;
  if (!context.options.now && std::chrono::abs(ahead) > kClocksApart) {
    findings.push_back(
        {"clocks", State::bad, "the chamber's program: " + clocks_text(ahead), "set the clocks"});
  }
  for (const auto& probe : status->probes) {
    if (probe.last) continue;
    findings.push_back({"probe", State::bad, probe.name + " has said nothing since the start",
                        "look at its cable and the settings"});
  }
}

/// The grower's own healing plans: the files that have stages.
void look_at_plans(Findings& findings) {
  for (const fs::path& folder : regime_folders()) {
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(folder, none)) {
      if (entry.path().extension() != ".toml") continue;
      const std::string text = read_text_file(entry.path().string());
      if (text.find("[[stage]]") == std::string::npos) continue;
      const auto regime = daemon::read_regime(text, entry.path().string());
      findings.push_back(
          {"healing plan", regime ? State::good : State::bad,
           regime ? entry.path().string() + ": understood" : regime.error().sentence()});
    }
  }
}

json to_json(const Finding& finding) {
  return {{"about", finding.about},
          {"state", finding.state == State::bad ? "bad" : word_for(finding.state)},
          {"text", finding.text},
          {"advice", finding.advice.empty() ? json() : json(finding.advice)}};
}

void doctor(Context& context) {
  Findings findings;
  look_at_book(context, findings);
  look_at_daemon(context, findings);
  look_at_plans(findings);
  json list = json::array();
  bool well = true;
  const TerminalStyle& style = context.out.style();
  for (const Finding& finding : findings) {
    const bool bad = finding.state == State::bad;
    well = well && !bad;
    const std::string head =
        padded_right(finding.about, 13) + padded_right(word_for(finding.state), 9);
    std::string text =
        wrapped(finding.text, style.width, std::string(22, ' ')).replace(0, 22, head);
    context.out.line(inked(text, bad ? Ink::bad : Ink::plain, style));
    if (!finding.advice.empty()) {
      context.out.line(wrapped("do: " + finding.advice, style.width, std::string(22, ' ')));
    }
    list.push_back(to_json(finding));
  }
  context.out.line(well ? "\nNothing is wrong." : "\nSomething is wrong: see above.");
  context.out.document({{"well", well}, {"checks", std::move(list)}});
}

void salvage(Context& context, const std::string& to) {
  const std::string damaged = book_path(context);
  const Salvaged salvaged = salvage_book(damaged, to, context.now);
  json tables = json::array();
  for (const SalvagedTable& table : salvaged.tables) {
    if (table.cut_short) {
      context.out.line(fmt::format("{}: {} read, some of it is lost", table.name,
                                   counted(table.rows, "row", "rows")));
    }
    tables.push_back({{"table", table.name}, {"rows", table.rows}, {"cut_short", table.cut_short}});
  }
  for (const std::string& end : salvaged.loose_ends) context.out.line(end + ", which is lost");
  if (salvaged.new_identity) {
    context.out.line("The book's own number is lost: the chamber's program takes it for another.");
  }
  context.out.line(fmt::format("{} holds the {} that can be read of {}, which is left as it is.",
                               to, counted(salvaged.rows(), "row", "rows"), damaged));
  context.out.line("To go on with it: takehold restore " + to + " --replace");
  context.out.document({{"book", damaged},
                        {"file", to},
                        {"rows", salvaged.rows()},
                        {"tables", std::move(tables)},
                        {"loose_ends", salvaged.loose_ends},
                        {"new_identity", salvaged.new_identity}});
}

}  // namespace

void add_doctor(CommandTree& tree) {
  CLI::App& app = tree.command(
      "doctor", {kBook, "is everything in order: the book, the clock, the chamber's program",
                 "--salvage reads what can be read of a damaged book into a new file; the damaged\n"
                 "one is only read.",
                 "doctor\ndoctor --salvage saved.db"});
  const auto to = std::make_shared<std::string>();
  app.add_option("--salvage", *to, "a new file for what can be read of a damaged book");
  tree.action(app,
              [to](Context& context) { to->empty() ? doctor(context) : salvage(context, *to); });
}

}  // namespace takehold::client
