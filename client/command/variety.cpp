// `takehold variety`: kinds of tomato, by the grower's own names.
#include "client/command/noun_commands.hpp"

namespace takehold::client {
namespace {

Variety started(const Book& book, const std::string& typed_name) {
  Variety variety;
  variety.name = typed(checked_name(typed_name));
  if (book.find<Variety>(variety.name)) {
    throw sensors::Refused({"exists", "there is a variety of this name already", "", variety.name,
                            "change it with: takehold variety edit"});
  }
  return variety;
}

Table table(const Book&, const std::vector<Variety>& varieties) {
  Table rows({{"variety"}, {"used as"}, {"habit"}, {"fruit"}, {"resists"}});
  for (const Variety& variety : varieties) {
    rows.add({variety.name, std::string(to_text(variety.role)),
              variety.habit ? std::string(to_text(*variety.habit)) : "", variety.fruit.value_or(""),
              variety.resists.empty() ? "unknown" : variety.resists});
  }
  return rows;
}

}  // namespace

void add_variety(CommandTree& tree) {
  add_noun<Variety>(tree,
                    {kPlanning, "kinds of tomato: add, list, show, edit, drop",
                     "What a variety resists is written in the seed trade's codes, with\n"
                     "HR (high) and IR (middling) kept apart. Left out means unknown.",
                     "variety add \"Quarry Pink\" --role scion --habit indeterminate"},
                    {.key_help = "its name, or the beginning of it",
                     .fixed = {"name"},
                     .example_add = "\"Quarry Pink\" --role scion --fruit beefsteak",
                     .example_key = "\"Quarry Pink\"",
                     .started = started,
                     .found = find_typed<Variety>,
                     .check = [](const Variety&) {},
                     .table = table,
                     .enrich = {}});
}

}  // namespace takehold::client
