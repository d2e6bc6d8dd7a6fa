// A noun's fields as options of the command line, by their one description.
//
// `--year 2024`, `--role scion`: a field's name with "-" for "_". What is typed empty ("") takes a
// value away where it may be missing. Lists are not offered: none of the nouns edited has one.
#pragma once

#include <CLI/App.hpp>
#include <map>
#include <set>
#include <string>
#include <type_traits>

#include "client/command/context.hpp"
#include "client/command/opened_book.hpp"
#include "client/season/field.hpp"
#include "client/season/words.hpp"

namespace takehold::client {

/// "packet_seeds" -> "--packet-seeds"
std::string option_of_field(std::string_view name);

/// A typed value read as what the field is. Throws WrongUsage naming the option.
int whole_from(const std::string& text, const std::string& option);
double number_from(const std::string& text, const std::string& option);
sensors::Day day_from(const std::string& text, const std::string& option);
[[noreturn]] void refuse_choice(const std::string& text, const std::string& option,
                                const std::string& choices);
/// The full name of the variety, lot ... that was typed.
std::string reference_from(const Book& book, Kind kind, const std::string& text);

template <class M>
struct IsOptional : std::false_type {};
template <class M>
struct IsOptional<std::optional<M>> : std::true_type {};

template <class T>
class NounOptions {
 public:
  /// Offers every field of the sheet but those in `fixed`, which the noun's name already says.
  void add_to(CLI::App& app, const std::set<std::string_view>& fixed) {
    T sample{};
    auto offer = [&](const Field& f, const auto& member) {
      if (f.in_sheet && !fixed.contains(f.name)) {
        app.add_option(option_of_field(f.name), typed_[std::string(f.name)], about(member));
        app_ = &app;
      }
    };
    visit_fields(offer, sample);
  }

  bool any_typed() const {
    for (const auto& [name, text] : typed_) {
      if (is_typed(name)) return true;
    }
    return false;
  }

  /// Sets what was typed.
  void apply(const Book& book, T& noun) const {
    auto set = [&](const Field& f, auto& member) {
      const std::string name(f.name);
      if (!typed_.contains(name) || !is_typed(name)) return;
      const std::string& text = typed_.at(name);
      if constexpr (std::is_same_v<std::remove_cvref_t<decltype(member)>, std::string>) {
        member = f.refers ? reference_from(book, *f.refers, text) : text;
      } else if constexpr (std::is_same_v<std::remove_cvref_t<decltype(member)>,
                                          std::optional<std::string>>) {
        member = text.empty() ? std::nullopt
                 : f.refers   ? std::optional(reference_from(book, *f.refers, text))
                              : std::optional(text);
      } else {
        read(text, option_of_field(f.name), member);
      }
    };
    visit_fields(set, noun);
  }

 private:
  bool is_typed(const std::string& name) const {
    return app_ != nullptr && app_->get_option(option_of_field(name))->count() > 0;
  }

  template <class M>
  static void read(const std::string& text, const std::string& option, M& member) {
    if constexpr (IsOptional<M>::value) {
      if (text.empty()) {
        member.reset();
      } else {
        read(text, option, member.emplace());
      }
    } else if constexpr (std::is_enum_v<M>) {
      const auto value = from_text<M>(text);
      if (!value) refuse_choice(text, option, choices<M>());
      member = *value;
    } else if constexpr (std::is_same_v<M, int>) {
      member = whole_from(text, option);
    } else if constexpr (std::is_same_v<M, double>) {
      member = number_from(text, option);
    } else {
      static_assert(std::is_same_v<M, sensors::Day>);
      member = day_from(text, option);
    }
  }

  template <class M>
  static std::string about(const M&) {
    if constexpr (IsOptional<M>::value) {
      return about(typename M::value_type{});
    } else if constexpr (std::is_enum_v<M>) {
      return choices<M>();
    } else if constexpr (std::is_same_v<M, sensors::Day>) {
      return "a day, as 2027-04-12";
    } else if constexpr (std::is_same_v<M, int>) {
      return "a whole number";
    } else {
      return "";
    }
  }

  std::map<std::string, std::string> typed_;  // addresses must not move: options write into it
  CLI::App* app_ = nullptr;
};

}  // namespace takehold::client
