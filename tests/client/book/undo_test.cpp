#include <map>
#include <random>
#include <set>

#include "client/season/field_json.hpp"
#include "tests/client/book/book_fixture.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

using Undo = BookTest;

void set_price(Book& book, double price) {
  book.record("lot edit --price", instant("2027-03-02T00:00:00Z"), [price](Recorder& r) {
    Lot lot = r.book().find<Lot>("QP-24").value();
    lot.price = price;
    r.put(lot);
  });
}

TEST_F(Undo, plain_takes_back_the_last_command_and_twice_is_as_before) {
  Book book = open();
  add_seed(book);
  sow(book, 7);
  EXPECT_EQ(book.undo(kNow).command.words, "sow QP-24 --count 7");
  EXPECT_TRUE(book.all<Sowing>().empty());
  book.undo(kNow);
  EXPECT_EQ(book.find<Sowing>("S1").value().seeds, 7);
}

TEST_F(Undo, of_an_older_command_leaves_the_newer_ones) {
  Book book = open();
  add_seed(book);
  sow(book, 7);
  sow(book, 8);
  book.undo(kNow, 4);
  ASSERT_EQ(book.all<Sowing>().size(), 1u);
  EXPECT_EQ(book.all<Sowing>()[0].id, "S2");
}

TEST_F(Undo, appends_and_keeps_every_version) {
  Book book = open();
  add_seed(book);
  set_price(book, 3);
  book.undo(kNow);
  const auto versions = book.history<Lot>("QP-24");
  ASSERT_EQ(versions.size(), 3u);
  EXPECT_EQ(versions[1].noun.price, 3.0);
  EXPECT_EQ(versions[2].noun, versions[0].noun);
}

TEST_F(Undo, is_refused_while_later_records_stand_on_it_and_names_them) {
  Book book = open();
  add_seed(book);
  const auto id = sow(book, 7);
  book.record("emerged S1 5", kNow, [&](Recorder& r) {
    r.put(Emerged{.id = r.next_number(Kind::emerged), .sowing = id, .at = kNow, .standing = 5});
  });
  try {
    book.undo(kNow, 4);
    FAIL() << "took the sowing from under its seedlings";
  } catch (const sensors::Refused& e) {
    EXPECT_EQ(e.problem().code, "stands-on-it");
    EXPECT_EQ(e.problem().detail, "5 \"emerged S1 5\" (emerged R2)");
  }
  EXPECT_TRUE(book.find<Sowing>("S1").has_value());
  book.undo(kNow, 5);
  EXPECT_NO_THROW(book.undo(kNow, 4));
}

TEST_F(Undo, of_an_edit_does_not_mind_records_that_only_name_the_thing) {
  Book book = open();
  add_seed(book);
  set_price(book, 3);
  sow(book, 7);
  EXPECT_NO_THROW(book.undo(kNow, 4));
  EXPECT_FALSE(book.find<Lot>("QP-24")->price.has_value());
}

TEST_F(Undo, of_an_undo_is_refused_while_what_it_would_restore_names_nothing) {
  Book book = open();
  add_seed(book);      // 1 varieties, 2 lot, 3 pairing
  book.undo(kNow, 2);  // 4: the lot
  book.undo(kNow, 3);  // 5: the pairing
  book.undo(kNow, 1);  // 6: the varieties
  EXPECT_EQ(refusal([&] { book.undo(kNow, 4); }), "stands-on-it");
  book.undo(kNow, 6);
  EXPECT_NO_THROW(book.undo(kNow, 4));
  EXPECT_EQ(book.on_hand("QP-24"), 30);
}

TEST_F(Undo, of_nothing_of_what_is_not_there_and_of_what_is_undone_is_refused) {
  Book book = open();
  EXPECT_EQ(refusal([&] { book.undo(kNow); }), "nothing-to-undo");
  add_seed(book);
  EXPECT_EQ(refusal([&] { book.undo(kNow, 99); }), "no-such-command");
  book.undo(kNow, 3);
  EXPECT_EQ(refusal([&] { book.undo(kNow, 3); }), "already-undone");
}

// --- the property: what stands is what the commands that count would write, in their order -------

using State = std::map<NounRef, json>;

template <class T>
void add_all(const Book& book, State& state) {
  for (const T& noun : book.all<T>()) state[{T::kKind, noun.key()}] = to_json(noun);
}

