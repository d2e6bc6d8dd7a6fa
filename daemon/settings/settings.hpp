// What chamberd was told to do: the settings file as plain values.
//
// Defaults stand beside each field. A Settings made by load_settings() has passed the one validator
// (validate.hpp); paths in it are absolute or, for files beside the settings file, resolved.
#pragma once

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "daemon/healing/regime.hpp"
#include "sensors/check/calibration.hpp"
#include "sensors/codec/json_map.hpp"
#include "sensors/codec/line_decoder.hpp"
#include "sensors/codec/modbus_map.hpp"
#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/length.hpp"
#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::daemon {

/// What a person is shown; files and the interface are always metric.
enum class ShownUnits { metric, us };

enum class Parity { none, even, odd };

/// How bits go over a serial line. Eight data bits always.
struct SerialForm {
  int baud = 9600;
  Parity parity = Parity::none;
  int stop_bits = 1;
  friend bool operator==(const SerialForm&, const SerialForm&) = default;
};

/// A probe on a serial line: it tells by itself in lines of text, or is asked by Modbus. Several
/// probes may name one device: they share it, one after the other.
struct SerialSource {
  std::string device;
  SerialForm form;
  std::variant<sensors::TextFormat, sensors::ModbusMap> speech;
};
/// Who we are for a server: a name and a password, or a token, each read from a file that only we
/// can read.
struct HttpLogin {
  std::string user;  ///< empty: the file holds a token (Bearer)
  std::filesystem::path secret_file;
};
/// A probe that answers HTTP GET with JSON.
struct HttpSource {
  std::string url;
  sensors::JsonMap json;
  std::optional<HttpLogin> login;
};
/// A probe that sends its readings to us.
struct PushSource {};
/// A file that others keep up to date; its last line counts.
struct LastLine {
  std::filesystem::path file;
  sensors::TextFormat format;
};
/// A file that holds one number, as the kernel's sensor drivers give: value = scale · (number +
/// offset), in degC, percent, ppm or umol.
struct ValueFile {
  std::filesystem::path file;
  double scale = 1.0;
  double offset = 0.0;
};
struct ValueFiles {
  std::optional<ValueFile> temperature, humidity, leaf_temperature, co2, light;
};
/// A folder of the kernel's own making (IIO, hwmon), whose files have names, scales and offsets of
/// their own; `*` in it stands for what changes from one start to the next.
struct KernelFolder {
  std::string folder;
};
struct FileSource {
  std::variant<LastLine, ValueFiles, KernelFolder> from;
};

struct ProbeSettings {
  std::string name;
  std::string place = "chamber";  ///< or a bench's name
  std::chrono::milliseconds every{10000};
  std::chrono::milliseconds timeout{2000};  ///< how long an answer may take
  std::variant<PushSource, SerialSource, HttpSource, FileSource> source;
  sensors::Calibration calibration;
  std::string where;  ///< file:line of its table

  bool in_chamber() const { return place == "chamber"; }
};

struct OccupantSettings {
  std::string label;
  Regime regime;
  std::string regime_as_written;
  sensors::Instant entered_at;
};

struct WarningSettings {
  std::chrono::milliseconds on_delay{60000};
  std::chrono::milliseconds horizon{30 * 60000};
  sensors::TemperatureSpan temperature_deadband = sensors::TemperatureSpan::kelvin(0.3);
  sensors::RelativeHumidity humidity_deadband = sensors::RelativeHumidity::pct(1.0);
};

/// A program that is started for each warning, with its JSON on stdin.
struct CommandNotify {
  std::vector<std::string> command;
};
/// A server that is sent the same JSON by POST.
struct WebhookNotify {
  std::string url;                   ///< http:// or https://
  std::filesystem::path token_file;  ///< its first line is sent as a bearer token; empty: none
  std::filesystem::path ca_file;     ///< trusted besides the system's authorities; empty: none
};
/// A letter, handed to a program that takes mail as sendmail does: -i -t, the letter on its stdin.
struct MailNotify {
  std::vector<std::string> to;  ///< plain addresses, name@host, checked when read
  std::string from;
  std::vector<std::string> command{"/usr/sbin/sendmail", "-i", "-t"};
};
/// A server that is told "I am alive" every so often, so that it notices when nobody tells it.
struct AliveSettings {
  WebhookNotify to;
  std::chrono::milliseconds every{15 * 60000};
};
/// Hours of the wall clock in which only what cannot wait is told; past midnight if to < from.
struct QuietHours {
  std::chrono::minutes from{0};
  std::chrono::minutes to{0};

  bool holds(std::chrono::minutes since_midnight) const {
    if (from <= to) return from <= since_midnight && since_midnight < to;
    return since_midnight >= from || since_midnight < to;
  }
};

struct NotifySettings {
  std::optional<QuietHours> quiet;
  std::variant<CommandNotify, WebhookNotify, MailNotify> how;
  std::string where;
};

struct TcpListen {
  std::string host;
  int port = 0;
  std::filesystem::path token_file;
};

struct Settings {
  std::filesystem::path file;  ///< it was read from
  std::string chamber_name = "healing chamber";
  ShownUnits units = ShownUnits::metric;      ///< on the page
  std::optional<sensors::Altitude> altitude;  ///< none: the standard atmosphere
  std::filesystem::path log_file;             ///< default: chamber.db in the place for state
  int keep_days = 400;
  std::filesystem::path socket;  ///< default: chamberd.sock in the place for run-time files
  std::optional<TcpListen> tcp;
  std::vector<ProbeSettings> probes;
  std::vector<OccupantSettings> occupants;
  WarningSettings warnings;
  std::vector<NotifySettings> notify;
  std::optional<AliveSettings> alive;
};

/// Where things lie when the settings do not say; from the environment.
struct Places {
  std::filesystem::path state;
  std::filesystem::path runtime;
  static Places of_environment();
};

/// Validates what stands in `file`. Throws Refused with every fault found, each with file:line.
Settings read_settings(std::string_view text, const std::filesystem::path& file,
                       const Places& places);
/// Reads the file first.
Settings load_settings(const std::filesystem::path& file, const Places& places);

/// The effective settings as TOML, defaults written out, secrets blanked.
std::string to_toml(const Settings& settings);

}  // namespace takehold::daemon
