#include "client/plan/in_parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace takehold::client {
namespace {

struct Shared {
  std::atomic<std::size_t> next{0};
  std::mutex guard{};
  std::size_t done = 0;
  std::exception_ptr failure{};
};

}  // namespace

void in_parallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work,
                 const std::function<void(std::size_t)>& done) {
  Shared shared;
  const auto run = [&] {
    for (std::size_t i = shared.next++; i < count; i = shared.next++) {
      try {
        work(i);
      } catch (...) {
        const std::lock_guard lock(shared.guard);
        if (!shared.failure) shared.failure = std::current_exception();
        shared.next = count;
        return;
      }
      const std::lock_guard lock(shared.guard);
      ++shared.done;
      if (done) done(shared.done);
    }
  };
  const std::size_t most = threads > 0 ? static_cast<std::size_t>(threads)
                                       : std::max(1U, std::thread::hardware_concurrency());
  {
    std::vector<std::jthread> others;
    for (std::size_t i = 1; i < std::min(most, count); ++i) others.emplace_back(run);
    run();
  }
  if (shared.failure) std::rethrow_exception(shared.failure);
}

}  // namespace takehold::client
