#include "daemon/io/driver.hpp"
#include "daemon/io/file_driver.hpp"
#include "daemon/io/http_driver.hpp"
#include "daemon/io/modbus_driver.hpp"
#include "daemon/io/serial_line.hpp"
#include "daemon/io/text_driver.hpp"

namespace takehold::daemon {
namespace {

using sensors::LineDecoder;

struct DriverMaker {
  SerialLines& lines;

  std::unique_ptr<Driver> operator()(const PushSource&) const { return nullptr; }
  std::unique_ptr<Driver> operator()(const HttpSource& source) const {
    return std::make_unique<HttpDriver>(HttpAddress::parse(source.url).value(), source.json);
  }
  std::unique_ptr<Driver> operator()(const FileSource& source) const {
    return std::make_unique<FileDriver>(source.file, LineDecoder::make(source.format).value());
  }
  std::unique_ptr<Driver> operator()(const SerialSource& source) const {
    auto& line = lines[source.device];
    if (!line) line = std::make_shared<SerialLine>(source.device, source.baud);
    if (const auto* map = std::get_if<sensors::ModbusMap>(&source.speech)) {
      return std::make_unique<ModbusDriver>(line, *map, source.baud);
    }
    const auto& format = std::get<sensors::TextFormat>(source.speech);
    return std::make_unique<TextDriver>(line, LineDecoder::make(format).value());
  }
};

}  // namespace

std::unique_ptr<Driver> make_driver(const ProbeSettings& probe, SerialLines& lines) {
  return std::visit(DriverMaker{lines}, probe.source);
}

}  // namespace takehold::daemon
