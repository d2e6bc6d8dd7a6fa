#include "daemon/page/page_files.hpp"

#include <openssl/evp.h>

#include <array>
#include <stdexcept>
#include <string>

#include "daemon/page/page.hpp"
#include "embedded/page.hpp"

namespace takehold::daemon {

namespace {

std::string_view file(std::string_view name) {
  for (const auto& one : embedded::page) {
    if (one.name == name) return one.text;
  }
  throw std::logic_error("not embedded");
}

/// 'sha256-...' as a policy names what may stand in the page.
std::string hash_of(std::string_view text) {
  std::array<unsigned char, 32> digest{};
  ::EVP_Digest(text.data(), text.size(), digest.data(), nullptr, ::EVP_sha256(), nullptr);
  std::array<unsigned char, 45> base64{};
  ::EVP_EncodeBlock(base64.data(), digest.data(), digest.size());
  return "'sha256-" + std::string(base64.begin(), base64.end() - 1) + "'";
}

}  // namespace

std::string_view page_style() {
  return file("page.css");
}
std::string_view page_script() {
  return file("page.js");
}

const std::string& page_policy() {
  static const std::string policy = "default-src 'none'; style-src " + hash_of(page_style()) +
                                    "; script-src " + hash_of(page_script()) +
                                    "; connect-src 'self'; img-src data:; base-uri 'none'; "
                                    "form-action 'none'; frame-ancestors 'none'";
  return policy;
}

}  // namespace takehold::daemon
