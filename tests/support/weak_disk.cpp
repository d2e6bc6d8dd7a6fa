#include "tests/support/weak_disk.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <fstream>
#include <map>
#include <random>
#include <vector>

namespace takehold::testing {
namespace {

struct Write {
  sqlite3_int64 offset;
  std::vector<char> bytes;  ///< empty: the file was cut to `offset`
  std::vector<char> before;
  sqlite3_int64 size_before = 0;
};
using Unsynced = std::vector<Write>;

struct Disk {
  sqlite3_vfs* real = nullptr;
  sqlite3_vfs layer{};
  WeakDisk::Fault fault = WeakDisk::Fault::none;
  int refused = 0;
  int left = -1;  ///< calls until the power goes; below 0: it stays
  bool dark = false;
  std::map<std::string, Unsynced> files;
};
Disk* the_disk = nullptr;

struct File {
  sqlite3_file base;
  sqlite3_file* real;
  const char* name;
};

sqlite3_file* real_of(sqlite3_file* file) {
  return reinterpret_cast<File*>(file)->real;
}

/// Null for files without a name (SQLite's own scratch files).
Unsynced* unsynced_of(sqlite3_file* file) {
  const char* name = reinterpret_cast<File*>(file)->name;
  return name == nullptr ? nullptr : &the_disk->files[name];
}

void remember(sqlite3_file* file, Write write) {
  if (the_disk->left < 0 && !the_disk->dark) return;  // nobody has asked for a cut
  auto* unsynced = unsynced_of(file);
  if (unsynced == nullptr) return;
  auto* real = reinterpret_cast<File*>(file)->real;
  real->pMethods->xFileSize(real, &write.size_before);
  const auto end =
      write.bytes.empty() ? write.size_before : write.offset + sqlite3_int64(write.bytes.size());
  const auto count = std::min(end, write.size_before) - write.offset;
  if (count > 0) {
    write.before.resize(std::size_t(count));
    real->pMethods->xRead(real, write.before.data(), int(count), write.offset);
  }
  unsynced->push_back(std::move(write));
}

int refuse(int code) {
  ++the_disk->refused;
  return code;
}

/// True: the power is gone by now.
bool goes_dark() {
  if (the_disk->dark) return true;
  if (the_disk->left > 0) --the_disk->left;
  the_disk->dark = the_disk->left == 0;
  return the_disk->dark;
}

int close_file(sqlite3_file* file) {
  auto* real = real_of(file);
  const int code = real->pMethods == nullptr ? SQLITE_OK : real->pMethods->xClose(real);
  sqlite3_free(real);
  return code;
}
int read_file(sqlite3_file* file, void* into, int count, sqlite3_int64 at) {
  return real_of(file)->pMethods->xRead(real_of(file), into, count, at);
}
int write_file(sqlite3_file* file, const void* from, int count, sqlite3_int64 at) {
  if (goes_dark()) return refuse(SQLITE_IOERR_WRITE);
  if (the_disk->fault == WeakDisk::Fault::full) return refuse(SQLITE_FULL);
  if (the_disk->fault == WeakDisk::Fault::read_only) return refuse(SQLITE_READONLY);
  const char* bytes = static_cast<const char*>(from);
  remember(file, {at, {bytes, bytes + count}, {}});
  return real_of(file)->pMethods->xWrite(real_of(file), from, count, at);
}
int truncate_file(sqlite3_file* file, sqlite3_int64 size) {
  if (goes_dark()) return refuse(SQLITE_IOERR_TRUNCATE);
  remember(file, {size, {}, {}});
  return real_of(file)->pMethods->xTruncate(real_of(file), size);
}
int sync_file(sqlite3_file* file, int flags) {
  if (goes_dark()) return refuse(SQLITE_IOERR_FSYNC);
  if (the_disk->fault == WeakDisk::Fault::sync_fails) return refuse(SQLITE_IOERR_FSYNC);
  if (auto* unsynced = unsynced_of(file)) unsynced->clear();
  return real_of(file)->pMethods->xSync(real_of(file), flags);
}
int file_size(sqlite3_file* file, sqlite3_int64* size) {
  return real_of(file)->pMethods->xFileSize(real_of(file), size);
}
int lock_file(sqlite3_file* file, int level) {
  return real_of(file)->pMethods->xLock(real_of(file), level);
}
int unlock_file(sqlite3_file* file, int level) {
  return real_of(file)->pMethods->xUnlock(real_of(file), level);
}
int reserved_lock(sqlite3_file* file, int* out) {
  return real_of(file)->pMethods->xCheckReservedLock(real_of(file), out);
}
int control_file(sqlite3_file* file, int operation, void* argument) {
  return real_of(file)->pMethods->xFileControl(real_of(file), operation, argument);
}
int sector_size(sqlite3_file*) {
  return 512;
}
int characteristics(sqlite3_file*) {
  return 0;  // no promise at all: writes tear, and come in any order
}
int shm_map(sqlite3_file* file, int page, int size, int extend, void volatile** out) {
  return real_of(file)->pMethods->xShmMap(real_of(file), page, size, extend, out);
}
int shm_lock(sqlite3_file* file, int offset, int count, int flags) {
  return real_of(file)->pMethods->xShmLock(real_of(file), offset, count, flags);
}
void shm_barrier(sqlite3_file* file) {
  real_of(file)->pMethods->xShmBarrier(real_of(file));
}
int shm_unmap(sqlite3_file* file, int remove) {
  return real_of(file)->pMethods->xShmUnmap(real_of(file), remove);
}

const sqlite3_io_methods kMethods = {
    2,         close_file,  read_file,     write_file,   truncate_file, sync_file,       file_size,
    lock_file, unlock_file, reserved_lock, control_file, sector_size,   characteristics, shm_map,
    shm_lock,  shm_barrier, shm_unmap,     nullptr,      nullptr};

int open_file(sqlite3_vfs*, const char* name, sqlite3_file* out, int flags, int* out_flags) {
  auto* file = reinterpret_cast<File*>(out);
  auto* real = static_cast<sqlite3_file*>(sqlite3_malloc(the_disk->real->szOsFile));
  std::memset(real, 0, std::size_t(the_disk->real->szOsFile));
  const int code = the_disk->real->xOpen(the_disk->real, name, real, flags, out_flags);
  if (code != SQLITE_OK) {
    sqlite3_free(real);
    file->base.pMethods = nullptr;
    return code;
  }
  file->real = real;
  file->name = name;
  file->base.pMethods = &kMethods;
  return SQLITE_OK;
}

int delete_file(sqlite3_vfs*, const char* name, int sync) {
  if (the_disk->dark) return refuse(SQLITE_IOERR_DELETE);
  return the_disk->real->xDelete(the_disk->real, name, sync);
}

std::vector<char> bytes_of(const std::string& name) {
  std::ifstream stream(name, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

void take_back(std::vector<char>& bytes, const Write& write) {
  bytes.resize(std::size_t(write.size_before));
  std::copy(write.before.begin(), write.before.end(), bytes.begin() + std::ptrdiff_t(write.offset));
}

/// Some of the bytes of an unsynced write, in whole sectors.
void write_some(std::vector<char>& bytes, const Write& write, std::mt19937_64& random) {
  if (write.bytes.empty()) {
    if (random() % 2 == 0) bytes.resize(std::size_t(write.offset));
    return;
  }
  constexpr std::size_t kSector = 512;
  for (std::size_t at = 0; at < write.bytes.size(); at += kSector) {
    if (random() % 2 == 0) continue;
    const auto count = std::min(kSector, write.bytes.size() - at);
    const auto begin = std::size_t(write.offset) + at;
    if (bytes.size() < begin + count) bytes.resize(begin + count);
    std::copy_n(write.bytes.begin() + std::ptrdiff_t(at), count,
                bytes.begin() + std::ptrdiff_t(begin));
  }
}

}  // namespace

WeakDisk::WeakDisk() {
  the_disk = new Disk;
  the_disk->real = sqlite3_vfs_find(nullptr);
  the_disk->layer = *the_disk->real;
  the_disk->layer.szOsFile = sizeof(File);
  the_disk->layer.zName = "weak";
  the_disk->layer.xOpen = open_file;
  the_disk->layer.xDelete = delete_file;
  sqlite3_vfs_register(&the_disk->layer, 1);
}

WeakDisk::~WeakDisk() {
  sqlite3_vfs_unregister(&the_disk->layer);
  sqlite3_vfs_register(the_disk->real, 1);
  delete the_disk;
  the_disk = nullptr;
}

void WeakDisk::fail_with(Fault fault) {
  the_disk->fault = fault;
}
int WeakDisk::refused() const {
  return the_disk->refused;
}
void WeakDisk::cut_power_after(int more) {
  the_disk->left = more;
}
bool WeakDisk::power_is_gone() const {
  return the_disk->dark;
}

void WeakDisk::restore_power(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  for (auto& [name, unsynced] : the_disk->files) {
    if (unsynced.empty()) continue;
    auto bytes = bytes_of(name);
    for (auto write = unsynced.rbegin(); write != unsynced.rend(); ++write)
      take_back(bytes, *write);
    for (const auto& write : unsynced) write_some(bytes, write, random);
    std::ofstream stream(name, std::ios::binary | std::ios::trunc);
    stream.write(bytes.data(), std::streamsize(bytes.size()));
  }
  the_disk->files.clear();
  the_disk->dark = false;
  the_disk->left = -1;
}

}  // namespace takehold::testing
