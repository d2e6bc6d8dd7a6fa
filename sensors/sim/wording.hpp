// How a simulated probe writes its values.
#pragma once

#include <string>

#include "sensors/codec/decoded.hpp"

namespace takehold::sensors {

enum class Wording {
  letters,    ///< T=24.31 H=96.20
  key_value,  ///< temperature=24.31 humidity=96.20
  json,       ///< {"temperature_degc":24.31,"humidity_pct":96.20}
};

/// Two decimals, no line end. A missing value is left out, in JSON null; extra values stand after
/// the air's, as L= C= Q= (leaf, carbon dioxide, light) or under the keys of sensors/codec.
std::string worded(const Decoded& says, Wording wording);

}  // namespace takehold::sensors
