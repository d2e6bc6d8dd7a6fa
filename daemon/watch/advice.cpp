#include "daemon/watch/advice.hpp"

namespace takehold::daemon {

// What to look for is common practice; that water in the cut harms is published (docs/safety.md).
std::string advice(Cause cause) {
  switch (cause) {
    case Cause::drying:
      return "Water leaves while the warmth is as usual: the humidifier is empty, off or blocked, "
             "or air leaks. First refill it and see that it mists.";
    case Cause::warming:
      return "The air gets warmer: the heater does not stop, or sun or lamps heat it. First stop "
             "the heat and shade; keep it shut.";
    case Cause::cooling:
      return "The air loses its warmth: the heater is off, unplugged or broken. First see that it "
             "heats.";
    case Cause::opened:
      return "Warmth or water goes to the room faster than usual: a door or lid is not shut. First "
             "shut it.";
    case Cause::saturated:
      return "Water gathers: the humidifier does not stop, or too much was sprayed. First stop it "
             "and air for a moment, for water must not stand in the cut.";
    case Cause::cycling:
      return "The ordinary to and fro crosses the limit; this is said once.";
    case Cause::unknown:
      return "Why cannot be told: look inside.";
    case Cause::silent:
      return "First look at its cable, its power and its address.";
    case Cause::stuck:
    case Cause::range:
      return "First unplug it and plug it in again; then change it.";
    case Cause::jumping:
      return "First look for a loose contact or a cable beside mains.";
    case Cause::wet:
      return "First shake off the drop and hang it out of the mist.";
    case Cause::disagrees:
      return "First hang both side by side; a third probe would tell which is wrong.";
  }
  return "";
}

}  // namespace takehold::daemon
