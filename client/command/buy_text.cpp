#include "client/command/buy_text.hpp"

#include <fmt/format.h>

#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

constexpr double kLittle = 0.05;  // of a plant, more in all seasons' mean

/// "Of IF-26, 1 packet (10 seeds, 9.00) gains 2.1 plants; 2 (20 seeds, 18.00) 3.4."
std::string packets_text(const SeedPurchase& purchase) {
  std::string text = "Of " + purchase.lot.value_or(purchase.variety) + ",";
  int count = 0;
  for (const PacketGain& packet : purchase.packets) {
    ++count;
    text += fmt::format(
        "{}{} ({}{}) {}{:.1f}{}", count == 1 ? " " : "; ",
        count == 1 ? "1 packet" : std::to_string(count), counted(packet.seeds, "seed", "seeds"),
        packet.price ? fmt::format(", {:.2f}", *packet.price) : "", count == 1 ? "gains " : "",
        packet.plants_gained, count == 1 ? " plants" : "");
  }
  return text + ".";
}

}  // namespace

std::string buy_text(const SeasonPlan& plan, const TerminalStyle& style) {
  Table table({{"to buy"},
               {"lot"},
               {"seeds", Align::right},
               {"plants gained", Align::decimal},
               {"price", Align::decimal}});
  std::string packets;
  for (const SeedPurchase& purchase : plan.buy) {
    table.add({purchase.variety, purchase.lot.value_or("any"), std::to_string(purchase.seeds),
               purchase.plants_gained < kLittle ? "under 0.1" : fixed(purchase.plants_gained, 1),
               purchase.price ? fixed(*purchase.price, 2) : "unknown"});
    if (!purchase.packets.empty()) packets += wrapped(packets_text(purchase), style.width) + "\n";
  }
  return table.text(style) + packets;
}

}  // namespace takehold::client
