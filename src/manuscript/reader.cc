#include "manuscript/reader.h"

#include <algorithm>
#include <utility>

#include "manuscript/readers.h"
#include "source/ascii.h"

namespace tailproof {
namespace {

struct FormatWord {
  std::string_view word;
  Format format;
};
constexpr FormatWord kFormatWords[] = {{"docbook", Format::kDocBook},
                                       {"markdown", Format::kMarkdown},
                                       {"text", Format::kText},
                                       {"captions", Format::kCaptionList}};
constexpr FormatWord kExtensions[] = {
    {"xml", Format::kDocBook},     {"dbk", Format::kDocBook},       {"docbook", Format::kDocBook},
    {"md", Format::kMarkdown},     {"markdown", Format::kMarkdown}, {"txt", Format::kText},
    {"csv", Format::kCaptionList},
};
constexpr std::size_t kLookedAt = 1U << 16U;  // enough of a file to tell its format

std::string extension(std::string_view path) {
  const std::size_t slash = path.find_last_of('/');
  const std::string_view name = slash == std::string_view::npos ? path : path.substr(slash + 1);
  const std::size_t dot = name.find_last_of('.');
  return dot == std::string_view::npos ? std::string() : lower(name.substr(dot + 1));
}

bool looks_like_markdown(std::string_view bytes) {
  if (bytes.starts_with("---\n") || bytes.starts_with("---\r\n")) return true;
  const auto is_line = [bytes](std::string_view start) {
    return bytes.starts_with(start) ||
           bytes.find("\n" + std::string(start)) != std::string_view::npos;
  };
  const bool has_mark = is_line("# ") || is_line("## ") || is_line("![") || is_line("```");
  return has_mark || bytes.find("](") != std::string_view::npos ||
         bytes.find("<!--") != std::string_view::npos;
}

bool looks_like_caption_list(std::string_view bytes) {
  const std::string first = lower(bytes.substr(0, bytes.find_first_of("\r\n")));
  return first.find(',') != std::string::npos && first.find("caption") != std::string::npos &&
         first.find(". ") == std::string::npos;
}

}  // namespace

std::optional<Format> format_of_word(std::string_view word) {
  for (const FormatWord& row : kFormatWords) {
    if (row.word == word) return row.format;
  }
  return std::nullopt;
}

Format guess_format(std::string_view path, std::string_view bytes) {
  const std::string wanted = extension(path);
  for (const FormatWord& row : kExtensions) {
    if (row.word == wanted) return row.format;
  }
  bytes = bytes.substr(text_begin(bytes), kLookedAt);
  const std::size_t first = bytes.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return Format::kText;
  const std::string_view start = bytes.substr(first);
  const bool is_xml = start.starts_with("<?xml") || start.starts_with("<!DOCTYPE") ||
                      (start[0] == '<' && start.find("docbook.org/ns") != std::string_view::npos);
  if (is_xml) return Format::kDocBook;
  if (looks_like_caption_list(start)) return Format::kCaptionList;
  return looks_like_markdown(bytes) ? Format::kMarkdown : Format::kText;
}

Result<Manuscript> read_manuscript(Sources& sources, const std::string& path,
                                   const ReadOptions& options, Complaints& complaints,
                                   std::vector<std::string>* included) {
  const Result<FileId> file = sources.read(path, options.encoding, Streams::kAllowed);
  if (!file) return Failure{file.error()};
  const FileId id = file.value();
  Assembly assembly(sources, complaints, path);
  assembly.expect(sources.text(id).size());
  switch (options.format.value_or(guess_format(path, sources.text(id)))) {
    case Format::kDocBook:
      read_docbook(assembly, id, options, included);
      break;
    case Format::kMarkdown:
      read_markdown(assembly, id);
      break;
    case Format::kText:
      read_text(assembly, id);
      break;
    case Format::kCaptionList:
      if (auto failure = read_caption_list(assembly, id)) return std::move(*failure);
      break;
  }
  return assembly.finish();
}

}  // namespace tailproof
