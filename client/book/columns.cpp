#include "client/book/columns.hpp"

#include <map>
#include <vector>

#include "client/season/field_json.hpp"
#include "client/season/ranges.hpp"

namespace takehold::client {
namespace {

template <class T>
struct TypeOf {
  static constexpr bool kNullable = false;
  static constexpr ColumnType value = std::is_same_v<T, bool>       ? ColumnType::flag
                                      : std::is_integral_v<T>       ? ColumnType::integer
                                      : std::is_floating_point_v<T> ? ColumnType::real
                                                                    : ColumnType::text;
};
template <>
struct TypeOf<Celsius> : TypeOf<double> {};
template <>
struct TypeOf<Millimetres> : TypeOf<double> {};
template <>
struct TypeOf<Kilograms> : TypeOf<double> {};
template <class T>
struct TypeOf<std::vector<T>> {
  static constexpr bool kNullable = false;
  static constexpr ColumnType value = ColumnType::list;
};
template <class T>
struct TypeOf<std::optional<T>> : TypeOf<T> {
  static constexpr bool kNullable = true;
};

using Columns = std::vector<FieldColumn>;

template <class T>
Columns describe() {
  Columns columns;
  T noun;
  auto add = [&columns](const Field& f, const auto& member) {
    using Type = TypeOf<std::remove_cvref_t<decltype(member)>>;
    columns.push_back({f, Type::value, Type::kNullable});
  };
  visit_fields(add, noun);
  return columns;
}

using CheckedNoun = std::pair<std::string, nlohmann::json>;

template <class T>
CheckedNoun check(const nlohmann::json& fields) {
  const T noun = from_json<T>(fields);
  ranges(noun, [](bool holds, std::string_view column, const char* rule) {
    if (holds) return;
    throw sensors::Refused({"out-of-range", std::string(column) + " " + rule,
                            "column " + std::string(column), "", ""});
  });
  return {noun.key(), to_json(noun)};
}

/// What is known of a kind without its type.
struct KindKnowledge {
  Columns columns;
  CheckedNoun (*check)(const nlohmann::json&);
};

template <class... T>
std::map<Kind, KindKnowledge> know_all() {
  return {{T::kKind, {describe<T>(), check<T>}}...};
}

const KindKnowledge& knowledge_of(Kind kind) {
  static const auto all = know_all<Season, Bench, Bed, Variety, Lot, LotTest, SeedCount, Pairing,
                                   OwnRoot, Sowing, Emerged, Thinning, Pricking, Measurement, Move,
                                   Batch, BatchEvent, Loss, Cull, Finish, Exposure, PlannedSowing,
                                   PlannedGraft, SeasonClose, SetOut, Harvest, Remark, Tending>();
  return all.at(kind);
}

/// "S12" for a kind with the letter S: a letter and a number.
bool is_numbered_key(const std::string& key, char letter) {
  return key.size() > 1 && key[0] == letter &&
         key.find_first_not_of("0123456789", 1) == std::string::npos;
}

}  // namespace

std::span<const FieldColumn> columns_of(Kind kind) {
  return knowledge_of(kind).columns;
}

CheckedNoun checked_noun(Kind kind, const nlohmann::json& fields) {
  CheckedNoun noun;
  try {
    noun = knowledge_of(kind).check(fields);
  } catch (const nlohmann::json::exception& e) {
    throw sensors::Refused({"bad-value", "a value is of another type", e.what(), "", ""});
  } catch (const std::invalid_argument& e) {
    throw sensors::Refused({"bad-value", e.what(), "", "", ""});
  }
  const char letter = kind_letter(kind);
  if (noun.first.empty() || (letter != 0 && !is_numbered_key(noun.first, letter)))
    throw sensors::Refused({"bad-key", "\"" + noun.first + "\" names no record of this table", "",
                            "", letter != 0 ? std::string("as ") + letter + "12" : ""});
  return noun;
}

}  // namespace takehold::client
