#include "client/command/front_door.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

constexpr const char* kGreeting =
    "Takehold is for growers who graft tomatoes. It says which day to sow each variety and how "
    "many "
    "seeds, so that rootstock and scion are equally thick on one day; who goes onto whom; whether "
    "the healing chamber is as the grafts need it; and, year by year, how often each pairing "
    "takes.";

struct Beginning {
  const char* command;
  const char* what;
};
constexpr Beginning kBeginnings[] = {
    {"takehold demo", "an invented season, told in a few screens"},
    {"takehold season new 2027.toml", "a sheet to fill in, every line explained"},
    {"takehold plan 2027.toml", "what that season asks: days, seeds, trays"},
    {"takehold season load 2027.toml", "makes your book of it"},
    {"takehold --help", "all commands; each has its own --help"},
};

void greet(Context& context) {
  Output& out = context.out;
  out.line(wrapped(kGreeting, out.style().width));
  out.line();
  nlohmann::json begin = nlohmann::json::array();
  for (const auto& [command, what] : kBeginnings) {
    out.line(fmt::format("  {:32}{}", command, what));
    begin.push_back(command);
  }
  out.line("\nThere is no book yet; it will be " + book_path(context));
  out.document({{"book", nullptr}, {"begin", std::move(begin)}});
}

}  // namespace

void front_door(Context& context) {
  std::filesystem::exists(book_path(context)) ? context.run_instead({"today"}) : greet(context);
}

}  // namespace takehold::client
