// The same work for many things, on all of the machine's threads.
#pragma once

#include <cstddef>
#include <functional>

namespace takehold::client {

/// Calls work(0) .. work(count - 1), each once, in any order, from `threads` threads (0: as many as
/// the machine has). The calls must not depend on each other. Rethrows the first exception thrown,
/// after all threads have ended. `done`, if given, is told after each how many are done, by one
/// thread at a time.
void in_parallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work,
                 const std::function<void(std::size_t)>& done = {});

}  // namespace takehold::client
