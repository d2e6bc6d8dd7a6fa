// `takehold pairing`: which scion on which rootstock, and how many of them.
#include "client/command/noun_commands.hpp"
#include "client/command/pairing_check.hpp"

namespace takehold::client {
namespace {

Pairing started(const Book& book, const std::string& names) {
  const std::size_t slash = names.find('/');
  if (slash == std::string::npos) {
    throw WrongUsage({"bad-pairing", "a pairing is written \"Scion/Rootstock\"", "", names, ""});
  }
  Pairing pairing;
  pairing.scion = find_typed<Variety>(book, names.substr(0, slash)).name;
  pairing.rootstock = find_typed<Variety>(book, names.substr(slash + 1)).name;
  for (const Pairing& other : book.all<Pairing>()) {
    if (other.names() != pairing.names()) continue;
    throw sensors::Refused({"exists", other.id + " is this pairing already", "", pairing.names(),
                            "change it with: takehold pairing edit " + other.id});
  }
  return pairing;
}

void check(const Pairing& pairing) {
  require_range(pairing.want >= 1 && pairing.want <= 10000, "want", "from 1 to 10000");
  require_range(pairing.weight > 0.0 && pairing.weight <= 1e6, "weight", "above 0");
  if (pairing.scion != pairing.rootstock) return;
  throw sensors::Refused(
      {"same-variety", "scion and rootstock are one variety", "", pairing.names(), ""});
}

Table table(const Book&, const std::vector<Pairing>& pairings) {
  Table rows({{"pairing"},
              {"scion"},
              {"rootstock"},
              {"want", Align::right},
              {"method"},
              {"weight", Align::decimal},
              {"ready on"}});
  for (const Pairing& pairing : pairings) {
    rows.add({pairing.id, pairing.scion, pairing.rootstock, std::to_string(pairing.want),
              std::string(to_text(pairing.method)), fmt::format("{:g}", pairing.weight),
              pairing.ready_on ? sensors::to_string(*pairing.ready_on) : "with the season"});
  }
  return rows;
}

}  // namespace

void add_pairing(CommandTree& tree) {
  CLI::App& app =
      add_noun<Pairing>(tree,
                        {kPlanning, "scions on rootstocks: add, list, show, edit, drop, check",
                         "A pairing is typed as its number, P3, or as \"Scion/Rootstock\",\n"
                         "each name cut as short as it stays the only one.",
                         "pairing add \"Quarry Pink/Ironfoot\" --want 6\npairing show P1"},
                        {.key_help = "P3, or \"Scion/Rootstock\"",
                         .fixed = {"id", "scion", "rootstock"},
                         .example_add = "\"Quarry Pink/Ironfoot\" --want 6",
                         .example_key = "P3",
                         .started = started,
                         .found = find_pairing,
                         .check = check,
                         .table = table,
                         .enrich = {}});
  add_pairing_check(tree, app);
}

}  // namespace takehold::client
