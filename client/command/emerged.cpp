// emerged: how many seedlings of a sowing stand, a total.
#include <fmt/format.h>

#include "client/command/command_tree.hpp"
#include "client/command/seedling_table.hpp"
#include "client/command/seedlings.hpp"
#include "client/command/session.hpp"
#include "client/command/standing.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

namespace {

Emerged drafted(const Telling& telling, const std::string& typed_sowing, int standing) {
  const Sowing sowing = find_numbered<Sowing>(telling.book, typed_sowing);
  if (standing < 0) refuse("bad-count", "a count is not negative", "COUNT");
  if (standing > sowing.seeds) {
    refuse("more-than-sown",
           fmt::format("{} standing, but {} were sown", standing,
                       counted(sowing.seeds, "seed", "seeds")),
           sowing.id);
  }
  const auto before = state_of(telling.book, sowing).standing;
  if (before && standing < *before) {
    refuse("fewer-than-before", fmt::format("{} stood before, now {}", *before, standing),
           sowing.id,
           fmt::format("what became of them? takehold lose {} --count {} --cause ...", sowing.id,
                       *before - standing));
  }
  return {"", sowing.id, telling.at, standing, telling.note};
}

void record_all(const Telling& telling, const std::string& words, std::vector<Emerged>& counts) {
  telling.book.record(words, telling.now, [&](Recorder& r) {
    for (Emerged& count : counts) {
      count.id = r.next_number(Kind::emerged);
      r.put(count);
    }
  });
}

}  // namespace

Emerged emerged(const Telling& telling, const std::string& typed_sowing, int standing) {
  std::vector<Emerged> one{drafted(telling, typed_sowing, standing)};
  record_all(telling, fmt::format("emerged {} {}", one.front().sowing, standing), one);
  return one.front();
}

std::vector<Emerged> emerged_table(const Telling& telling, const std::vector<CountRow>& rows,
                                   const std::string& words) {
  std::vector<Emerged> counts;
  for (const CountRow& row : rows) {
    try {
      counts.push_back(drafted(telling, row.sowing, row.standing));
    } catch (const sensors::Refused& refused) {
      auto problem = refused.problem();
      problem.where = row.where;
      throw sensors::Refused(std::move(problem));
    }
  }
  record_all(telling, words, counts);
  return counts;
}

namespace {

struct Typed {
  std::string sowing, file, note;
  std::optional<int> standing;
  TypedWhen when;
};

void show(const Emerged& record, Context& context) {
  context.out.line(fmt::format("{}: {} standing", record.sowing, record.standing));
}

void run_table(const Typed& words, const Telling& telling, Context& context) {
  nlohmann::json list = nlohmann::json::array();
  for (const auto& record :
       emerged_table(telling, count_table(read_text_file(words.file), words.file),
                     "emerged --from " + words.file)) {
    show(record, context);
    list.push_back(record_json(telling, record));
  }
  context.out.document({{"counts", std::move(list)}});
}

void run_emerged(const Typed& words, Context& context) {
  const bool one = !words.sowing.empty() && words.standing && words.file.empty();
  const bool table = words.sowing.empty() && !words.file.empty();
  const bool asks = words.sowing.empty() && words.file.empty() && is_dialogue(context);
  if (!one && !table && !asks) {
    throw WrongUsage({"usage", "emerged wants a sowing and how many stand", "", "standing",
                      "emerged S1 9, or --from FILE; at a terminal it asks for what is left out"});
  }
  Book book = open_book(context, BookUse::recording);
  const Telling telling = telling_of(context, book, words.when, words.note);
  if (asks) {
    count_session(context, telling);
  } else if (table) {
    run_table(words, telling, context);
  } else {
    const Emerged record = emerged(telling, words.sowing, *words.standing);
    show(record, context);
    context.out.document(record_json(telling, record));
  }
}

}  // namespace

void add_emerged(CommandTree& tree) {
  CLI::App& app = tree.command(
      "emerged",
      {kDaily, "how many seedlings of a sowing stand: the total, not the new ones",
       "Without a sowing it asks, sowing after sowing. Fewer than before is a loss, and\n"
       "wants its cause: see lose. --from reads a table with the columns sowing and\n"
       "standing.",
       "emerged\nemerged S1 9\nemerged --from counts.csv"});
  const auto words = std::make_shared<Typed>();
  app.add_option("sowing", words->sowing, "the sowing, as S1");
  app.add_option("standing,--standing,--count", words->standing, "plants standing");
  app.add_option("--from", words->file, "a table of counts (CSV)");
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { run_emerged(*words, context); });
}

}  // namespace takehold::client
