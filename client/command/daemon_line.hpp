// What every command has to do with the daemon: find it, tell it what waits, ask it.
#pragma once

#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/command/context.hpp"
#include "client/link/link.hpp"

namespace takehold::client {

/// The daemon that --daemon, the environment, the setting or the usual places name, with the
/// setting's token over TCP. "bad-address", or what is wrong with the token's file.
sensors::Result<Link> link_of(const Context& context);
/// The same; refuses instead.
Link daemon_link(const Context& context);

/// Tries once to deliver what waits and writes down what came of it. Never refuses.
std::vector<DeliveryOutcome> deliver_waiting(Book& book, const Link& link);

/// At the end of a recording command: delivers, asks what batches that left went through, and says
/// in a note what still waits and why. Never refuses, for the record stands.
void tell_daemon(Context& context, Book& book);

/// At the start of a command that asks the daemon: the same, where there is a book at all.
void tell_daemon_of_book(Context& context);

/// The answer, or the refusal of a daemon that gave none.
template <class T>
T answered(const sensors::Result<T>& answer) {
  if (!answer) throw sensors::Refused(answer.error());
  return *answer;
}

}  // namespace takehold::client
