// The worked example of README.md is what the program prints.
#include <catch2/catch.hpp>
#include <sstream>
#include <vector>

#include "program.h"

namespace tailproof {

namespace {

struct Piece {
  std::string text;
  bool is_session = false;  // of a fenced block marked `console`
};

/// The page in pieces: sessions, and all that stands between them.
std::vector<Piece> pieces_of(const std::string& page) {
  std::vector<Piece> pieces(1);
  std::istringstream lines(page);
  std::string line;
  while (std::getline(lines, line)) {
    if (pieces.back().is_session && line == "```") {
      pieces.emplace_back();
    }
    pieces.back().text += line + "\n";
    if (!pieces.back().is_session && line == "```console") {
      pieces.push_back(Piece{.text = "", .is_session = true});
    }
  }
  return pieces;
}

/// The session as it really goes: each "$ " line with what it prints.
std::string played(const std::string& session) {
  std::string real;
  std::istringstream lines(session);
  std::string line;
  while (std::getline(lines, line)) {
    if (line.starts_with("$ ")) {
      real += line + "\n" + run_shell(line.substr(2) + " 2>&1", TAILPROOF_TOP "/tests/readme").out;
    }
  }
  return real;
}

}  // namespace

TEST_CASE("the sessions shown in README.md are what the program prints") {
  const std::string path = TAILPROOF_TOP "/README.md";
  std::string page;
  std::size_t sessions = 0;
  for (const Piece& piece : pieces_of(read_file(path))) {
    if (!piece.is_session) {
      page += piece.text;
      continue;
    }
    ++sessions;
    const std::string real = played(piece.text);
    page += real;
    if (!is_accepting()) {
      CHECK(piece.text == real);
    }
  }
  CHECK(sessions > 0);
  if (is_accepting()) {
    write_file(path, page);
  }
}

}  // namespace tailproof
