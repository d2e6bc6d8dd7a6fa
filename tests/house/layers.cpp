#include "tests/house/layers.hpp"

#include <map>
#include <optional>
#include <set>

#include "tests/house/source_tree.hpp"

namespace takehold::house {
namespace {

using Names = std::set<std::string>;

const Names kOpenFolders = {"api", "healing", "http", "store", "toml"};

// A folder of the client -> the folders of the client that it may include besides itself.
const std::map<std::string, Names> kClientOrder = {
    {"season", {}},
    {"growth", {"season"}},
    {"match", {"season"}},
    {"takes", {"season"}},
    {"plan", {"growth", "match", "takes", "season"}},
    {"forecast", {"plan", "growth", "match", "takes", "season"}},
    {"book", {"season"}},
    {"terminal", {"plan", "growth", "match", "takes", "season"}},
    {"print", {"plan", "growth", "match", "takes", "season"}},
    {"link", {"plan", "growth", "match", "takes", "season"}},
    {"command",
     {"book", "link", "terminal", "print", "forecast", "plan", "growth", "match", "takes",
      "season"}},
};

struct Place {
  std::string layer;   // sensors, daemon, client
  std::string folder;  // empty for a file straight in the layer: a main
};

Place place_of(const std::string& path) {
  const auto first = path.find('/');
  const auto second = path.find('/', first + 1);
  Place place{path.substr(0, first), ""};
  if (second != std::string::npos) place.folder = path.substr(first + 1, second - first - 1);
  return place;
}

bool is_main(const std::string& file) {
  return file.ends_with("main.cpp");
}

bool is_layer(const std::string& name) {
  return name == "sensors" || name == "daemon" || name == "client";
}

int height(const std::string& layer) {
  return layer == "client" ? 2 : layer == "daemon" ? 1 : 0;
}

std::optional<std::string> daemon_breach(const Place& from, const Place& to) {
  if (from.layer == "client" && !kOpenFolders.contains(to.folder)) {
    return "from daemon/ the client takes only store, toml, http, healing and api";
  }
  if (from.layer == "daemon" && kOpenFolders.contains(from.folder) &&
      !kOpenFolders.contains(to.folder)) {
    return "an open folder of daemon/ would carry a closed one into the client";
  }
  return std::nullopt;
}

std::optional<std::string> client_breach(const Place& from, const Place& to) {
  if (from.folder.empty()) return std::nullopt;  // main
  const auto order = kClientOrder.find(from.folder);
  if (order == kClientOrder.end()) return "client/" + from.folder + " has no place in the order";
  if (from.folder == to.folder || order->second.contains(to.folder)) return std::nullopt;
  return "client/" + from.folder + " may not look at client/" + to.folder;
}

std::optional<std::string> order_breach(const Include& include) {
  const Place from = place_of(include.file);
  const Place to = place_of(include.target);
  if (!is_layer(to.layer)) return std::nullopt;
  if (height(to.layer) > height(from.layer)) return from.layer + " looks up at " + to.layer;
  if (to.layer == "daemon") return daemon_breach(from, to);
  if (to.layer == "client") return client_breach(from, to);
  return std::nullopt;
}

// A library that is kept in its place: how its headers begin, and who may include them.
struct Kept {
  std::string library;
  std::vector<std::string> headers;
  std::vector<std::string> allowed;  // beginnings of paths
  bool mains = false;                // any main.cpp too
};

const std::vector<Kept> kKept = {
    {"SQLite",
     {"SQLiteCpp/", "sqlite3.h", "daemon/store/"},
     {"daemon/store/", "daemon/log/", "client/book/"},
     true},
    {"Asio and Beast",
     {"boost/asio", "boost/beast"},
     {"daemon/io/", "daemon/http/", "sensors/sim/probe_sim"},
     true},
    {"CLI11", {"CLI/"}, {"client/command/"}, true},
    {"curses", {"curses.h", "ncurses", "ncursesw/"}, {"client/terminal/"}, false},
};

bool begins_with_any(const std::string& text, const std::vector<std::string>& beginnings) {
  for (const auto& beginning : beginnings) {
    if (text.starts_with(beginning)) return true;
  }
  return false;
}

std::optional<std::string> library_breach(const Include& include) {
  for (const auto& kept : kKept) {
    if (!begins_with_any(include.target, kept.headers)) continue;
    if (begins_with_any(include.file, kept.allowed)) continue;
    if (kept.mains && is_main(include.file)) continue;
    return kept.library + (kept.library.find(" and ") == std::string::npos ? " is" : " are") +
           " kept out of this folder";
  }
  return std::nullopt;
}

using Graph = std::map<std::string, std::vector<Include>>;

// What `file` sees through the headers it includes; returns the include that brings SQLite, if any.
std::optional<Include> sees_sqlite(const Graph& graph, const std::string& file, Names& visited) {
  if (!visited.insert(file).second || !graph.contains(file)) return std::nullopt;
  for (const auto& include : graph.at(file)) {
    if (begins_with_any(include.target, kKept.front().headers)) return include;
    if (const auto found = sees_sqlite(graph, include.target, visited)) return found;
  }
  return std::nullopt;
}

void add_plan_breaches(const std::vector<Include>& includes, std::vector<std::string>& breaches) {
  Graph graph;
  for (const auto& include : includes) graph[include.file].push_back(include);
  for (const auto& [file, own] : graph) {
    if (!file.starts_with("client/plan/")) continue;
    Names visited;
    if (const auto found = sees_sqlite(graph, file, visited)) {
      breaches.push_back(file + ": plan sees SQLite through " + found->file);
    }
  }
}

}  // namespace

std::vector<std::string> layer_breaches(const std::filesystem::path& root) {
  std::vector<std::string> breaches;
  const auto includes = includes_of(root);
  for (const auto& include : includes) {
    const auto at = include.file + ":" + std::to_string(include.line) + ": ";
    if (const auto why = order_breach(include)) breaches.push_back(at + *why);
    if (const auto why = library_breach(include)) breaches.push_back(at + *why);
  }
  add_plan_breaches(includes, breaches);
  return breaches;
}

}  // namespace takehold::house
