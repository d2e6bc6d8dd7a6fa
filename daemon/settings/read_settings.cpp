// Settings from TOML. Each [table] has its reader; all share one list of mistakes, kept by the
// document, and nothing is believed before refuse_mistakes().

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <set>

#include "daemon/healing/regime_toml.hpp"
#include "daemon/http/endpoint.hpp"
#include "daemon/settings/read_probe.hpp"
#include "daemon/settings/settings.hpp"
#include "daemon/toml/document.hpp"
#include "sensors/quantity/machine_zone.hpp"

namespace takehold::daemon {

using sensors::Problem;

namespace {

/// A path of the settings: one that is not absolute lies beside the settings file.
std::filesystem::path beside(const std::filesystem::path& file, const std::string& path) {
  return (std::filesystem::absolute(file).parent_path() / path).lexically_normal();
}

void read_chamber(const TomlTable& root, Settings& settings) {
  const auto chamber = root.table("chamber");
  if (!chamber) return;
  if (const auto name = chamber->text("name")) settings.chamber_name = *name;
  if (chamber->choice("units", {"metric", "us"}) == "us") settings.units = ShownUnits::us;
  if (const auto height = chamber->number("altitude_m", -500, 6000)) {
    settings.altitude = sensors::Altitude::m(*height);
  }
}

void read_log(const TomlTable& root, Settings& settings) {
  const auto log = root.table("log");
  if (!log) return;
  if (const auto file = log->text("file")) settings.log_file = beside(settings.file, *file);
  if (const auto days = log->whole("keep_days", 1, 36500)) settings.keep_days = int(*days);
}

std::optional<TcpListen> tcp_of(const TomlTable& listen, const Settings& settings) {
  const auto address = listen.text("tcp");
  const auto token_file = listen.text("token_file");
  if (!address) return std::nullopt;
  TcpListen tcp;
  const auto colon = address->rfind(':');
  const std::string port = colon == std::string::npos ? "" : address->substr(colon + 1);
  const bool digits = !port.empty() && port.size() <= 5 &&
                      port.find_first_not_of("0123456789") == std::string::npos;
  if (!digits || colon == 0 || std::stoi(port) > 65535) {
    listen.refuse("tcp", Problem{"bad-address", "not an address to listen on",
                                 "\"" + *address + "\"", "", "write it as 127.0.0.1:7453"});
    return std::nullopt;
  }
  tcp.host = address->substr(0, colon);
  if (tcp.host.size() > 2 && tcp.host.front() == '[') tcp.host = tcp.host.substr(1, colon - 2);
  tcp.port = std::stoi(port);
  if (token_file) {
    tcp.token_file = beside(settings.file, *token_file);
  } else {
    listen.refuse(Problem{"missing-key", "tcp needs a token_file",
                          "whoever writes over TCP must show a token", "", ""});
  }
  return tcp;
}

void read_listen(const TomlTable& root, Settings& settings) {
  const auto listen = root.table("listen");
  if (!listen) return;
  if (const auto socket = listen->text("socket")) settings.socket = beside(settings.file, *socket);
  settings.tcp = tcp_of(*listen, settings);
}

void read_probes(const TomlTable& root, Settings& settings) {
  std::set<std::string> names;
  for (const auto& table : root.tables("probe")) {
    auto probe = read_probe(table, settings.file);
    if (!probe.name.empty() && !names.insert(probe.name).second) {
      table.refuse("name", Problem{"duplicate-name", "two probes of one name",
                                   "\"" + probe.name + "\"", "", ""});
    }
    check_shared_line(settings.probes, probe, table);
    settings.probes.push_back(std::move(probe));
  }
}

void read_occupants(const TomlTable& root, Settings& settings) {
  std::set<std::string> labels;
  for (const auto& table : root.tables("occupant")) {
    OccupantSettings occupant;
    occupant.label = table.need_text("label");
    occupant.regime_as_written = table.text("regime").value_or("steady");
    occupant.entered_at = table.need_instant("entered_at");
    if (!labels.insert(occupant.label).second) {
      table.refuse("label", Problem{"duplicate-name", "two occupants of one label",
                                    "\"" + occupant.label + "\"", "", ""});
    }
    auto regime = find_regime(occupant.regime_as_written, {beside(settings.file, ".")});
    if (regime) {
      occupant.regime = *regime;
      if (occupant.regime.day && occupant.regime.time_zone.empty()) {
        occupant.regime.time_zone = sensors::machine_zone().name();
      }
    } else {
      table.refuse("regime", regime.error());
    }
    settings.occupants.push_back(std::move(occupant));
  }
}

void read_warnings(const TomlTable& root, Settings& settings) {
  const auto table = root.table("warnings");
  if (!table) return;
  auto& warnings = settings.warnings;
  if (const auto delay = table->duration("on_delay")) warnings.on_delay = *delay;
  if (const auto horizon = table->duration("horizon")) warnings.horizon = *horizon;
  const auto deadband = table->table("deadband");
  if (!deadband) return;
  if (const auto kelvin = deadband->number("temperature_degc", 0, 10)) {
    warnings.temperature_deadband = sensors::TemperatureSpan::kelvin(*kelvin);
  }
  if (const auto points = deadband->number("humidity_pct", 0, 50)) {
    warnings.humidity_deadband = sensors::RelativeHumidity::pct(*points);
  }
}

/// "22:00-06:00"
std::optional<QuietHours> quiet_of(const TomlTable& table) {
  const auto text = table.text("quiet");
  if (!text) return std::nullopt;
  unsigned h1 = 0, m1 = 0, h2 = 0, m2 = 0;
  int used = 0;
  const bool read = std::sscanf(text->c_str(), "%2u:%2u-%2u:%2u%n", &h1, &m1, &h2, &m2, &used) == 4;
  if (!read || std::size_t(used) != text->size() || h1 > 23 || h2 > 23 || m1 > 59 || m2 > 59) {
    table.refuse("quiet", Problem{"bad-hours", "not hours of the clock", "\"" + *text + "\"", "",
                                  "write them as \"22:00-06:00\""});
    return std::nullopt;
  }
  return QuietHours{std::chrono::minutes(h1 * 60 + m1), std::chrono::minutes(h2 * 60 + m2)};
}

CommandNotify read_command(const TomlTable& table) {
  CommandNotify how;
  if (const auto command = table.texts("command")) how.command = *command;
  if (how.command.empty() || how.command.front().empty()) {
    table.refuse("command", Problem{"missing-key", "command names no program", "", "",
                                    "write it as [\"/usr/local/bin/ring\", \"argument\"]"});
  }
  return how;
}

WebhookNotify read_webhook(const TomlTable& table, const Settings& settings) {
  WebhookNotify how;
  how.url = table.need_text("url");
  if (!how.url.empty()) {
    if (const auto address = HttpAddress::parse(how.url); !address) {
      table.refuse("url", address.error());
    }
  }
  if (const auto file = table.text("token_file")) how.token_file = beside(settings.file, *file);
  if (const auto file = table.text("ca_file")) how.ca_file = beside(settings.file, *file);
  return how;
}

/// Enough to keep the letter's head in one piece; whether anybody reads there, the mail tells.
bool is_address(const std::string& text) {
  const auto odd = [](unsigned char c) {
    return c <= ' ' || c >= 127 || std::strchr("<>,;:\"()[]", c);
  };
  const auto sign = text.find('@');
  return sign != std::string::npos && sign > 0 && sign + 1 < text.size() &&
         text.find('@', sign + 1) == std::string::npos &&
         std::none_of(text.begin(), text.end(), odd);
}

MailNotify read_mail(const TomlTable& table) {
  MailNotify how;
  if (const auto to = table.texts("to")) how.to = *to;
  how.from = table.need_text("from");
  if (const auto command = table.texts("command")) how.command = *command;
  const auto refuse = [&](const char* key, const std::string& text) {
    table.refuse(key, Problem{"bad-address", "not a mail address", "\"" + text + "\"", "",
                              "write it as \"grower@example.org\", without a name"});
  };
  if (how.to.empty()) refuse("to", "");
  for (const auto& to : how.to) {
    if (!is_address(to)) refuse("to", to);
  }
  if (!how.from.empty() && !is_address(how.from)) refuse("from", how.from);
  if (how.command.empty() || how.command.front().empty()) {
    table.refuse("command", Problem{"missing-key", "command names no program", "", "",
                                    "write it as [\"/usr/sbin/sendmail\", \"-i\", \"-t\"]"});
  }
  return how;
}

void read_notify(const TomlTable& root, Settings& settings) {
  for (const auto& table : root.tables("notify")) {
    NotifySettings notify;
    notify.where = table.where();
    notify.quiet = quiet_of(table);
    const auto kind = table.choice("kind", {"command", "webhook", "mail"});
    if (!table.has("kind")) table.need_text("kind");
    if (kind == "webhook") {
      notify.how = read_webhook(table, settings);
    } else if (kind == "mail") {
      notify.how = read_mail(table);
    } else {
      notify.how = read_command(table);
    }
    settings.notify.push_back(std::move(notify));
  }
}

void read_alive(const TomlTable& root, Settings& settings) {
  const auto table = root.table("alive");
  if (!table) return;
  AliveSettings alive{read_webhook(*table, settings)};
  if (const auto every = table->duration("every")) alive.every = *every;
  if (alive.every < std::chrono::seconds(10)) {
    table->refuse("every", Problem{"out-of-range", "every is 10 s at least", "", "", ""});
  }
  settings.alive = std::move(alive);
}

Settings settings_of(const TomlDocument& document, const std::filesystem::path& file,
                     const Places& places) {
  const auto root = document.root();
  Settings settings;
  settings.file = file;
  settings.log_file = places.state / "chamber.db";
  settings.socket = places.runtime / "chamberd.sock";
  read_chamber(root, settings);
  read_log(root, settings);
  read_listen(root, settings);
  read_probes(root, settings);
  read_occupants(root, settings);
  read_warnings(root, settings);
  read_notify(root, settings);
  read_alive(root, settings);
  document.refuse_mistakes();
  return settings;
}

}  // namespace

Settings read_settings(std::string_view text, const std::filesystem::path& file,
                       const Places& places) {
  return settings_of(parse_toml(text, file.string()).value(), file, places);
}

Settings load_settings(const std::filesystem::path& file, const Places& places) {
  return settings_of(load_toml(file).value(), file, places);
}

}  // namespace takehold::daemon
