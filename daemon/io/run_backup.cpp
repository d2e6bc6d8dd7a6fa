#include <fmt/format.h>

#include <ostream>

#include "daemon/io/run.hpp"
#include "daemon/log/log_reader.hpp"

namespace takehold::daemon {

int run_backup(const Settings& settings, const std::filesystem::path& to, std::ostream& out) {
  std::error_code error;
  if (std::filesystem::equivalent(settings.log_file, to, error)) {
    throw sensors::Refused({"same-file", "this is the chamber log itself", "", to.string(),
                            "name another file, best on another disk"});
  }
  try {
    back_up_log(settings.log_file, to);
  } catch (const sensors::Refused&) {
    throw;
  } catch (const std::exception& failed) {
    throw sensors::Refused({"cannot-copy", "the copy could not be written", failed.what(),
                            to.string(), "look at the rights and the room there"});
  }
  out << fmt::format("{}: {} bytes, a whole copy of {}\n", to.string(),
                     std::filesystem::file_size(to), settings.log_file.string());
  return 0;
}

}  // namespace takehold::daemon