State state_of(const Book& book) {
  State state;
  add_all<Variety>(book, state);
  add_all<Lot>(book, state);
  add_all<SeedCount>(book, state);
  add_all<Pairing>(book, state);
  add_all<Sowing>(book, state);
  add_all<Measurement>(book, state);
  add_all<Batch>(book, state);
  add_all<Loss>(book, state);
  return state;
}

/// Kept beside the book and knowing nothing of versions: each command's effect, and whether it
/// counts.
class Ledger {
 public:
  void note(const Book& book, const State& before) {
    const State after = state_of(book);
    const CommandLine line = book.commands().front();
    if (effects_.contains(line.id) || line.undoes) return;
    for (const auto& [noun, fields] : after)
      if (!before.contains(noun) || before.at(noun) != fields) effects_[line.id][noun] = fields;
    for (const auto& [noun, fields] : before)
      if (!after.contains(noun)) effects_[line.id][noun] = json();
    counts_[line.id] = true;
  }

  State replay(CommandId without = 0) const {
    State state;
    for (const auto& [id, effect] : effects_) {
      if (!counts_.at(id) || id == without) continue;
      for (const auto& [noun, fields] : effect)
        if (fields.is_null())
          state.erase(noun);
        else
          state[noun] = fields;
    }
    return state;
  }

  bool overwritten(CommandId command) const {
    for (const auto& [id, effect] : effects_) {
      if (id <= command || !counts_.at(id)) continue;
      for (const auto& [noun, fields] : effect)
        if (effects_.at(command).contains(noun)) return true;
    }
    return false;
  }

  bool knows(CommandId id) const { return effects_.contains(id); }
  bool counts(CommandId id) const { return counts_.at(id); }
  void set_counts(CommandId id, bool counts) { counts_[id] = counts; }

 private:
  std::map<CommandId, State> effects_{};
  std::map<CommandId, bool> counts_{};
};

bool holds_together(const State& state) {
  const std::map<std::string, Kind> kKeys{{"lot", Kind::lot},           {"variety", Kind::variety},
                                          {"scion", Kind::variety},     {"sowing", Kind::sowing},
                                          {"rootstock", Kind::variety}, {"pairing", Kind::pairing}};
  for (const auto& [noun, fields] : state) {
    for (const auto& [field, kind] : kKeys)
      if (fields.contains(field) && !state.contains({kind, fields[field].get<std::string>()}))
        return false;
    if (!fields.contains("subject")) continue;
    const auto key = fields["subject"].get<std::string>();
    if (!state.contains({kind_of_key(key).value(), key})) return false;
  }
  return true;
}

/// A grower with a short memory.
class RandomGrower {
 public:
  RandomGrower(Book& book, unsigned seed) : book_(book), random_(seed) {}

  /// One of each name to begin with, so that later commands find something.
  void record_names() {
    book_.record("names", kAt, [](Recorder& r) {
      for (const char* name : {"a", "b", "c"}) {
        r.put(Variety{.name = name});
        r.put(Lot{.label = std::string("L") + name, .variety = name, .seeds = 20});
      }
      r.put(Sowing{.id = r.next_number(Kind::sowing), .lot = "La", .at = kAt, .seeds = 4});
    });
  }

  void record() {
    book_.record("something", kAt, [this](Recorder& r) {
      switch (below(7)) {
        case 0:
          r.put(Variety{.name = name(), .role = below(2) ? Role::scion : Role::both});
          break;
        case 1:
          r.put(Lot{.label = "L" + name(), .variety = name(), .seeds = below(40)});
          break;
        case 2:
          r.put(Pairing{.id = "P" + std::to_string(1 + below(3)),
                        .scion = name(),
                        .rootstock = name(),
                        .want = 1 + below(9)});
          break;
        case 3:
          r.put(Sowing{.id = r.next_number(Kind::sowing),
                       .lot = "L" + name(),
                       .at = kAt,
                       .seeds = below(9)});
          break;
        case 4:
          r.put(Measurement{.id = r.next_number(Kind::measurement),
                            .sowing = sowing(),
                            .at = kAt,
                            .stems = {{1, Millimetres::mm(2.1)}}});
          break;
        case 5:
          r.put(Loss{.id = r.next_number(Kind::loss), .subject = sowing(), .at = kAt, .count = 1});
          break;
        default:
          r.drop<Pairing>("P" + std::to_string(1 + below(3)));
      }
    });
  }

