// The templates of opened_book.hpp.
#pragma once

#include <algorithm>
#include <cctype>
#include <vector>

#include "client/season/kind.hpp"
#include "client/season/names.hpp"

namespace takehold::client {

/// Throws Refused, code "not-there".
[[noreturn]] void refuse_not_there(std::string_view what, std::string_view typed);

template <class T>
T find_typed(const Book& book, std::string_view typed) {
  const std::vector<T> all = book.all<T>();
  std::vector<std::string> keys;
  for (const T& noun : all) keys.push_back(noun.key());
  const std::string key = by_beginning(typed, keys, kind_name(T::kKind)).value();
  return *std::find_if(all.begin(), all.end(), [&](const T& noun) { return noun.key() == key; });
}

template <class T>
T find_numbered(const Book& book, std::string_view typed) {
  std::string key(typed);
  std::transform(key.begin(), key.end(), key.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  auto found = book.find<T>(key);
  if (!found) refuse_not_there(kind_name(T::kKind), typed);
  return *std::move(found);
}

}  // namespace takehold::client
