// Tables that people and other programs bring: traces, lists of stems, outcomes.
#include "client/command/outcome_table.hpp"
#include "client/command/stem_list.hpp"
#include "sensors/codec/trace_row.hpp"
#include "sensors/quantity/problem.hpp"

using namespace takehold;

namespace {

template <class Read>
void try_reading(Read read) {
  try {
    static_cast<void>(read());
  } catch (const sensors::Refused&) {
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string input(reinterpret_cast<const char*>(data), size);
  if (const auto row = sensors::parse_trace_row(input))
    static_cast<void>(sensors::format_trace_row(*row));
  try_reading([&] { return client::read_stem_list(input, "stems.txt"); });
  try_reading([&] { return client::read_outcomes(input, "outcomes.csv"); });
  return 0;
}
