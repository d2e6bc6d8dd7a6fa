// A user's pattern and a probe's line: the first line of the input is the pattern, the rest is fed
// in pieces.
#include <cstdlib>

#include "sensors/codec/line_decoder.hpp"
#include "sensors/codec/line_splitter.hpp"

using namespace takehold::sensors;

namespace {

void decode_all(const LineDecoder& decoder, std::string_view bytes) {
  LineSplitter splitter(decoder.max_line());
  constexpr std::size_t kPiece = 7;
  int tried = 0;
  for (std::size_t at = 0; at < bytes.size(); at += kPiece) {
    splitter.feed(bytes.substr(at, kPiece));
    while (const auto line = splitter.next()) {
      if (!line->has_value() || ++tried > 4) continue;  // a slow pattern is slow for each line
      const auto decoded = decoder.decode(**line);
      if (decoded && decoded->is_empty()) std::abort();
    }
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view input(reinterpret_cast<const char*>(data), size);
  const auto end = input.find('\n');
  const auto rest = end == std::string_view::npos ? input : input.substr(end + 1);
  const auto pattern = LineDecoder::make(PatternText{std::string(input.substr(0, end))});
  if (pattern) decode_all(*pattern, rest);
  decode_all(LineDecoder::make(KeyValueMap{}).value(), rest);
  decode_all(LineDecoder::make(own_keys()).value(), rest);
  return 0;
}
