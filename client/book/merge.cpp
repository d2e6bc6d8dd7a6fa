#include "client/book/merge.hpp"

namespace takehold::client {

using nlohmann::json;

Merged merge(const json& last, const json& book, const json& sheet, MergeWinner winner) {
  Merged merged{book, {}};
  for (const auto& [field, wanted] : sheet.items()) {
    const json& stands = book.at(field);
    const json was = last.value(field, json());
    if (wanted == stands || wanted == was) continue;
    if (stands == was || winner == MergeWinner::sheet) {
      merged.fields[field] = wanted;
    } else if (winner == MergeWinner::nobody) {
      merged.clashes.push_back({field, was, stands, wanted});
    }
  }
  return merged;
}

std::string to_text(const Clash& clash) {
  return clash.field + ": sheet " + clash.sheet.dump() + ", book " + clash.book.dump() +
         ", before " + clash.was.dump();
}

json differences(const json& was, const json& now) {
  auto changed = json::object();
  for (const auto& [field, value] : now.items())
    if (was.at(field) != value) changed[field] = {{"was", was.at(field)}, {"now", value}};
  return changed;
}

}  // namespace takehold::client
