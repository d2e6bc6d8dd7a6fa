#include "daemon/io/serial_port.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <termios.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace takehold::daemon {

using sensors::Problem;

namespace {

speed_t speed_of(int baud) {
  switch (baud) {
    case 1200:
      return B1200;
    case 2400:
      return B2400;
    case 4800:
      return B4800;
    case 19200:
      return B19200;
    case 38400:
      return B38400;
    case 57600:
      return B57600;
    case 115200:
      return B115200;
    default:
      return B9600;
  }
}

Problem trouble(const char* code, const std::string& device, int error) {
  std::string hint;
  if (error == EACCES)
    hint = "the user of chamberd must be in the group that owns it, often dialout";
  return {code, std::strerror(error), "", device, hint};
}

}  // namespace

sensors::Result<int> open_serial(const std::string& device, const SerialForm& form) {
  const int line = ::open(device.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
  if (line < 0) return trouble("cannot-open", device, errno);
  // Two that listen would take the bytes from each other.
  if (::flock(line, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK) {
    ::close(line);
    return Problem{"cannot-open", "another chamberd uses this line", "", device,
                   "stop it first, as with: systemctl stop chamberd"};
  }
  termios state{};
  if (::tcgetattr(line, &state) != 0) {
    const int error = errno;
    ::close(line);
    return trouble("not-a-line", device, error);
  }
  ::cfmakeraw(&state);
  state.c_cflag |= CLOCAL | CREAD;
  state.c_cflag &= ~static_cast<tcflag_t>(CSTOPB | PARENB | PARODD | CRTSCTS);
  if (form.parity != Parity::none) state.c_cflag |= PARENB;
  if (form.parity == Parity::odd) state.c_cflag |= PARODD;
  if (form.stop_bits == 2) state.c_cflag |= CSTOPB;
  ::cfsetispeed(&state, speed_of(form.baud));
  ::cfsetospeed(&state, speed_of(form.baud));
  if (::tcsetattr(line, TCSANOW, &state) != 0) {
    const int error = errno;
    ::close(line);
    return trouble("not-a-line", device, error);
  }
  return line;
}

}  // namespace takehold::daemon
