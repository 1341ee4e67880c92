// Figures as symbols of a document.
#include <algorithm>
#include <map>

#include "lsp/answers.h"

namespace tailproof::lsp {

namespace {

constexpr int kSymbolKind = 19;  // Object: there is none for a picture
constexpr std::size_t kMostTitleBytes = 80;

struct Figure {
  const Block* first = nullptr;
  std::uint32_t begin = 0, end = 0;
};

/// The first words of a text, whole ones.
std::string first_words(std::string_view text) {
  if (text.size() <= kMostTitleBytes) return std::string(text);
  std::size_t end = text.rfind(' ', kMostTitleBytes);
  if (end == std::string_view::npos) {
    end = kMostTitleBytes;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
  }
  return std::string(text.substr(0, end)) + " \xE2\x80\xA6";
}

std::vector<Figure> figures_in(const Manuscript& manuscript, FileId file) {
  std::vector<Figure> figures;
  std::map<std::uint32_t, std::size_t> figure_of_group;
  for (const Block& block : manuscript.blocks) {
    if (block.kind != BlockKind::kCaption || block.span.file != file) continue;
    if (block.group != kNone) {
      const auto [found, is_new] = figure_of_group.try_emplace(block.group, figures.size());
      if (!is_new) {
        Figure& figure = figures[found->second];
        figure.begin = std::min(figure.begin, block.span.begin);
        figure.end = std::max(figure.end, block.span.end);
        continue;
      }
    }
    figures.push_back({&block, block.span.begin, block.span.end});
  }
  return figures;
}

}  // namespace

Json figures_of(const View& view, FileId file) {
  Json symbols = Json::array();
  Lines lines = view.lines(file);
  const std::string uri = view.uri_of(view.run().sources.path(file));
  for (const Manuscript& manuscript : view.run().manuscripts) {
    for (const Figure& figure : figures_in(manuscript, file)) {
      const Block& block = *figure.first;
      const std::string words = first_words(block.text);
      std::string name = block.figure.empty() ? words : block.figure;
      if (name.find_first_not_of(' ') == std::string::npos) name = "caption";  // none may be blank
      const Json range = lines.range_of(figure.begin, figure.end);
      Json symbol{{"name", name}, {"kind", kSymbolKind}};
      if (view.client().nests_symbols) {
        symbol["detail"] = block.figure.empty() ? "" : words;
        symbol["range"] = range;
        symbol["selectionRange"] = lines.range_of(block.span.begin, block.span.end);
      } else {
        symbol["location"] = Json{{"uri", uri}, {"range", range}};
      }
      symbols.push_back(std::move(symbol));
    }
  }
  return symbols;
}

}  // namespace tailproof::lsp
