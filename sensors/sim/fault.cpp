#include "sensors/sim/fault.hpp"

#include <array>
#include <charconv>

namespace takehold::sensors {
namespace {

using std::chrono::seconds;

struct Named {
  std::string_view name;
  FaultKind kind;
  std::optional<seconds> length;
};

constexpr std::array kKinds = {
    Named{"door", FaultKind::door, seconds(120)},
    Named{"ajar", FaultKind::ajar, std::nullopt},
    Named{"leak", FaultKind::leak, std::nullopt},
    Named{"dry", FaultKind::dry, std::nullopt},
    Named{"soak", FaultKind::soak, std::nullopt},
    Named{"cold", FaultKind::cold, std::nullopt},
    Named{"hot", FaultKind::hot, std::nullopt},
    Named{"mist", FaultKind::mist, seconds(10)},
    Named{"silent", FaultKind::silent, std::nullopt},
    Named{"stuck", FaultKind::stuck, std::nullopt},
    Named{"wet", FaultKind::wet, std::nullopt},
    Named{"jump", FaultKind::jump, std::nullopt},
    Named{"off", FaultKind::off, std::nullopt},
    Named{"wild", FaultKind::wild, std::nullopt},
};

Problem bad_fault(std::string_view text) {
  return {"bad-fault", "not a fault", "\"" + std::string(text) + "\"", "",
          "write KIND@SECONDS, as door@600, ajar@600+900 or silent@30:2; KIND is one of " +
              fault_names()};
}

/// The whole number at the front of `text`, which loses it. Up to ten years.
std::optional<int> take_number(std::string_view& text) {
  constexpr int kMost = 10 * 366 * 86'400;
  int value = 0;
  const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || value < 0 || value > kMost) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(stop - text.data()));
  return value;
}

bool take(std::string_view& text, char wanted) {
  if (!text.starts_with(wanted)) return false;
  text.remove_prefix(1);
  return true;
}

}  // namespace

bool is_of_probe(FaultKind kind) {
  return kind >= FaultKind::silent;
}

bool Fault::is_on(seconds since_start) const {
  return since_start >= from && (!length || since_start < from + *length);
}

Result<Fault> parse_fault(std::string_view text) {
  const auto at = text.find('@');
  const Named* found = nullptr;
  for (const auto& named : kKinds) {
    if (named.name == text.substr(0, at)) found = &named;
  }
  if (found == nullptr || at == std::string_view::npos) return bad_fault(text);
  Fault fault{found->kind, seconds(0), found->length, 1};
  std::string_view rest = text.substr(at + 1);
  const auto from = take_number(rest);
  if (!from) return bad_fault(text);
  fault.from = seconds(*from);
  if (take(rest, '+')) {
    const auto length = take_number(rest);
    if (!length) return bad_fault(text);
    fault.length = seconds(*length);
  }
  if (is_of_probe(fault.kind) && take(rest, ':')) {
    const auto probe = take_number(rest);
    if (!probe || *probe < 1) return bad_fault(text);
    fault.probe = *probe;
  }
  if (!rest.empty()) return bad_fault(text);
  return fault;
}

std::string fault_names() {
  std::string names;
  for (const auto& named : kKinds) names += (names.empty() ? "" : " ") + std::string(named.name);
  return names;
}

}  // namespace takehold::sensors
