#include "daemon/settings/read_probe.hpp"

#include <algorithm>
#include <array>

#include "daemon/http/endpoint.hpp"

namespace takehold::daemon {

using sensors::JsonMap;
using sensors::KeyValueMap;
using sensors::ModbusMap;
using sensors::ModbusQuantity;
using sensors::PatternText;
using sensors::Problem;
using sensors::TextFormat;

namespace {

/// `text = { pattern = '...' }`, `{ format = "key=value", temperature = "T" }` or
/// `{ format = "json", temperature = "/t" }`.
TextFormat text_format_of(const TomlTable& table) {
  const auto pattern = table.text("pattern");
  const auto format = table.choice("format", {"pattern", "key=value", "json"});
  const auto temperature = table.text("temperature");
  const auto humidity = table.text("humidity");
  if (pattern) return PatternText{*pattern};
  if (format == "key=value") {
    KeyValueMap map;
    if (temperature || humidity) map = {temperature, humidity};
    return map;
  }
  if (format == "json") {
    JsonMap map;
    if (temperature || humidity) map = {temperature, humidity};
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

ModbusQuantity register_of(const TomlTable& table) {
  ModbusQuantity quantity;
  if (const auto function = table.whole("function", 3, 4)) quantity.function = int(*function);
  quantity.address = int(table.need_whole("address"));
  if (const auto scale = table.number("scale")) quantity.scale = *scale;
  if (const auto is_signed = table.flag("signed")) quantity.is_signed = *is_signed;
  return quantity;
}

ModbusMap modbus_of(const TomlTable& table) {
  ModbusMap map;
  if (const auto unit = table.whole("unit", 1, 247)) map.unit = int(*unit);
  if (const auto temperature = table.table("temperature")) {
    map.temperature = register_of(*temperature);
  }
  if (const auto humidity = table.table("humidity")) map.humidity = register_of(*humidity);
  if (const auto good = sensors::check(map); !good) table.refuse(good.error());
  return map;
}

SerialSource serial_of(const TomlTable& table) {
  SerialSource source;
  source.device = table.need_text("device");
  if (const auto baud = table.whole("baud")) source.baud = int(*baud);
  constexpr std::array kBauds = {1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200};
  if (std::find(kBauds.begin(), kBauds.end(), source.baud) == kBauds.end()) {
    table.refuse("baud", Problem{"bad-baud", "not a usual line speed", std::to_string(source.baud),
                                 "", "1200 2400 4800 9600 19200 38400 57600 or 115200"});
  }
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

HttpSource http_of(const TomlTable& table) {
  HttpSource source;
  source.url = table.need_text("url");
  if (!source.url.empty()) {
    if (const auto address = HttpAddress::parse(source.url); !address) {
      table.refuse("url", address.error());
    }
  }
  if (const auto json = table.table("json")) {
    const auto temperature = json->text("temperature");
    const auto humidity = json->text("humidity");
    if (temperature || humidity) source.json = {temperature, humidity};
    if (const auto good = sensors::check(source.json); !good) json->refuse(good.error());
  }
  return source;
}

FileSource file_of(const TomlTable& table, const std::filesystem::path& settings_file) {
  FileSource source;
  source.file = (std::filesystem::absolute(settings_file).parent_path() / table.need_text("file"))
                    .lexically_normal();
  const auto text = table.table("text");
  source.format = text ? checked_text_format(*text) : TextFormat(KeyValueMap{});
  return source;
}

sensors::Correction correction_of(const TomlTable& calibration, std::string_view key) {
  sensors::Correction correction;
  const auto table = calibration.table(key);
  if (!table) return correction;
  if (const auto gain = table->number("gain")) correction.gain = *gain;
  if (const auto offset = table->number("offset")) correction.offset = *offset;
  return correction;
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
    probe.calibration.temperature = correction_of(*calibration, "temperature");
    probe.calibration.humidity = correction_of(*calibration, "humidity");
    if (const auto good = sensors::check(probe.calibration); !good) {
      calibration->refuse(good.error());
    }
  }
  if (!table.has("kind")) table.need_text("kind");
  const auto kind = table.choice("kind", {"serial", "http", "push", "file"});
  if (kind == "serial") probe.source = serial_of(table);
  if (kind == "http") probe.source = http_of(table);
  if (kind == "push") probe.source = PushSource{};
  if (kind == "file") probe.source = file_of(table, file);
  return probe;
}

}  // namespace takehold::daemon
