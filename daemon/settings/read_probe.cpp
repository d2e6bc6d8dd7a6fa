#include "daemon/settings/read_probe.hpp"

#include <algorithm>
#include <array>

#include "daemon/http/endpoint.hpp"
#include "daemon/settings/probe_words.hpp"
#include "sensors/check/salt_calibration.hpp"
#include "sensors/codec/told.hpp"

namespace takehold::daemon {

using sensors::JsonMap;
using sensors::KeyValueMap;
using sensors::ModbusMap;
using sensors::ModbusQuantity;
using sensors::ModbusType;
using sensors::PatternText;
using sensors::Problem;
using sensors::TextFormat;

namespace {

/// The places that the settings give, each under the quantity's own name.
template <class Map>
void read_places(const TomlTable& table, Map& map) {
  for (const auto told : sensors::kAllTold)
    sensors::place_of(map, told) = table.text(to_string(told));
}

bool gives_places(const TomlTable& table) {
  return std::any_of(sensors::kAllTold.begin(), sensors::kAllTold.end(),
                     [&](sensors::Told told) { return table.has(to_string(told)); });
}

/// `text = { pattern = '...' }`, `{ format = "key=value", temperature = "T" }` or
/// `{ format = "json", temperature = "/t" }`.
TextFormat text_format_of(const TomlTable& table) {
  const auto pattern = table.text("pattern");
  const auto format = table.choice("format", {"pattern", "key=value", "json"});
  if (pattern) return PatternText{*pattern};
  if (format == "key=value") {
    KeyValueMap map;
    if (gives_places(table)) read_places(table, map);
    return map;
  }
  if (format == "json") {
    JsonMap map = sensors::own_keys();
    if (gives_places(table)) read_places(table, map);
    return map;
  }
  if (!format || format == "pattern") {
    table.refuse(
        Problem{"missing-key", "text needs a pattern or a format", "", "",
                R"(write pattern = 'T=(?<temperature>[-0-9.]+)' or format = "key=value")"});
  }
  return KeyValueMap{};
}

TextFormat checked_text_format(const TomlTable& table) {
  auto format = text_format_of(table);
  if (const auto decoder = sensors::LineDecoder::make(format); !decoder) {
    table.refuse(table.has("pattern") ? "pattern" : "format", decoder.error());
  }
  return format;
}

/// `signed = true` is the short way to say int16.
ModbusType type_of(const TomlTable& table) {
  const auto type = table.choice("type", {kModbusTypes.begin(), kModbusTypes.end()});
  const auto is_signed = table.flag("signed");
  if (!type) return is_signed.value_or(false) ? ModbusType::int16 : ModbusType::uint16;
  if (is_signed) {
    table.refuse("signed", Problem{"two-types", "type says already whether it is signed", "", "",
                                   "leave signed out"});
  }
  const auto found = std::find(kModbusTypes.begin(), kModbusTypes.end(), *type);
  return static_cast<ModbusType>(found - kModbusTypes.begin());
}

ModbusQuantity register_of(const TomlTable& table) {
  ModbusQuantity quantity;
  if (const auto function = table.whole("function", 3, 4)) quantity.function = int(*function);
  quantity.address = int(std::clamp<std::int64_t>(table.need_whole("address"), -1, 0x10000));
  if (const auto scale = table.number("scale")) quantity.scale = *scale;
  if (const auto offset = table.number("offset")) quantity.offset = *offset;
  quantity.type = type_of(table);
  quantity.low_word_first = table.choice("words", {"high first", "low first"}) == "low first";
  return quantity;
}

ModbusMap modbus_of(const TomlTable& table) {
  ModbusMap map;
  if (const auto unit = table.whole("unit", 1, 247)) map.unit = int(*unit);
  for (const auto told : sensors::kAllTold) {
    if (const auto place = table.table(to_string(told))) {
      sensors::place_of(map, told) = register_of(*place);
    }
  }
  if (const auto good = sensors::check(map); !good) table.refuse(good.error());
  return map;
}

SerialForm form_of(const TomlTable& table) {
  SerialForm form;
  if (const auto baud = table.whole("baud"))
    form.baud = int(std::clamp<std::int64_t>(*baud, 0, 1 << 30));
  constexpr std::array kBauds = {1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200};
  if (std::find(kBauds.begin(), kBauds.end(), form.baud) == kBauds.end()) {
    table.refuse("baud", Problem{"bad-baud", "not a usual line speed", std::to_string(form.baud),
                                 "", "1200 2400 4800 9600 19200 38400 57600 or 115200"});
  }
  const auto parity = table.choice("parity", {kParities.begin(), kParities.end()});
  if (parity == "even") form.parity = Parity::even;
  if (parity == "odd") form.parity = Parity::odd;
  if (const auto bits = table.whole("stop_bits", 1, 2)) form.stop_bits = int(*bits);
  return form;
}

SerialSource serial_of(const TomlTable& table) {
  SerialSource source;
  source.device = table.need_text("device");
  source.form = form_of(table);
  const auto text = table.table("text");
  const auto modbus = table.table("modbus");
  if (bool(text) == bool(modbus)) {
    table.refuse(Problem{text ? "two-formats" : "missing-key",
                         "a serial probe needs one of text and modbus", "", "", ""});
  }
  if (text) source.speech = checked_text_format(*text);
  if (modbus) source.speech = modbus_of(*modbus);
  return source;
}

/// A path that is not absolute lies beside the settings file.
std::filesystem::path beside(const std::filesystem::path& settings_file, const std::string& path) {
  return (std::filesystem::absolute(settings_file).parent_path() / path).lexically_normal();
}

std::optional<HttpLogin> login_of(const TomlTable& table, const std::filesystem::path& file) {
  const auto user = table.text("user");
  const auto password_file = table.text("password_file");
  const auto token_file = table.text("token_file");
  if (bool(user) != bool(password_file)) {
    table.refuse(Problem{"missing-key", "user and password_file belong together", "", "", ""});
  }
  if (token_file && (user || password_file)) {
    table.refuse("token_file",
                 Problem{"two-logins", "a token, or a user with a password, not both", "", "", ""});
  }
  if (user && user->find(':') != std::string::npos) {
    table.refuse("user", Problem{"bad-user", "a user's name has no colon", "", "", ""});
  }
  if (token_file) return HttpLogin{"", beside(file, *token_file)};
  if (user && password_file) return HttpLogin{*user, beside(file, *password_file)};
  return std::nullopt;
}

HttpSource http_of(const TomlTable& table, const std::filesystem::path& file) {
  HttpSource source;
  source.url = table.need_text("url");
  if (!source.url.empty()) {
    if (const auto address = HttpAddress::parse(source.url); !address) {
      table.refuse("url", address.error());
    }
  }
  source.json = sensors::own_keys();
  if (const auto json = table.table("json")) {
    if (gives_places(*json)) read_places(*json, source.json);
    if (const auto good = sensors::check(source.json); !good) json->refuse(good.error());
  }
  source.login = login_of(table, file);
  return source;
}

ValueFiles value_files_of(const TomlTable& table, const std::filesystem::path& settings_file) {
  ValueFiles files;
  for (const auto told : sensors::kAllTold) {
    const auto place = table.table(to_string(told));
    if (!place) continue;
    ValueFile value{beside(settings_file, place->need_text("file")), 1.0, 0.0};
    if (const auto scale = place->number("scale")) value.scale = *scale;
    if (const auto offset = place->number("offset")) value.offset = *offset;
    sensors::place_of(files, told) = value;
  }
  if (sensors::tells_nothing(files)) {
    table.refuse(Problem{"no-values", "no file of a value is given", "", "", ""});
  }
  return files;
}

FileSource file_of(const TomlTable& table, const std::filesystem::path& settings_file) {
  const auto file = table.text("file");
  const auto folder = table.text("folder");
  const auto values = table.table("values");
  const auto text = table.table("text");
  if (int(bool(file)) + int(bool(folder)) + int(bool(values)) != 1) {
    table.refuse(
        Problem{"missing-key", "a file probe needs one of file, values and folder", "", "",
                "folder is for the kernel's sensors, as /sys/bus/iio/devices/iio:device0"});
  }
  if (folder) return {KernelFolder{beside(settings_file, *folder).string()}};
  if (values) return {value_files_of(*values, settings_file)};
  LastLine line{beside(settings_file, file.value_or("")), KeyValueMap{}};
  if (text) line.format = checked_text_format(*text);
  return {line};
}

sensors::Correction correction_of(const TomlTable& calibration, std::string_view key) {
  sensors::Correction correction;
  const auto table = calibration.table(key);
  if (!table) return correction;
  if (const auto gain = table->number("gain")) correction.gain = *gain;
  if (const auto offset = table->number("offset")) correction.offset = *offset;
  return correction;
}

/// Due a year after it was done, unless the settings say otherwise.
sensors::Calibration calibration_of(const TomlTable& table) {
  sensors::Calibration calibration;
  calibration.temperature = correction_of(table, "temperature");
  calibration.humidity = correction_of(table, "humidity");
  calibration.done_on = table.day("done_on");
  calibration.due_on = table.day("due_on");
  if (!calibration.due_on && calibration.done_on) {
    calibration.due_on = *calibration.done_on + sensors::kUsuallyDueAfter;
  }
  if (const auto good = sensors::check(calibration); !good) table.refuse(good.error());
  return calibration;
}

/// A duration of a probe: at least a tenth of a second, at most a day.
void read_duration(const TomlTable& table, std::string_view key, std::chrono::milliseconds& into) {
  using namespace std::chrono_literals;
  const auto found = table.duration(key);
  if (!found) return;
  into = *found;
  if (into >= 100ms && into <= 24h) return;
  table.refuse(
      key, Problem{"out-of-range", std::string(key) + " must be from 100ms to 24h", "", "", ""});
}

}  // namespace

ProbeSettings read_probe(const TomlTable& table, const std::filesystem::path& file) {
  ProbeSettings probe;
  probe.where = table.where();
  probe.name = table.need_text("name");
  if (const auto place = table.text("place")) probe.place = *place;
  read_duration(table, "every", probe.every);
  read_duration(table, "timeout", probe.timeout);
  if (const auto calibration = table.table("calibration")) {
    probe.calibration = calibration_of(*calibration);
  }
  if (!table.has("kind")) table.need_text("kind");
  const auto kind = table.choice("kind", {"serial", "http", "push", "file"});
  if (kind == "serial") probe.source = serial_of(table);
  if (kind == "http") probe.source = http_of(table, file);
  if (kind == "push") probe.source = PushSource{};
  if (kind == "file") probe.source = file_of(table, file);
  return probe;
}

void check_shared_line(const std::vector<ProbeSettings>& earlier, const ProbeSettings& probe,
                       const TomlTable& table) {
  const auto* serial = std::get_if<SerialSource>(&probe.source);
  if (serial == nullptr) return;
  for (const auto& other : earlier) {
    const auto* there = std::get_if<SerialSource>(&other.source);
    if (there == nullptr || there->device != serial->device) continue;
    if (there->form == serial->form && there->speech.index() == serial->speech.index()) continue;
    table.refuse("device", Problem{"line-in-use", "two probes speak differently on one line",
                                   "\"" + other.name + "\" and \"" + probe.name + "\"", "",
                                   "give them the same baud, parity, stop_bits, and both text or "
                                   "both modbus"});
    return;
  }
}

}  // namespace takehold::daemon
