#include "sensors/codec/markup.hpp"

#include <gtest/gtest.h>

#include "tests/support/running_program.hpp"

namespace takehold::sensors {
namespace {

// Python's html.escape does the same, and takes the single quote beside.
TEST(Markup, text_is_escaped_as_another_implementation_does_it) {
  const std::string text = "<b title=\"A & B\">Early Früh &amp; spätamp; late</b>";
  EXPECT_EQ(markup_text(text) + "\n",
            testing::answer_of("python3 -c 'import html, sys; print(html.escape(sys.argv[1]))' '" +
                               text + "'"));
}

}  // namespace
}  // namespace takehold::sensors
