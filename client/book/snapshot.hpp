// What stood of one kind when it was read. Reading the same kind twice costs one reading, and a
// snapshot stays as it was while its holder records.
#pragma once

#include <cstddef>
#include <memory>
#include <utility>
#include <vector>

namespace takehold::client {

template <class T>
class Snapshot {
 public:
  explicit Snapshot(std::shared_ptr<const std::vector<T>> items) : items_(std::move(items)) {}

  auto begin() const { return items_->begin(); }
  auto end() const { return items_->end(); }
  std::size_t size() const { return items_->size(); }
  bool empty() const { return items_->empty(); }
  const T& front() const { return items_->front(); }
  const T& operator[](std::size_t at) const { return (*items_)[at]; }

  /// A list of the holder's own, to sort or to change.
  operator std::vector<T>() const { return *items_; }

 private:
  std::shared_ptr<const std::vector<T>> items_;
};

}  // namespace takehold::client
