// | situation                                                             | level   |
// | a figure, plate or the like is referred to that no block carries      | warning |
// | two figures of one series share a number                              | warning |
// | a cross reference to an identifier that nothing bears                 | warning |
// | a series of which the manuscripts have none at all, pages, chapters   | silent  |
// | somebody else's figure (attributed)                                   | silent  |
//
// "Fig. 3", "Figure 3" and "3" are one series over all manuscripts; plates, maps and tables are
// others. Numbers that carry a chapter ("2.1") are compared as they stand.
#include <algorithm>
#include <cctype>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/figure_key.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "reference-broken";

bool is_alpha(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }

struct Holder {
  std::uint32_t manuscript = 0;
  std::uint32_t block = 0;
};

using Series = std::map<std::string, std::vector<Holder>>;  // by number

bool is_same_figure(const CheckInput& input, const Holder& one, const Holder& other) {
  const std::vector<Block>& blocks = input.manuscripts[one.manuscript].blocks;
  if (one.manuscript != other.manuscript) {
    // Chapters in files of their own count from 1 each until the book numbers them.
    const std::vector<Block>& others = input.manuscripts[other.manuscript].blocks;
    return blocks[one.block].is_counted && others[other.block].is_counted;
  }
  const std::uint32_t group = blocks[one.block].group;
  if (group != kNone || blocks[other.block].group != kNone) {
    return group == blocks[other.block].group;
  }
  // Blocks without a group are one figure when nothing stands between them.
  return other.block == one.block + 1 || one.block == other.block + 1;
}

std::map<std::string, Series> read_figures(const CheckInput& input) {
  std::map<std::string, Series> all;
  const FigureSeries series(input.manuscripts);
  for (std::uint32_t m = 0; m < input.manuscripts.size(); ++m) {
    const Manuscript& manuscript = input.manuscripts[m];
    for (std::uint32_t b = 0; b < manuscript.blocks.size(); ++b) {
      const Block& block = manuscript.blocks[b];
      if (block.kind != BlockKind::kCaption || block.figure.empty()) continue;
      const std::vector<FigureKey> labels = series.keys_of_caption(block.figure);
      if (labels.size() != 1) continue;
      all[labels.front().series][labels.front().number].push_back({m, b});
    }
    for (const Table& table : manuscript.tables) {
      const std::vector<FigureKey> labels = figure_keys(table.caption.substr(0, 16));
      if (labels.empty() || labels.front().series != "table") continue;
      all["table"][labels.front().number];  // tables are never compared with each other
    }
  }
  return all;
}

bool exists(const Series& series, const std::string& number) {
  if (series.contains(number)) return true;
  const bool has_letter = is_alpha(number.back());
  // "Fig. 3a" is a part of Fig. 3; "Fig. 3" may stand as 3a and 3b.
  if (has_letter) return series.contains(number.substr(0, number.size() - 1));
  const auto next = series.lower_bound(number);
  if (next != series.end() && next->first.size() == number.size() + 1 &&
      next->first.starts_with(number) && is_alpha(next->first.back())) {
    return true;
  }
  // A plain number in a book whose figures carry their chapter may mean the chapter at hand.
  const bool has_chapters = std::any_of(series.begin(), series.end(), [](const auto& entry) {
    return entry.first.find('.') != std::string::npos;
  });
  if (number.find('.') == std::string::npos && has_chapters) {
    return std::any_of(series.begin(), series.end(),
                       [&](const auto& entry) { return entry.first.ends_with("." + number); });
  }
  return false;
}

// Of the numbers those of the chapter that is asked for, where it has any: a reader looks there.
Series in_chapter_of(const Series& series, const std::string& number) {
  const std::size_t point = number.find('.');
  if (point == std::string::npos) return series;
  Series own;
  for (const auto& entry : series) {
    if (entry.first.starts_with(number.substr(0, point + 1))) own.insert(entry);
  }
  return own.empty() ? series : own;
}

// "the numbers run from 1 to 9", "from 1 to 6 and from 11 to 31", "from 1.1 to 2.36", "the only
// number is 1".
std::string span_of(const Series& series) {
  struct Number {
    int chapter = 0, number = 0;
    std::string text;
  };
  std::vector<Number> numbers;
  for (const auto& entry : series) {
    const std::size_t point = entry.first.find('.');
    const bool has_chapter = point != std::string::npos;
    numbers.push_back({has_chapter ? std::atoi(entry.first.c_str()) : 0,
                       std::atoi(entry.first.c_str() + (has_chapter ? point + 1 : 0)),
                       entry.first});
  }
  std::stable_sort(numbers.begin(), numbers.end(), [](const Number& one, const Number& other) {
    return one.chapter != other.chapter ? one.chapter < other.chapter : one.number < other.number;
  });
  // A gap is told where the reader could take it for no gap, and where there are few.
  constexpr std::size_t kMostRuns = 3;
  std::vector<std::pair<std::size_t, std::size_t>> runs = {{0, 0}};
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    if (numbers[i].chapter == 0 && numbers[i].number > numbers[i - 1].number + 1) {
      runs.emplace_back(i, i);
    } else {
      runs.back().second = i;
    }
  }
  if (runs.size() > kMostRuns) runs = {{0, numbers.size() - 1}};
  if (numbers.size() == 1) return "the only number is " + numbers.front().text;
  std::string words;
  for (const auto& [first, last] : runs) {
    words += words.empty() ? "the numbers run from " : " and from ";
    words += numbers[first].text + " to " + numbers[last].text;
  }
  return words;
}

// For a figure that does not exist: those that show a machine which the sentence names. Made ready
// at the first need, which most books never have.
class FiguresMeant {
 public:
  explicit FiguresMeant(const CheckInput& input) : input_(input) {}

