// The readers on texts that no one here wrote: the examples of the CommonMark specification (npm
// package commonmark-spec), the Markdown and DocBook documents that packages install under
// /usr/share, /usr/lib and node_modules, and, for more of them, the folder that
// TAILPROOF_PUBLISHED_TEXTS names.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "../unit/manuscript/reading.h"

namespace tailproof {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostFiles = 600;  // of each format; enough, and the test stays short
constexpr std::uintmax_t kLargestFile = 4U << 20U;

const std::string kHere = std::string(TAILPROOF_TOP) + "/tests/published/";

std::string slurp(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream bytes;
  bytes << file.rdbuf();
  return bytes.str();
}

bool has_docbook_root(const std::string& bytes) {
  const std::string head = bytes.substr(0, 4000);
  if (head.find("<catalog") != std::string::npos) return false;  // names files, holds no text
  if (head.find("docbook.org/ns/docbook") != std::string::npos)
    return head.find("<rng:") == std::string::npos;
  return head.find("DocBook XML") != std::string::npos &&
         head.find("<!DOCTYPE") != std::string::npos && head.find("<!ELEMENT") == std::string::npos;
}

struct Found {
  std::vector<std::string> markdown;
  std::vector<std::string> docbook;
};

Found find_published_texts() {
  Found found;
  std::vector<std::string> roots = {"/usr/share", "/usr/lib", kHere + "node_modules"};
  if (const char* more = std::getenv("TAILPROOF_PUBLISHED_TEXTS"))
    roots.insert(roots.begin(), more);
  for (const std::string& root : roots) {
    std::error_code error;
    fs::recursive_directory_iterator at(root, fs::directory_options::skip_permission_denied, error);
    for (; !error && at != fs::recursive_directory_iterator(); at.increment(error)) {
      std::error_code ignored;
      if (!at->is_regular_file(ignored) || at->file_size(ignored) > kLargestFile) continue;
      const std::string name = at->path().string();
      const std::string kind = at->path().extension().string();
      if (kind == ".md" && found.markdown.size() < kMostFiles) found.markdown.push_back(name);
      const bool may_be_docbook = kind == ".xml" || kind == ".docbook" || kind == ".dbk";
      if (may_be_docbook && found.docbook.size() < kMostFiles && has_docbook_root(slurp(name))) {
        found.docbook.push_back(name);
      }
    }
  }
  return found;
}

// What the command prints; "" when it fails.
std::string run_command(const std::string& command) {
  std::string out;
  std::FILE* const pipe = ::popen(command.c_str(), "r");
  if (pipe == nullptr) return out;
  char chunk[4096];
  std::size_t count = 0;
  while ((count = std::fread(chunk, 1, sizeof chunk, pipe)) > 0) out.append(chunk, count);
  return ::pclose(pipe) == 0 ? out : "";
}

TEST_CASE("Markdown that packages install is read, every span in its place") {
  const Found found = find_published_texts();
  if (found.markdown.empty()) {
    WARN("no Markdown files are installed here; nothing compared");
    return;
  }
  std::size_t blocks = 0;
  std::size_t not_utf8 = 0;
  for (const std::string& path : found.markdown) {
    INFO(path);
    Reading reading;
    read_into(reading, path, {Format::kMarkdown, Encoding::kUtf8});
    if (!reading.failure.empty()) {
      CHECK(reading.failure.find("is not UTF-8") != std::string::npos);
      ++not_utf8;
      continue;
    }
    CHECK(reading.complaints.empty());
    CHECK(broken_promise(reading) == "");
    blocks += reading.manuscript.blocks.size();
  }
  CHECK(blocks > 0);
  WARN(found.markdown.size() << " Markdown files, " << blocks << " blocks, " << not_utf8
                             << " files not UTF-8");
}

TEST_CASE("DocBook that packages install is read, every span in its place") {
  const Found found = find_published_texts();
  if (found.docbook.empty()) {
    WARN("no DocBook files are installed here; nothing compared");
    return;
  }
  std::size_t blocks = 0;
  for (const std::string& path : found.docbook) {
    INFO(path);
    Reading reading;
    read_into(reading, path, {Format::kDocBook, Encoding::kUtf8});
    if (!reading.failure.empty()) {
      CHECK(reading.failure.find("is not UTF-8") != std::string::npos);
      continue;
    }
    for (const Complaint& complaint : reading.complaints) {
      // Files of a book stand alone here, so entities of the book and files beside it may be
      // absent.
      const bool is_expected =
          complaint.message.find("is not declared") != std::string::npos ||
          complaint.message.find("cannot be included") != std::string::npos ||
          complaint.message.find("outside the manuscript") != std::string::npos;
      INFO(to_line(complaint));
      CHECK(is_expected);
    }
    CHECK(broken_promise(reading) == "");
    blocks += reading.manuscript.blocks.size();
  }
  CHECK(blocks > 0);
  WARN(found.docbook.size() << " DocBook files, " << blocks << " blocks");
}

/// A block as the reference implementation reports it.
struct ReferenceBlock {
  std::string kind;
  std::uint32_t first_line = 0;
  std::string words;
};

std::map<std::size_t, std::vector<ReferenceBlock>> reference_blocks(
    const std::vector<std::string>& texts) {
  const TestFolder folder("commonmark");
  const std::string input = folder.write("texts.json", nlohmann::json(texts).dump());
  std::istringstream lines(
      run_command("node '" + kHere + "commonmark_blocks.mjs' < '" + input + "'"));
  std::map<std::size_t, std::vector<ReferenceBlock>> blocks;
  std::string number;
  std::string first;
  std::string last;
  ReferenceBlock block;
  while (std::getline(lines, number, '\t') && std::getline(lines, block.kind, '\t') &&
         std::getline(lines, first, '\t') && std::getline(lines, last, '\t') &&
         std::getline(lines, block.words)) {
    block.first_line = static_cast<std::uint32_t>(std::stoul(first));
    blocks[std::stoul(number)].push_back(block);
  }
  return blocks;
}

// Constructs in which this reader differs from CommonMark on purpose; a text that has one is left
// out: tables, struck text and footnotes (GitHub's), front matter, raw HTML (its text is read,
// which CommonMark passes through), pictures (captions, not paragraphs).
bool differs_on_purpose(const std::string& text) {
  if (text.starts_with("---")) return true;
  for (const char* mark : {"|", "~", "[^", "<", "!["}) {
    if (text.find(mark) != std::string::npos) return true;
  }
  return false;
}

/// Texts of the specification where the difference is known, and why.
struct KnownDifference {
  std::string_view text;
  std::string_view reason;
};
constexpr std::string_view kFirstWord =
    "a block's first word is on a later line than its first mark";
constexpr std::string_view kDefinition =
    "the reference counts a link definition to the block behind";
constexpr KnownDifference kKnownDifferences[] = {
    {"``\nfoo\n``\n", kFirstWord},
    {"``\nfoo \n``\n", kFirstWord},
    {"``\nfoo\nbar  \nbaz\n``\n", kFirstWord},
    {"``` ```\naaa\n", kFirstWord},
    {"[foo]: /url\nbar\n===\n[foo]\n", kDefinition},
    {"[foo]: /url\n===\n[foo]\n", kDefinition},
    {"*$*alpha.\n\n*\u00A3*bravo.\n\n*\u20AC*charlie.\n",
     "version 0.30 of the specification, which the parser follows, has no currency signs among "
     "punctuation"},
};

bool is_known_difference(std::string_view text) {
  return std::any_of(std::begin(kKnownDifferences), std::end(kKnownDifferences),
                     [text](const KnownDifference& known) { return known.text == text; });
}

TEST_CASE(
    "paragraphs and headings begin where the reference implementation of CommonMark has them") {
  const std::string json =
      run_command("node '" + kHere + "commonmark_blocks.mjs' --examples 2>/dev/null");
  if (json.empty()) {
    WARN("the npm packages commonmark and commonmark-spec are not installed; nothing compared");
    return;
  }
  std::vector<std::string> texts;
  std::size_t left_out = 0;
  for (const auto& example : nlohmann::json::parse(json)) {
    const auto text = example.get<std::string>();
    if (differs_on_purpose(text)) {
      ++left_out;
    } else {
      texts.push_back(text);
    }
  }
  for (const std::string& path : find_published_texts().markdown) {
    const std::string text = slurp(path);
    Sources sources;
    if (!sources.add(path, text) || differs_on_purpose(text)) {
      ++left_out;
    } else {
      texts.push_back(text);
    }
  }
  REQUIRE(texts.size() > 400);
  const auto expected = reference_blocks(texts);
  std::size_t compared = 0;
  std::size_t known = 0;
  const TestFolder folder("commonmark-texts");
  for (std::size_t i = 0; i < texts.size(); ++i) {
    Reading reading;
    read_into(reading, folder.write("text.md", texts[i]), {Format::kMarkdown, Encoding::kUtf8});
    INFO("text " << i << ": " << texts[i].substr(0, 400));
    REQUIRE(broken_promise(reading) == "");
    std::vector<std::string> found;
    for (const Block& block : reading.manuscript.blocks) {
      const std::uint32_t line =
          reading.sources.position(block.span.file, block.text_span(0, 1).begin).line;
      found.push_back((block.kind == BlockKind::kHeading ? "heading " : "paragraph ") +
                      std::to_string(line) + ": " + block.text);
    }
    std::vector<std::string> wanted;
    const auto blocks = expected.find(i);
    if (blocks != expected.end()) {
      for (const ReferenceBlock& block : blocks->second) {
        if (block.words.empty()) continue;  // a block without text is none here
        wanted.push_back(block.kind + " " + std::to_string(block.first_line) + ": " + block.words);
        ++compared;
      }
    }
    if (is_known_difference(texts[i])) {
      CHECK(found != wanted);  // else the list is out of date
      ++known;
    } else {
      CHECK(found == wanted);
    }
  }
  CHECK(known == std::size(kKnownDifferences));
  WARN(compared << " blocks of " << texts.size() << " texts compared, " << left_out
                << " texts left out");
}

}  // namespace
}  // namespace tailproof
