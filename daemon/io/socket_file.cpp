#include "daemon/io/socket_file.hpp"

#include <boost/asio/local/stream_protocol.hpp>

#include "daemon/io/asio.hpp"

namespace takehold::daemon {

bool somebody_answers(const std::filesystem::path& socket) {
  asio::io_context context(1);
  asio::local::stream_protocol::socket knock(context);
  boost::system::error_code error;
  knock.connect(asio::local::stream_protocol::endpoint(socket.string()), error);
  return !error;
}

}  // namespace takehold::daemon
