#include "lsp/framing.h"

#include <catch2/catch.hpp>
#include <vector>

using namespace tailproof::lsp;

namespace {

std::vector<Frame> frames_of(std::string_view bytes, std::size_t piece,
                             std::size_t most = kMostMessageBytes) {
  Framer framer(most);
  std::vector<Frame> frames;
  for (std::size_t at = 0; at < bytes.size(); at += piece) {
    framer.add(bytes.substr(at, piece));
    while (auto frame = framer.next()) frames.push_back(*frame);
  }
  return frames;
}

}  // namespace

TEST_CASE("messages come out whole, in whatever pieces they come in") {
  const std::string bytes = framed("{\"a\":1}") + framed("") + framed("caf\xC3\xA9");
  for (const std::size_t piece : {1U, 2U, 7U, 1000U}) {
    const std::vector<Frame> frames = frames_of(bytes, piece);
    REQUIRE(frames.size() == 3);
    CHECK(frames[0].content == "{\"a\":1}");
    CHECK(frames[1].content.empty());
    CHECK(frames[2].content == "caf\xC3\xA9");
    CHECK(frames[2].is_message);
  }
}

TEST_CASE("headers: other fields, other case, a type that names UTF-8") {
  const std::string bytes =
      "content-length:  2\r\nContent-Type: application/vscode-jsonrpc; charset=utf-8\r\n\r\n{}"
      "X-Other: 1\nCONTENT-LENGTH: 2\n\n[]";
  const std::vector<Frame> frames = frames_of(bytes, 5);
  REQUIRE(frames.size() == 2);
  CHECK(frames[0].content == "{}");
  CHECK(frames[1].content == "[]");
}

TEST_CASE("a header that is none is told, and the next message is read") {
  for (const std::string& wrong :
       {std::string("Content-Length: many\r\n\r\n"), std::string("Content-Length: -4\r\n\r\n"),
        std::string("Content-Length:\r\n\r\n"), std::string("Something: 3\r\n\r\nabc"),
        std::string("\r\n\r\n"), std::string(5000, 'x') + "\r\n\r\n"}) {
    INFO(wrong.substr(0, 40));
    const std::vector<Frame> frames = frames_of(wrong + framed("{}"), 3);
    REQUIRE(frames.size() == 2);
    CHECK_FALSE(frames[0].is_message);
    CHECK(frames[0].content.find("header") != std::string::npos);
    CHECK(frames[1].is_message);
    CHECK(frames[1].content == "{}");
  }
}

TEST_CASE("a message that is too long is told and passed over, without being kept") {
  const std::string bytes = framed(std::string(2000, 'x')) + framed("{}");
  const std::vector<Frame> frames = frames_of(bytes, 100, 1000);
  REQUIRE(frames.size() == 2);
  CHECK(frames[0].content == "a message of 2000 bytes; at most 1000 are read");
  CHECK(frames[1].content == "{}");

  Framer framer;
  framer.add("Content-Length: 99999999999999999999999999\r\n\r\nabc");
  const auto frame = framer.next();
  REQUIRE(frame);
  CHECK_FALSE(frame->is_message);
  CHECK_FALSE(framer.next());
  CHECK(framer.is_amid());
}

TEST_CASE("a message in another charset is told and passed over") {
  const std::string bytes =
      "Content-Length: 2\r\nContent-Type: text/plain; charset=utf-16\r\n\r\n{}" + framed("[]");
  const std::vector<Frame> frames = frames_of(bytes, 1000);
  REQUIRE(frames.size() == 2);
  CHECK_FALSE(frames[0].is_message);
  CHECK(frames[1].content == "[]");
}

TEST_CASE("a message that has not come whole is no message yet") {
  Framer framer;
  CHECK_FALSE(framer.is_amid());
  framer.add("Content-Length: 10\r\n\r\n{\"a\"");
  CHECK_FALSE(framer.next());
  CHECK(framer.is_amid());
}
