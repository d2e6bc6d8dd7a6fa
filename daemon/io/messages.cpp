#include "daemon/io/messages.hpp"

#include <nlohmann/json.hpp>

#include "daemon/healing/asks.hpp"
#include "daemon/io/occupant_batch.hpp"
#include "daemon/watch/silence.hpp"
#include "sensors/air/psychrometrics.hpp"

namespace takehold::daemon {

using sensors::Instant;

namespace {

const char* kind_of(const ProbeSettings& probe) {
  constexpr const char* kKinds[] = {"push", "serial", "http", "file"};
  return kKinds[probe.source.index()];
}

/// The mean of what the chamber's trusted probes tell of it now.
template <class Q>
std::optional<Q> mean_of(const Keeper& keeper, Instant now,
                         std::optional<Q> sensors::Extras::*quantity) {
  double sum = 0;
  int count = 0;
  for (const auto& probe : keeper.settings().probes) {
    const auto& last = keeper.probes().at(probe.name).last;
    if (!probe.in_chamber() || !last || last->quality != sensors::Quality::good) continue;
    if (now - last->at > Silence::limit_for(probe.every) || !(last->extras.*quantity)) continue;
    sum += number_of(*(last->extras.*quantity));
    ++count;
  }
  if (count == 0) return std::nullopt;
  return quantity_of<Q>(sum / count);
}

AirMessage air_message(const Keeper& keeper, Instant now) {
  const Air air = keeper.chamber().watch().air(now);
  AirMessage message;
  message.temperature = air.temperature;
  message.humidity = air.humidity;
  for (const auto& probe : keeper.settings().probes) {
    const auto& known = keeper.probes().at(probe.name).last_good_at;
    if (probe.in_chamber() && known && (!message.at || *known > *message.at)) message.at = known;
  }
  using sensors::Extras;
  message.extras = {mean_of(keeper, now, &Extras::leaf_temperature),
                    mean_of(keeper, now, &Extras::co2), mean_of(keeper, now, &Extras::light)};
  if (!air.temperature || !air.humidity) return message;
  const auto state = sensors::state_of_air(*air.temperature, *air.humidity);
  message.vapour_pressure = state.vapour;
  message.vapour_deficit = state.deficit;
  message.dew_point = state.dew_point;
  if (const auto& leaf = message.extras.leaf_temperature) {
    message.leaf_vapour_deficit =
        sensors::leaf_vapour_pressure_deficit(*leaf, *air.temperature, *air.humidity);
  }
  return message;
}

template <class Q>
std::optional<Band<Q>> band_of(const std::optional<SharedBand<Q>>& shared) {
  if (!shared) return std::nullopt;
  return shared->band;
}

/// What the chamber is asked for now, and whether a batch's last band is only kept.
void put_asks(const Chamber& chamber, Instant now, StatusMessage& status) {
  std::vector<BatchAsks> all;
  for (const auto& [batch, stage] : chamber.inside(now)) {
    auto [asks, kept] = chamber_asks(batch->regime, stage);
    status.kept = status.kept || kept;
    for (const auto& task : asks_of(batch->regime, stage).tasks) {
      status.asks.tasks.push_back(batch->label + ": " + task);
    }
    all.push_back({batch->label, batch->entered_at, std::move(asks)});
  }
  const auto shared = shared_asks(all);
  status.asks.temperature = band_of(shared.temperature);
  status.asks.humidity = band_of(shared.humidity);
  status.asks.vapour_deficit = band_of(shared.vapour_deficit);
  status.asks.light = band_of(shared.light);
}

}  // namespace

std::string json_text(const nlohmann::json& json) {
  return json.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

StatusMessage status_message(const Keeper& keeper, Instant now) {
  StatusMessage status;
  status.program = kProgram;
  status.schema = keeper.log().schema_version();
  status.at = now;
  status.started_at = keeper.started_at();
  status.chamber = keeper.settings().chamber_name;
  status.row = keeper.log().last_row();
  status.air = air_message(keeper, now);
  if (const auto& trouble = keeper.trouble()) {
    status.log = {false, trouble->since, trouble->error, std::int64_t(trouble->waiting),
                  trouble->given_up};
  }
  put_asks(keeper.chamber(), now, status);
  for (const auto& probe : keeper.settings().probes) {
    ProbeMessage message{probe.name,
                         probe.place,
                         kind_of(probe),
                         std::nullopt,
                         probe.calibration.done_on,
                         probe.calibration.due_on};
    const auto& known = keeper.probes().at(probe.name);
    if (known.last) message.last = reading_message(PollResult{*known.last, known.error});
    status.probes.push_back(std::move(message));
  }
  status.occupants = occupant_messages(keeper.chamber(), now);
  for (const auto& warning : keeper.chamber().watch().warnings()) {
    if (warning.standing()) status.warnings.push_back(warning_message(warning));
  }
  return status;
}

std::vector<OccupantMessage> occupant_messages(const Chamber& chamber, Instant now) {
  std::vector<OccupantMessage> messages;
  for (const auto& [batch, stage] : chamber.inside(now)) {
    messages.push_back(occupant_message(batch->label, body_of(*batch), now));
    if (!batch->from_settings()) continue;
    messages.back().book.reset();
    messages.back().revision.reset();
  }
  return messages;
}

WarningMessage warning_message(const Warning& warning) {
  WarningMessage message;
  message.id = warning.id();
  message.kind = to_string(warning.kind);
  message.cause = to_string(warning.cause);
  message.probe = warning.probe;
  message.about = warning.about;
  message.raised_at = warning.raised_at;
  message.cleared_at = warning.cleared_at;
  message.acknowledged_at = warning.acknowledged_at;
  message.shelved_until = warning.shelved_until;
  message.breach_at = warning.breach_at;
  if (warning.follows) message.follows = "W" + std::to_string(*warning.follows);
  message.text = warning.text;
  return message;
}

EventMessage event_message(const Event& event) {
  EventMessage message;
  message.at = event.at;
  message.event = to_string(event.type);
  message.about = event.about;
  message.text = event.text;
  if (!event.warning) return message;
  message.id = event.warning->id();
  message.kind = to_string(event.warning->kind);
  message.cause = to_string(event.warning->cause);
  message.probe = event.warning->probe;
  message.about = event.warning->about;
  message.breach_at = event.warning->breach_at;
  if (event.warning->follows) message.follows = "W" + std::to_string(*event.warning->follows);
  return message;
}

ReadingMessage reading_message(const PollResult& result) {
  auto message = reading_message(result.reading);
  if (!result.error.empty()) message.error = result.error;
  return message;
}

}  // namespace takehold::daemon
