#include "sensors/sim/dice.hpp"

namespace takehold::sensors {

std::uint64_t Dice::next() {
  std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31);
}

double Dice::uniform() {
  return double(next() >> 11) * 0x1.0p-53;
}

double Dice::noise() {
  double sum = -6.0;
  for (int i = 0; i < 12; ++i) sum += uniform();
  return sum;
}

std::uint64_t mixed(std::uint64_t seed, std::uint64_t a, std::uint64_t b) {
  std::uint64_t key = Dice(seed).next();
  key = Dice(key ^ a).next();
  return Dice(key ^ b).next();
}

}  // namespace takehold::sensors
