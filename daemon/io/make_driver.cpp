#include "daemon/io/driver.hpp"
#include "daemon/io/file_driver.hpp"
#include "daemon/io/http_driver.hpp"
#include "daemon/io/modbus_driver.hpp"
#include "daemon/io/serial_line.hpp"
#include "daemon/io/text_driver.hpp"
#include "daemon/io/value_files_driver.hpp"

namespace takehold::daemon {
namespace {

using sensors::LineDecoder;

struct DriverMaker {
  Wires& wires;

  std::unique_ptr<Driver> operator()(const PushSource&) const { return nullptr; }
  std::unique_ptr<Driver> operator()(const HttpSource& source) const {
    return std::make_unique<HttpDriver>(HttpAddress::parse(source.url).value(), source.json,
                                        source.login);
  }
  std::unique_ptr<Driver> operator()(const FileSource& source) const {
    return std::visit(*this, source.from);
  }
  std::unique_ptr<Driver> operator()(const LastLine& line) const {
    return std::make_unique<FileDriver>(line.file, LineDecoder::make(line.format).value());
  }
  std::unique_ptr<Driver> operator()(const ValueFiles& files) const {
    return std::make_unique<ValueFilesDriver>(files);
  }
  std::unique_ptr<Driver> operator()(const KernelFolder& kernel) const {
    return std::make_unique<ValueFilesDriver>(kernel);
  }
  std::unique_ptr<Driver> operator()(const SerialSource& source) const {
    auto& line = wires.lines[source.device];
    if (!line) line = std::make_shared<SerialLine>(source.device, source.form);
    if (const auto* map = std::get_if<sensors::ModbusMap>(&source.speech)) {
      return std::make_unique<ModbusDriver>(line, *map, source.form.baud);
    }
    auto& feed = wires.feeds[source.device];
    if (!feed) feed = std::make_shared<TextFeed>(line);
    const auto& format = std::get<sensors::TextFormat>(source.speech);
    return std::make_unique<TextDriver>(feed, LineDecoder::make(format).value());
  }
};

}  // namespace

std::unique_ptr<Driver> make_driver(const ProbeSettings& probe, Wires& wires) {
  return std::visit(DriverMaker{wires}, probe.source);
}

}  // namespace takehold::daemon
