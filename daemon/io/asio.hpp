// Asio as all of this folder uses it: one thread, coroutines, errors as values.
#pragma once

#include <boost/asio/as_tuple.hpp>
#include <boost/asio/awaitable.hpp>
#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/this_coro.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <chrono>

namespace takehold::daemon {

namespace asio = boost::asio;
using boost::asio::awaitable;

/// `auto [error, value] = co_await something(kNoThrow);`
inline constexpr auto kNoThrow = asio::as_tuple(asio::use_awaitable);

/// The wall clock, in whole milliseconds: the one place that reads it.
inline std::chrono::sys_time<std::chrono::milliseconds> wall_clock() {
  return std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

}  // namespace takehold::daemon
