// `takehold pairing check`: may these two be joined, and what does the rootstock bring?
#include "client/command/pairing_check.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/opened_book.hpp"
#include "client/match/joining.hpp"
#include "client/season/place.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

const char* level_text(Resistance level) {
  return level == Resistance::high ? "HR" : "IR";
}

const char* state_of(const BedTrouble& trouble) {
  if (!trouble.is_known) return "unknown";
  return trouble.level ? level_text(*trouble.level) : "none";
}

json document_of(const Pairing& pairing, const Joining& joining) {
  json adds = json::array(), troubles = json::array(), warnings = json::array();
  for (const AddedResistance& added : joining.adds) {
    adds.push_back({{"code", added.code},
                    {"level", level_text(added.level)},
                    {"scion_is_known", added.scion_is_known}});
  }
  for (const BedTrouble& trouble : joining.troubles) {
    troubles.push_back(
        {{"bed", trouble.bed}, {"code", trouble.code}, {"level", state_of(trouble)}});
  }
  for (const JoiningNote& note : joining.notes) {
    warnings.push_back({{"code", note.code}, {"about", pairing.names()}, {"text", note.text()}});
  }
  return {{"pairing", pairing.id.empty() ? json() : json(pairing.id)},
          {"scion", pairing.scion},
          {"rootstock", pairing.rootstock},
          {"adds", adds},
          {"troubles", troubles},
          {"warnings", warnings}};
}

void show_gains(Output& out, const Variety& scion, const Variety& rootstock,
                const Joining& joining) {
  if (!read_resistances(rootstock.resists)) {
    return out.line("what " + rootstock.name + " resists is not known");
  }
  std::string high, intermediate;
  for (const AddedResistance& added : joining.adds) {
    std::string& list = added.level == Resistance::high ? high : intermediate;
    list += (list.empty() ? "" : ", ") + added.code;
  }
  out.line(wrapped("the rootstock adds, high (HR):         " + (high.empty() ? "none" : high),
                   out.style().width));
  out.line(wrapped(
      "the rootstock adds, intermediate (IR): " + (intermediate.empty() ? "none" : intermediate),
      out.style().width));
  if (!read_resistances(scion.resists)) {
    out.line("what " + scion.name + " resists by itself is not known: it may have some of these");
  }
}

void show(Context& context, const Pairing& pairing, const Variety& scion, const Variety& rootstock,
          const Joining& joining) {
  context.out.line(pairing.names());
  show_gains(context.out, scion, rootstock, joining);
  Table table({{"bed"}, {"trouble"}, {"on this rootstock"}});
  for (const BedTrouble& trouble : joining.troubles) {
    table.add({trouble.bed, trouble.code, state_of(trouble)});
  }
  if (!joining.troubles.empty()) context.out.text("\n" + table.text(context.out.style()));
  for (const JoiningNote& note : joining.notes) {
    context.out.line("\n" + wrapped("- " + note.text(), context.out.style().width));
  }
}

void check(Context& context, const std::string& typed) {
  const Book book = open_book(context, BookUse::reading);
  const Pairing pairing = find_pairing(book, typed);
  const auto scion = book.find<Variety>(pairing.scion);
  const auto rootstock = book.find<Variety>(pairing.rootstock);
  const Joining joining =
      check_joining(scion.value(), rootstock.value(), pairing.want, book.all<Bed>());
  show(context, pairing, *scion, *rootstock, joining);
  context.out.document(document_of(pairing, joining));
}

}  // namespace

void add_pairing_check(CommandTree& tree, CLI::App& pairing) {
  CLI::App& app = tree.command_under(
      pairing, "check",
      {kPlanning, "may they be joined: virus genes, resistances, hot soil, vigour",
       "From the seed trade's codes of both varieties and the troubles of the beds. What is\n"
       "not known is called unknown, never fine.",
       "pairing check P1"});
  const auto typed = std::make_shared<std::string>();
  app.add_option("PAIRING", *typed, "P3, or \"Scion/Rootstock\"")->required();
  tree.action(app, [typed](Context& context) { check(context, *typed); });
}

}  // namespace takehold::client
