#include "daemon/io/aside.hpp"

#include <sys/eventfd.h>
#include <unistd.h>

#include <atomic>
#include <boost/asio/experimental/awaitable_operators.hpp>
#include <boost/asio/posix/stream_descriptor.hpp>
#include <cstdint>
#include <thread>

namespace takehold::daemon {

/// Owned by the loop and by the thread: whichever ends later.
struct Aside::Job {
  const int bell = ::eventfd(0, EFD_CLOEXEC | EFD_NONBLOCK);
  std::atomic<bool> done = false;

  Job() = default;
  Job(const Job&) = delete;
  Job& operator=(const Job&) = delete;
  ~Job() { ::close(bell); }

  void end() {
    done = true;
    const std::uint64_t one = 1;
    (void)!::write(bell, &one, sizeof one);
  }
};

awaitable<bool> Aside::run(const std::function<void()>& work, std::chrono::milliseconds timeout) {
  using namespace asio::experimental::awaitable_operators;
  if (job_ && !job_->done) co_return false;
  job_ = std::make_shared<Job>();
  std::thread([job = job_, work] {
    work();
    job->end();
  }).detach();
  const auto executor = co_await asio::this_coro::executor;
  asio::posix::stream_descriptor bell(executor, ::dup(job_->bell));
  asio::steady_timer timer(executor, timeout);
  co_await (bell.async_wait(asio::posix::stream_descriptor::wait_read, kNoThrow) ||
            timer.async_wait(kNoThrow));
  co_return job_->done;
}

}  // namespace takehold::daemon
