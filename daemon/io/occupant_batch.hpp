// Between a batch as it travels, as it is kept and as it is watched.
#pragma once

#include "daemon/api/occupant_message.hpp"
#include "daemon/log/records.hpp"
#include "daemon/watch/batch.hpp"

namespace takehold::daemon {

Batch batch_from(const std::string& label, const OccupantBody& body);
/// A record of the log was checked when it came; one that is damaged is thrown as Refused.
Batch batch_from(const OccupantRecord& record);
OccupantBody body_of(const Batch& batch);
OccupantRecord record_of(const Batch& batch);

}  // namespace takehold::daemon
