// add, list, show, edit and drop, the same for every noun that is edited one at a time.
#pragma once

#include <fmt/format.h>

#include <functional>
#include <memory>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "client/book/recorder.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/noun_options.hpp"
#include "client/season/field_json.hpp"
#include "client/terminal/table.hpp"

namespace takehold::client {

/// What differs between the nouns.
template <class T>
struct NounWays {
  std::string word{};                ///< "lot": what the command is called, too
  std::string key_help;              ///< of the positional argument
  std::set<std::string_view> fixed;  ///< fields that the key says and no option changes
  std::string example_add;           ///< what stands behind "add " in the help
  std::string example_key;           ///< a key in the help
  std::function<T(const Book&, const std::string&)> started;  ///< a new one; refuses a known key
  std::function<T(const Book&, const std::string&)> found;
  std::function<void(const T&)> check;  ///< bounds; throws Refused
  std::function<Table(const Book&, const std::vector<T>&)> table;
  std::function<void(const Book&, const T&, nlohmann::json&)> enrich;  ///< adds to the JSON
};

/// "out-of-range" with the option's name, unless it holds.
void require_range(bool holds, std::string_view field, std::string_view range);

/// The value as people read it: "unknown" for null, text without quotes.
std::string field_text(const nlohmann::json& value);

template <class T>
class NounCommands {
 public:
  explicit NounCommands(NounWays<T> ways) : ways_(std::move(ways)) {}

  void add_to(CommandTree& tree, CLI::App& parent) const {
    add_adding(tree, parent);
    add_editing(tree, parent);
    add_listing(tree, parent);
    add_showing(tree, parent);
    add_dropping(tree, parent);
  }

 private:
  struct Words {
    std::string key;
    NounOptions<T> options;
    bool history = false;
  };

  Teaching teaching(const std::string& verb, const std::string& brief,
                    const std::string& behind) const {
    return {"", brief, "", ways_.word + " " + verb + (behind.empty() ? "" : " " + behind)};
  }

  nlohmann::json record(const Book& book, const T& noun, sensors::Instant entered_at) const {
    nlohmann::json json = to_json(noun);
    json["entered_at"] = sensors::to_string(entered_at);
    if (ways_.enrich) ways_.enrich(book, noun, json);
    return json;
  }

  void tell(Context& context, const Book& book, const T& noun, const std::string& what) const {
    context.out.line(what);
    context.out.document({{"records", {record(book, noun, context.now)}}});
  }

  void add_adding(CommandTree& tree, CLI::App& parent) const {
    CLI::App& app = tree.command_under(parent, "add",
                                       teaching("add", "a new " + ways_.word, ways_.example_add));
    const auto words = std::make_shared<Words>();
    app.add_option("NAME", words->key, ways_.key_help)->required();
    words->options.add_to(app, ways_.fixed);
    tree.action(app, [words, ways = ways_, self = *this](Context& context) {
      Book book = open_book(context, BookUse::recording);
      T noun = ways.started(book, words->key);
      words->options.apply(book, noun);
      ways.check(noun);
      self.put(context, book, ways.word + " add " + words->key, noun, true);
      self.tell(context, book, noun, "Added " + ways.word + " " + noun.key() + ".");
    });
  }

  void add_editing(CommandTree& tree, CLI::App& parent) const {
    CLI::App& app =
        tree.command_under(parent, "edit",
                           teaching("edit", "changes one; earlier versions stay in --history",
                                    ways_.example_key + " ..."));
    const auto words = std::make_shared<Words>();
    app.add_option("NAME", words->key, ways_.key_help)->required();
    words->options.add_to(app, ways_.fixed);
    tree.action(app, [words, ways = ways_, self = *this](Context& context) {
      if (!words->options.any_typed()) {
        throw WrongUsage({"nothing-to-change", "nothing to change was named", "", "",
                          "see takehold " + ways.word + " edit --help"});
      }
      Book book = open_book(context, BookUse::reading);
      T noun = ways.found(book, words->key);
      const T before = noun;
      words->options.apply(book, noun);
      ways.check(noun);
      self.put(context, book, ways.word + " edit " + words->key, noun, false);
      self.tell(context, book, noun,
                noun == before ? ways.word + " " + noun.key() + " was so already."
                               : "Changed " + ways.word + " " + noun.key() + ".");
    });
  }

