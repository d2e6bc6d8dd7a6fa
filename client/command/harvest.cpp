// harvest: what was picked, plant by plant, batch by batch or from a whole bed.
#include <fmt/format.h>

#include <istream>
#include <iterator>

#include "client/command/command_tree.hpp"
#include "client/command/grown.hpp"
#include "client/command/harvest_session.hpp"
#include "client/command/picking_text.hpp"
#include "client/command/session.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {
namespace {

struct Typed {
  std::string from, file, note;
  std::vector<std::string> weights;
  TypedWhen when;
};

std::vector<Picking> typed_pickings(const Typed& words, Context& context) {
  if (!words.weights.empty()) {
    return pickings_of(words.from, words.weights, context.units, words.from);
  }
  if (!words.from.empty()) {
    throw WrongUsage({"usage", "harvest wants weights behind what was picked from", "", "weights",
                      "harvest G3 3=1.25 5=0.9"});
  }
  if (!words.file.empty()) {
    return pickings_of_text(read_text_file(words.file), context.units, words.file);
  }
  return pickings_of_text(std::string(std::istreambuf_iterator<char>(context.in), {}),
                          context.units, "standard input");
}

std::string words_of(const Typed& words, std::size_t pickings) {
  if (words.weights.empty()) {
    return fmt::format("harvest, {} from {}",
                       counted(static_cast<long long>(pickings), "picking", "pickings"),
                       words.file.empty() ? "standard input" : words.file);
  }
  return fmt::format("harvest {} {}", words.from, fmt::join(words.weights, " "));
}

void note_beds(const std::vector<Harvest>& records, Output& out) {
  for (const Harvest& record : records) {
    if (!record.subject.empty()) continue;
    out.note({"bed-not-told-apart", record.bed,
              "which plants bore it cannot be told: it counts for the bed, not for a variety"});
    return;
  }
}

void run_harvest(const Typed& words, Context& context) {
  if (!words.file.empty() && !words.from.empty()) {
    throw WrongUsage({"usage", "harvest wants a batch or --from FILE, not both", "", "harvest",
                      "harvest --from pickings.txt"});
  }
  Book book = open_book(context, BookUse::recording);
  const Telling telling = telling_of(context, book, words.when, words.note);
  if (is_dialogue(context) && words.weights.empty() && words.file.empty()) {
    harvest_session(context, telling, words.from);
    return;
  }
  const auto pickings = typed_pickings(words, context);
  const auto records = harvest(telling, pickings, words_of(words, pickings.size()));
  context.out.text(harvest_text(records, context.units));
  note_beds(records, context.out);
  nlohmann::json list = nlohmann::json::array();
  for (const Harvest& record : records) list.push_back(record_json(telling, record));
  context.out.document({{"harvests", std::move(list)}});
}

}  // namespace

void add_harvest(CommandTree& tree) {
  CLI::App& app = tree.command(
      "harvest",
      {kAfterGraft, "what was picked: weights, by plant, batch or bed",
       "A weight alone is of all plants together, 3=1.25 of plant 3; /14 behind it counts the\n"
       "fruits. Bare weights are kilograms; g, oz and lb are known. Weighed plant by plant,\n"
       "`worth` can say how sure a difference is. Without anything it asks, line after line;\n"
       "a pipe or --from gives a line a picking, with a day in front if you like.",
       "harvest G3 12.4\nharvest G3 3=1.25/14 5=850g\nharvest \"south bed\" 31.2\n"
       "harvest --from pickings.txt\nharvest"});
  const auto words = std::make_shared<Typed>();
  app.add_option("picked-from", words->from, "a batch, a sowing or a bed");
  app.add_option("weights", words->weights, "as 12.4, or 3=1.25/14");
  app.add_option("--from", words->file, "a file, a line a picking");
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { run_harvest(*words, context); });
}

}  // namespace takehold::client