  [[nodiscard]] std::string words_for(const Claim& reference) {
    if (!index_) make_ready();
    const std::string_view sentence = index_->sentence_of(reference);
    std::vector<std::string> found;
    for (const std::uint32_t i : index_->around(reference)) {
      const Claim& claim = index_->claim(i);
      const bool is_named = claim.kind == ClaimKind::kAirframe && claim.block == reference.block &&
                            index_->sentence_of(claim).data() == sentence.data();
      if (!is_named) continue;
      for (const std::string& figure : figures_[claim.value]) {
        const bool is_own = figure == index_->block_of(reference).figure;
        const bool has_it = std::find(found.begin(), found.end(), figure) != found.end();
        if (!is_own && !has_it && found.size() < kMost) found.push_back(figure);
      }
    }
    std::string words;
    for (const std::string& figure : found) words += (words.empty() ? "" : " or ") + figure;
    return words;
  }

 private:
  static constexpr std::size_t kMost = 2;

  void make_ready() {
    index_.emplace(input_);
    for (const Claim& claim : ClaimsOfKind(input_, ClaimKind::kAirframe)) {
      if (!claim.shown || !is_affirmed(claim)) continue;
      const Block& block = index_->block_of(claim);
      if (block.kind != BlockKind::kCaption || block.figure.empty()) continue;
      std::vector<std::string>& figures = figures_[claim.value];
      if (figures.size() <= kMost) figures.push_back(block.figure);
    }
  }

  const CheckInput& input_;
  std::optional<ClaimIndex> index_;
  std::unordered_map<std::string, std::vector<std::string>> figures_;  // by serial
};

void find_missing(const CheckInput& input, const std::map<std::string, Series>& figures,
                  std::vector<Query>& queries) {
  FiguresMeant meant(input);
  for (const Claim& claim : ClaimsOfKind(input, ClaimKind::kReference)) {
    if (!claim.role.empty()) continue;
    if (claim.attributed || claim.negated) continue;
    for (const FigureKey& label : figure_keys(claim.value)) {
      const auto series = figures.find(label.series);
      if (series == figures.end() || exists(series->second, label.number)) continue;
      queries.push_back(query_at(kId, input, claim, tempered(claim, Level::kWarning),
                                 claim.value + " is referred to, but there is none: " +
                                     span_of(in_chapter_of(series->second, label.number))));
      queries.back().suggestion = meant.words_for(claim);
      break;
    }
  }
}

// What an identifier shares with its neighbours: "f3-" of "f3-39".
std::string_view stem_of(std::string_view id) {
  while (!id.empty() && std::isdigit(static_cast<unsigned char>(id.back())) != 0)
    id.remove_suffix(1);
  return id;
}

// An identifier that nothing in the manuscripts bears, though others of its kind are there: a file
// that was not given may hold those of another kind.
void find_broken_ids(const CheckInput& input, std::vector<Query>& queries) {
  std::set<std::string_view> ids, stems;
  for (const Manuscript& manuscript : input.manuscripts) {
    for (const std::string& id : manuscript.ids) {
      ids.insert(id);
      stems.insert(stem_of(id));
    }
  }
  for (std::uint32_t m = 0; m < input.manuscripts.size(); ++m) {
    for (const CrossReference& reference : input.manuscripts[m].cross_references) {
      if (ids.contains(reference.id) || !stems.contains(stem_of(reference.id))) continue;
      Query query;
      query.check = kId;
      query.level = Level::kWarning;
      query.span = reference.span;
      query.subject = reference.id;
      query.message = "the cross reference to " + reference.id +
                      " leads nowhere: nothing bears this identifier";
      query.manuscript = m;
      query.block = reference.block;
      queries.push_back(std::move(query));
    }
  }
}

Query shared_number(const CheckInput& input, const Holder& first, const Holder& second) {
  const Block& block = input.manuscripts[second.manuscript].blocks[second.block];
  const Block& earlier = input.manuscripts[first.manuscript].blocks[first.block];
  Query query;
  query.check = kId;
  query.level = Level::kWarning;
  query.span = block.span;
  query.subject = block.figure;
  query.message = block.figure + " is the number of two figures";
  query.related.push_back({earlier.span, "the other " + earlier.figure});
  query.manuscript = second.manuscript;
  query.block = second.block;
  return query;
}

void find_shared(const CheckInput& input, const std::map<std::string, Series>& figures,
                 std::vector<Query>& queries) {
  // A caption list has the figures of the book once more.
  std::vector<bool> is_list;
  for (const Manuscript& manuscript : input.manuscripts) {
    is_list.push_back(is_caption_list(manuscript));
  }
  for (const auto& [name, series] : figures) {
    for (const auto& [number, holders] : series) {
      const Holder* last_of[2] = {nullptr, nullptr};  // in the book, in a list
      const Holder* first_of[2] = {nullptr, nullptr};
      for (const Holder& here : holders) {
        const Holder*& last = last_of[is_list[here.manuscript] ? 1 : 0];
        const Holder*& first = first_of[is_list[here.manuscript] ? 1 : 0];
        if (last != nullptr && !is_same_figure(input, *last, here)) {
          queries.push_back(shared_number(input, *first, here));
        }
        if (first == nullptr) first = &here;
        last = &here;
      }
    }
  }
}

}  // namespace

std::vector<Query> check_reference_broken(const CheckInput& input) {
  const std::map<std::string, Series> figures = read_figures(input);
  std::vector<Query> queries;
  find_missing(input, figures, queries);
  find_broken_ids(input, queries);
  find_shared(input, figures, queries);
  return queries;
}

}  // namespace tailproof
