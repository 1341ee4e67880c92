// Readers: a source file becomes a manuscript of blocks. Second station.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "source/sources.h"
#include "tailproof/manuscript.h"
#include "tailproof/result.h"

namespace tailproof {

enum class Format { kDocBook, kMarkdown, kText, kCaptionList };

/// "docbook", "markdown", "text", "captions": the words of --format-in.
[[nodiscard]] std::optional<Format> format_of_word(std::string_view word);
/// By extension, else by content.
[[nodiscard]] Format guess_format(std::string_view path, std::string_view bytes);

struct ReadOptions {
  std::optional<Format> format;  // nothing: guessed
  Encoding encoding = Encoding::kUtf8;
};

/// Reads one manuscript with what it includes. Complaints go to `complaints` and the rest is still
/// read; fails only when nothing can be read at all. `included`, if given, receives the paths of
/// every file read through an inclusion.
[[nodiscard]] Result<Manuscript> read_manuscript(Sources& sources, const std::string& path,
                                                 const ReadOptions& options, Complaints& complaints,
                                                 std::vector<std::string>* included = nullptr);

}  // namespace tailproof
