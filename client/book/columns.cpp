#include "client/book/columns.hpp"

#include <map>
#include <vector>

#include "client/season/batch.hpp"
#include "client/season/pairing.hpp"
#include "client/season/place.hpp"
#include "client/season/planned.hpp"
#include "client/season/season.hpp"

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

template <class... T>
std::map<Kind, Columns> describe_all() {
  return {{T::kKind, describe<T>()}...};
}

}  // namespace

std::span<const FieldColumn> columns_of(Kind kind) {
  static const auto all =
      describe_all<Season, Bench, Bed, Variety, Lot, LotTest, SeedCount, Pairing, OwnRoot, Sowing,
                   Emerged, Thinning, Pricking, Measurement, Move, Batch, BatchEvent, Loss, Cull,
                   Finish, Exposure, PlannedSowing, PlannedGraft>();
  return all.at(kind);
}

}  // namespace takehold::client
