// The slave is opened once and closed again at the start: only after that does the master report a
// hang-up while nobody listens, which is how is_listened_to() knows.
#include "sensors/sim/probe_sim/pseudo_terminal.hpp"

#include <fcntl.h>
#include <poll.h>
#include <stdlib.h>
#include <termios.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace takehold::sensors {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse_terminal(const std::string& what) {
  throw Refused(
      {"no-terminal", "no pseudo-terminal can be had", what + ": " + std::strerror(errno), "", ""});
}

void set_raw(const std::string& slave) {
  const int fd = ::open(slave.c_str(), O_RDWR | O_NOCTTY);
  if (fd < 0) refuse_terminal("open");
  termios line{};
  bool done = ::tcgetattr(fd, &line) == 0;
  ::cfmakeraw(&line);
  done = done && ::tcsetattr(fd, TCSANOW, &line) == 0;
  ::close(fd);
  if (!done) refuse_terminal("tcsetattr");
}

std::string open_slave_of(int master) {
  char name[128];
  if (master < 0 || ::grantpt(master) != 0 || ::unlockpt(master) != 0 ||
      ::ptsname_r(master, name, sizeof name) != 0) {
    refuse_terminal("open");
  }
  set_raw(name);
  return name;
}

}  // namespace

PseudoTerminal::PseudoTerminal(const std::string& link)
    : link_(link), master_(::posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC)) {
  try {
    slave_ = open_slave_of(master_);
    make_link();
  } catch (...) {
    if (master_ >= 0) ::close(master_);
    throw;
  }
}

void PseudoTerminal::make_link() {
  std::error_code error;
  const auto status = fs::symlink_status(link_, error);
  if (fs::is_symlink(status)) fs::remove(link_, error);
  if (fs::exists(status) && !fs::is_symlink(status)) {
    throw Refused({"link-taken", "something stands where the link shall be", "", link_.string(),
                   "choose another name, or take it away"});
  }
  fs::create_symlink(slave_, link_, error);
  if (error) {
    throw Refused({"link-taken", "the link cannot be made", error.message(), link_.string(), ""});
  }
}

PseudoTerminal::~PseudoTerminal() {
  std::error_code error;
  if (fs::read_symlink(link_, error) == slave_) fs::remove(link_, error);  // not a later run's
  ::close(master_);
}

bool PseudoTerminal::is_listened_to() const {
  pollfd look{master_, POLLOUT, 0};
  return ::poll(&look, 1, 0) == 1 && (look.revents & POLLHUP) == 0;
}

}  // namespace takehold::sensors
