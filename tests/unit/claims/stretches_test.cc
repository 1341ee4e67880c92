#include "claims/stretches.h"

#include <catch2/catch.hpp>
#include <string>

using namespace tailproof;

namespace {

Block block_of(std::string text) {
  Block block;
  block.kind = BlockKind::kBody;
  block.text = std::move(text);
  const auto size = static_cast<std::uint32_t>(block.text.size());
  block.span = {0, 100, 100 + size};
  block.runs = {{0, 100, size, true}};
  return block;
}

}  // namespace

TEST_CASE("a paragraph that a person would write is not cut") {
  CHECK_FALSE(needs_stretches(block_of(std::string(4000, 'a'))));
}

TEST_CASE("stretches end with sentences, cover the text and keep their places") {
  std::string text;
  while (text.size() < 50000) text += "OB202 was lent to 2 Squadron. ";
  const Block block = block_of(text);
  REQUIRE(needs_stretches(block));
  std::string joined;
  for (const Stretch& stretch : stretches_of(block)) {
    CHECK(stretch.offset == joined.size());
    CHECK(stretch.block.text.starts_with("OB202"));
    const Span span = stretch.block.text_span(0, 5);
    CHECK(span.begin == 100 + stretch.offset);
    CHECK(span.end == 105 + stretch.offset);
    joined += stretch.block.text;
  }
  CHECK(joined == text);
}

TEST_CASE("without sentences or blanks a stretch ends between characters") {
  std::string text;
  while (text.size() < 30000) text += "\xC3\xA9";
  std::string joined;
  for (const Stretch& stretch : stretches_of(block_of(text))) {
    CHECK(stretch.block.text.size() % 2 == 0);
    joined += stretch.block.text;
  }
  CHECK(joined == text);
}