  void put(Context& context, Book& book, const std::string& words, T& noun, bool is_new) const {
    book.record(words, context.now, [&](Recorder& recorder) {
      if constexpr (requires { noun.id; }) {
        if (is_new) noun.id = recorder.next_number(T::kKind);
      }
      recorder.put(noun);
    });
  }

  void add_listing(CommandTree& tree, CLI::App& parent) const {
    CLI::App& app = tree.command_under(parent, "list", teaching("list", "all of them", ""));
    tree.action(app, [ways = ways_, self = *this](Context& context) {
      const Book book = open_book(context, BookUse::reading);
      nlohmann::json list = nlohmann::json::array();
      for (const auto& recorded : book.records<T>()) {
        list.push_back(self.record(book, recorded.noun, recorded.entered_at));
      }
      const auto all = book.all<T>();
      context.out.text(all.empty() ? "There is no " + ways.word + " yet.\n"
                                   : ways.table(book, all).text(context.out.style()));
      context.out.document({{"records", std::move(list)}});
    });
  }

  void add_showing(CommandTree& tree, CLI::App& parent) const {
    CLI::App& app = tree.command_under(
        parent, "show", teaching("show", "one, with all that is known", ways_.example_key));
    const auto words = std::make_shared<Words>();
    app.add_option("NAME", words->key, ways_.key_help)->required();
    app.add_flag("--history", words->history, "earlier versions too, oldest first");
    tree.action(app, [words, ways = ways_, self = *this](Context& context) {
      const Book book = open_book(context, BookUse::reading);
      const std::string key = words->history ? self.key_even_if_gone(book, words->key)
                                             : ways.found(book, words->key).key();
      auto versions = book.history<T>(key);
      if (!words->history) versions.erase(versions.begin(), versions.end() - 1);
      nlohmann::json list = nlohmann::json::array();
      for (const auto& version : versions) {
        list.push_back(self.record(book, version.noun, version.entered_at));
        if (words->history) list.back()["gone"] = version.gone;
        self.print(context, book, version, list.back());
      }
      context.out.document({{"records", std::move(list)}});
    });
  }

  /// A noun that was dropped has a history still, under its whole key.
  std::string key_even_if_gone(const Book& book, const std::string& typed) const {
    if (!book.history<T>(typed).empty()) return typed;
    return ways_.found(book, typed).key();
  }

  void print(Context& context, const Book& book, const Version<T>& version,
             const nlohmann::json& json) const {
    Table table({{""}, {""}});
    auto add = [&](const Field& f, const auto&) {
      table.add({std::string(f.name), field_text(json[std::string(f.name)])});
    };
    visit_fields(add, version.noun);
    if (json.contains("on_hand")) table.add({"on hand", field_text(json["on_hand"])});
    table.add({"entered", book.time_zone().local_text(version.entered_at)});
    context.out.text(table.text(context.out.style()));
    context.out.line(version.gone ? "then dropped or taken back\n" : "");
  }

  void add_dropping(CommandTree& tree, CLI::App& parent) const {
    CLI::App& app = tree.command_under(
        parent, "drop",
        teaching("drop", "lets one stand no longer; refused while records name it",
                 ways_.example_key));
    const auto words = std::make_shared<Words>();
    app.add_option("NAME", words->key, ways_.key_help)->required();
    tree.action(app, [words, ways = ways_, self = *this](Context& context) {
      Book book = open_book(context, BookUse::reading);
      const T noun = ways.found(book, words->key);
      const nlohmann::json json = self.record(book, noun, context.now);
      book.record(ways.word + " drop " + words->key, context.now,
                  [&](Recorder& recorder) { recorder.drop<T>(noun.key()); });
      context.out.line("Dropped " + ways.word + " " + noun.key() +
                       ". `takehold undo` brings it back.");
      context.out.document({{"records", {json}}});
    });
  }

  NounWays<T> ways_;
};

/// The noun's command, called as the noun's kind, with all of these under it.
template <class T>
CLI::App& add_noun(CommandTree& tree, const Teaching& teaching, NounWays<T> ways) {
  ways.word = kind_name(T::kKind);
  CLI::App& app = tree.command(ways.word, teaching);
  NounCommands<T>(std::move(ways)).add_to(tree, app);
  return app;
}

}  // namespace takehold::client