  CommandId some_command() { return 1 + below(static_cast<int>(book_.commands().size())); }
  int below(int limit) { return static_cast<int>(random_() % static_cast<unsigned>(limit)); }

 private:
  std::string name() { return std::string(1, static_cast<char>('a' + below(4))); }
  std::string sowing() {
    const auto all = book_.all<Sowing>();
    return all.empty() ? "S999" : all[static_cast<std::size_t>(below(int(all.size())))].id;
  }

  static inline const Instant kAt = instant("2027-03-01T00:00:00Z");
  Book& book_;
  std::mt19937 random_;
};

struct Tally {
  int recorded = 0;
  int undone = 0;
  int restored = 0;
  int refused = 0;
};

void record_one(Book& book, RandomGrower& grower, Ledger& ledger, Tally& tally) {
  const State before = state_of(book);
  if (refusal([&] { grower.record(); }).empty()) {
    ledger.note(book, before);
    ++tally.recorded;
  } else {
    EXPECT_EQ(state_of(book), before);
  }
}

std::optional<CommandId> undone_by(const Book& book, CommandId id) {
  for (const CommandLine& line : book.commands())
    if (line.id == id) return line.undoes;
  return std::nullopt;
}

/// The original command at the bottom of a chain of undos, and whether undoing `id` restores it.
std::pair<CommandId, bool> bottom(const Book& book, CommandId id) {
  bool restores = false;
  while (const auto below = undone_by(book, id)) {
    id = *below;
    restores = !restores;
  }
  return {id, restores};
}

void undo_one(Book& book, RandomGrower& grower, Ledger& ledger, Tally& tally) {
  const State before = state_of(book);
  const CommandId id = grower.some_command();
  const auto [original, restores] = bottom(book, id);
  if (!ledger.knows(original)) return;
  const std::string code = refusal([&] { book.undo(instant("2027-03-01T00:00:00Z"), id); });
  if (code.empty()) {
    ledger.set_counts(original, restores);
    ++(restores ? tally.restored : tally.undone);
    EXPECT_TRUE(holds_together(state_of(book)));
  } else {
    EXPECT_EQ(state_of(book), before);
    ++tally.refused;
  }
  if (id == original && code == "stands-on-it") {  // and only then
    EXPECT_TRUE(ledger.overwritten(id) || !holds_together(ledger.replay(id)));
  }
}

class UndoAtRandom : public BookTest, public testing::WithParamInterface<unsigned> {};

TEST_P(UndoAtRandom, leaves_just_what_the_commands_that_count_would_write) {
  Book book = open();
  RandomGrower grower(book, GetParam());
  Ledger ledger;
  Tally tally;
  grower.record_names();
  ledger.note(book, {});
  for (int i = 0; i < 120; ++i) {
    if (grower.below(3) > 0) {
      record_one(book, grower, ledger, tally);
    } else if (!book.commands().empty()) {
      undo_one(book, grower, ledger, tally);
    }
    ASSERT_EQ(state_of(book), ledger.replay()) << "seed " << GetParam() << ", step " << i;
  }
  EXPECT_GT(tally.recorded, 20);
  EXPECT_GT(tally.undone, 1);
  EXPECT_GT(tally.refused, 1);
}

TEST_P(UndoAtRandom, of_everything_empties_the_book_and_of_that_restores_it_exactly) {
  Book book = open();
  RandomGrower grower(book, GetParam());
  Ledger ledger;
  Tally tally;
  grower.record_names();
  for (int i = 0; i < 60; ++i) record_one(book, grower, ledger, tally);
  const State full = state_of(book);
  ASSERT_GT(full.size(), 10u);
  std::vector<CommandId> undos;
  for (const CommandLine& line : book.commands()) undos.push_back(book.undo(kNow, line.id).undo);
  EXPECT_TRUE(state_of(book).empty());
  for (auto undo = undos.rbegin(); undo != undos.rend(); ++undo) book.undo(kNow, *undo);
  EXPECT_EQ(state_of(book), full);
  EXPECT_TRUE(book.complaints().empty());
}

INSTANTIATE_TEST_SUITE_P(Seeds, UndoAtRandom, testing::Range(1u, 7u));

}  // namespace
}  // namespace takehold::client
