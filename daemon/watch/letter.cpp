#include "daemon/watch/letter.hpp"

#include <date/date.h>

#include <algorithm>
#include <sstream>

namespace takehold::daemon {

namespace {

constexpr std::size_t kLine = 76;
// An encoded word is at most 75 characters: 45 bytes of UTF-8 make 60 of them, and the marks 12.
constexpr std::size_t kWordBytes = 45;
constexpr std::size_t kSubject = 150;

bool is_plain(const std::string& text) {
  return std::all_of(text.begin(), text.end(), [](unsigned char c) { return c >= ' ' && c < 127; });
}

/// The end of a piece of at most `most` bytes that splits no character.
std::size_t cut(const std::string& text, std::size_t from, std::size_t most) {
  std::size_t end = std::min(text.size(), from + most);
  while (end < text.size() && end > from + 1 && (text[end] & 0xc0) == 0x80) --end;
  return end;
}

std::string base64(const std::string& bytes) {
  constexpr char kSigns[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    unsigned long three = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      three = three << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0u);
    }
    for (std::size_t k = 0; k < 4; ++k) {
      text += i + k <= bytes.size() ? kSigns[three >> (18 - 6 * k) & 63] : '=';
    }
  }
  return text;
}

/// RFC 2047: what is not plain goes as encoded words.
std::string head_text(std::string text) {
  std::replace_if(
      text.begin(), text.end(), [](unsigned char c) { return c < ' ' || c == 127; }, ' ');
  text.resize(cut(text, 0, kSubject));
  if (is_plain(text)) return text;
  std::string words;
  for (std::size_t i = 0; i < text.size();) {
    const auto end = cut(text, i, kWordBytes);
    words += (i == 0 ? "=?UTF-8?B?" : "\n =?UTF-8?B?") + base64(text.substr(i, end - i)) + "?=";
    i = end;
  }
  return words;
}

std::string wrapped(const std::string& text) {
  std::istringstream lines(text);
  std::string all, line;
  while (std::getline(lines, line)) {
    std::istringstream words(line);
    std::string word, row;
    while (words >> word) {
      if (!row.empty() && row.size() + 1 + word.size() > kLine) {
        all += row + "\n";
        row.clear();
      }
      row += (row.empty() ? "" : " ") + word;
    }
    all += row + "\n";
  }
  return all;
}

}  // namespace

std::string to_message(const Letter& letter) {
  const auto second = std::chrono::floor<std::chrono::seconds>(letter.at);
  std::string to;
  for (const auto& one : letter.to) to += (to.empty() ? "" : ",\n ") + one;
  std::string about = letter.about;
  std::replace_if(
      about.begin(), about.end(), [](unsigned char c) { return !std::isalnum(c) && c != '.'; },
      '-');
  return "From: " + letter.from + "\nTo: " + to + "\nSubject: " + head_text(letter.subject) +
         "\nDate: " + date::format("%a, %d %b %Y %H:%M:%S +0000", second) + "\nMessage-ID: <" +
         about + "." + date::format("%Y%m%dT%H%M%S", second) + ".chamberd." + letter.from +
         ">\nMIME-Version: 1.0\nContent-Type: text/plain; charset=utf-8\n"
         "Content-Transfer-Encoding: 8bit\nAuto-Submitted: auto-generated\n\n" +
         wrapped(letter.text);
}

}  // namespace takehold::daemon
