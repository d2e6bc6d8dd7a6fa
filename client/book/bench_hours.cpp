// What the benches' probes logged, as the daemon told it.
#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include "client/book/inside.hpp"

namespace takehold::client {

void Book::keep_hours(std::string_view bench, const BenchHours& hours) {
  if (hours.empty()) return;
  auto transaction = inside_->begin();
  SQLite::Statement statement(
      inside_->database(),
      "INSERT OR REPLACE INTO bench_hour (bench, hour, mean_degc) VALUES (?, ?, ?)");
  for (const auto& [hour, mean] : hours) {
    statement.bind(1, std::string(bench));
    statement.bind(2, hour);
    statement.bind(3, mean.degc());
    statement.exec();
    statement.reset();
  }
  transaction.commit();
}

BenchHours Book::hours_of(std::string_view bench) const {
  SQLite::Statement statement(inside_->database(),
                              "SELECT hour, mean_degc FROM bench_hour WHERE bench = ?");
  statement.bind(1, std::string(bench));
  BenchHours hours;
  while (statement.executeStep()) {
    hours.emplace(statement.getColumn(0).getInt64(),
                  sensors::Celsius::degc(statement.getColumn(1).getDouble()));
  }
  return hours;
}

}  // namespace takehold::client
