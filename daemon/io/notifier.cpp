#include "daemon/io/notifier.hpp"

#include <spdlog/spdlog.h>

#include <nlohmann/json.hpp>

#include "daemon/http/async_exchange.hpp"
#include "daemon/http/secret_file.hpp"
#include "daemon/io/child_program.hpp"
#include "daemon/io/messages.hpp"
#include "daemon/watch/letter.hpp"

namespace takehold::daemon {

using namespace std::chrono_literals;

namespace {

std::chrono::minutes clock_of(sensors::Instant at) {
  const std::time_t seconds =
      std::chrono::floor<std::chrono::seconds>(at).time_since_epoch().count();
  std::tm local{};
  ::localtime_r(&seconds, &local);
  return std::chrono::minutes(local.tm_hour * 60 + local.tm_min);
}

/// What quiet hours never silence: air outside its band or soon out of it, and no probe left that
/// speaks.
bool cannot_wait(const Event& event, const Keeper& keeper) {
  if (!event.warning || event.type != EventType::warning) return false;
  if (event.warning->kind == WarningKind::outside) return true;
  if (event.warning->breach_at && *event.warning->breach_at - event.at < 15min) return true;
  std::size_t silent = 0;
  for (const auto& warning : keeper.chamber().watch().warnings()) {
    silent += warning.standing() && warning.cause == Cause::silent;
  }
  return silent >= keeper.settings().probes.size();
}

awaitable<Delivery> post_to(WebhookNotify server, std::string body) {
  const auto address = HttpAddress::parse(server.url);
  if (!address) co_return address.error().sentence();
  HttpRequest request;
  request.method = "POST";
  request.target = address->target;
  request.headers = {{"Content-Type", "application/json"}};
  request.body = std::move(body);
  if (!server.token_file.empty()) {
    const auto secret = read_secret(server.token_file);
    if (!secret) co_return secret.error().sentence();
    request.headers.emplace_back("Authorization", "Bearer " + *secret);
  }
  HttpLimits limits;
  limits.connect = 10s;
  limits.total = 20s;
  limits.ca_file = server.ca_file.string();
  const auto answer = co_await async_exchange(address->endpoint, request, limits);
  if (!answer) co_return answer.error().sentence();
  if (answer->status / 100 == 2) co_return "";
  co_return "the server answers " + std::to_string(answer->status);
}

/// The letter that tells an event, from the event's JSON.
std::string letter_of(const MailNotify& mail, const std::string& body) {
  const auto json = nlohmann::json::parse(body);
  const auto text = json.value("text", "");
  const bool over = json.value("event", "") == "cleared";
  Letter letter;
  letter.from = mail.from;
  letter.to = mail.to;
  const auto at = sensors::parse_instant(json.value("at", ""));
  letter.at = at ? *at : wall_clock();
  letter.subject = (over ? "over: " : "") + text.substr(0, text.find(". "));
  letter.text = text;
  const auto id =
      json.contains("id") && json["id"].is_string() ? json["id"].get<std::string>() : "";
  letter.about = id + "." + json.value("event", "");
  if (!id.empty()) letter.text += "\n\nTo say that you saw it: takehold seen " + id;
  return to_message(letter);
}

/// The body of a parcel; of a flood, with how many it stands for.
std::string body_of(const Courier::Parcel& parcel) {
  if (parcel.count == 1) return parcel.body;
  auto body = nlohmann::json::parse(parcel.body);
  body["stands_for"] = parcel.count;
  body["text"] = std::to_string(parcel.count) + " events since " +
                 sensors::to_string(parcel.since) +
                 "; the newest: " + body["text"].get<std::string>();
  return body.dump() + "\n";
}

constexpr auto kRemindEvery = 15min;

bool wants_reminding(const Warning& warning, sensors::Instant now) {
  const bool put_off = warning.shelved_until && *warning.shelved_until > now;
  return warning.standing() && warning.grade == Grade::dangerous && !warning.acknowledged_at &&
         !put_off;
}

}  // namespace

awaitable<Delivery> deliver(const NotifySettings& notify, std::string body) {
  if (const auto* server = std::get_if<WebhookNotify>(&notify.how)) {
    co_return co_await post_to(*server, std::move(body));
  }
  const auto* mail = std::get_if<MailNotify>(&notify.how);
  if (mail != nullptr) body = letter_of(*mail, body);
  const auto& command = mail ? mail->command : std::get<CommandNotify>(notify.how).command;
  const int status = co_await run_program(command, std::move(body), 30s);
  if (status == 0) co_return "";
  co_return command.front() + " ended with status " + std::to_string(status);
}

Notifiers::Notifiers(asio::io_context& context, const Settings& settings, Keeper& keeper)
    : context_(context), settings_(settings), keeper_(keeper) {
  if (settings.alive) asio::co_spawn(context, be_alive(), asio::detached);
  if (settings.notify.empty()) return;
  keeper.on_round([this](const LoggedRound& round) { tell(round); });
  for (const auto& notify : settings.notify) {
    posts_.emplace_back(notify, context);
    asio::co_spawn(context, work(posts_.back()), asio::detached);
  }
  asio::co_spawn(context, remind(), asio::detached);
}

void Notifiers::tell(const LoggedRound& round) {
  for (const auto& [row, event] : round.events) {
    const bool put_off =
        event.warning && event.warning->shelved_until && *event.warning->shelved_until > event.at;
    if (!put_off) offer(event, wall_clock());
  }
}

void Notifiers::offer(const Event& event, sensors::Instant now) {
  const auto text = json_text(event_message(event)) + "\n";
  for (auto& post : posts_) {
    const auto& quiet = post.settings.quiet;
    if (quiet && quiet->holds(clock_of(event.at)) && !cannot_wait(event, keeper_)) continue;
    post.courier.offer(text, now);
    post.bell.cancel();
  }
}

awaitable<void> Notifiers::work(Post& post) {
  while (true) {
    const auto now = wall_clock();
    if (const auto* parcel = post.courier.due(now)) {
      const Delivery trouble = co_await deliver(post.settings, body_of(*parcel));
      if (!trouble.empty()) spdlog::warn("notify: {}: {}", post.settings.where, trouble);
      post.courier.sent(trouble.empty(), wall_clock());
      continue;
    }
    const auto next = post.courier.next();
    post.bell.expires_after(next ? std::max<std::chrono::milliseconds>(*next - now, 10ms) : 1h);
    co_await post.bell.async_wait(kNoThrow);
  }
}

awaitable<void> Notifiers::remind() {
  asio::steady_timer timer(context_);
  auto last = wall_clock();
  while (true) {
    timer.expires_after(30s);
    co_await timer.async_wait(kNoThrow);
    const auto now = wall_clock();
    for (const auto& warning : keeper_.chamber().watch().warnings()) {
      const auto times = (now - warning.raised_at) / kRemindEvery;
      const auto before = (last - warning.raised_at) / kRemindEvery;
      if (times == before || !wants_reminding(warning, now)) continue;
      Event event{now, EventType::warning, warning, "", "still: " + warning.text};
      event.warning->text = event.text;
      offer(event, now);
    }
    last = now;
  }
}

awaitable<void> Notifiers::be_alive() {
  asio::steady_timer timer(context_);
  while (true) {
    const nlohmann::json body{{"alive", settings_.chamber_name},
                              {"at", sensors::to_string(wall_clock())}};
    const Delivery trouble = co_await post_to(settings_.alive->to, body.dump() + "\n");
    if (!trouble.empty()) spdlog::warn("alive: {}", trouble);
    timer.expires_after(settings_.alive->every);
    co_await timer.async_wait(kNoThrow);
  }
}

}  // namespace takehold::daemon
