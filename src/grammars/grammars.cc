#include "grammars/grammars.h"

#include <re2/re2.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <optional>
#include <sstream>

#include "grammars/choice.h"
#include "grammars/fold.h"
#include "grammars/grammar_file.h"
#include "grammars/small_letters.h"
#include "source/read_bytes.h"

namespace tailproof {

std::string_view WordList::value_of(std::string_view phrase) const {
  std::array<char, 64> room;
  if (longest > room.size()) {
    const auto found = values.find(fold_phrase(phrase));
    return found == values.end() ? std::string_view{} : std::string_view{found->second};
  }
  const std::size_t size = fold_phrase(phrase, room.data(), longest);
  if (size > longest) return {};
  if (size != 0 && !first_bytes[static_cast<unsigned char>(room[0])]) return {};
  const auto found = values.find(std::string_view(room.data(), size));
  return found == values.end() ? std::string_view{} : std::string_view{found->second};
}

Grammars::Grammars() = default;
Grammars::Grammars(Grammars&&) noexcept = default;
Grammars& Grammars::operator=(Grammars&&) noexcept = default;
Grammars::~Grammars() = default;

Pattern::Pattern() = default;
Pattern::~Pattern() = default;

CompiledPattern Pattern::compile(const std::string& from, bool with_case) const {
  RE2::Options options;
  options.set_case_sensitive(with_case);
  options.set_log_errors(false);
  CompiledPattern made;
  made.re = std::make_unique<RE2>(from, options);
  if (!made.re->ok()) return made;
  made.slots.resize(static_cast<std::size_t>(made.re->NumberOfCapturingGroups()));
  made.slot_lists.resize(made.slots.size(), nullptr);
  for (const auto& [group, name] : made.re->CapturingGroupNames()) {
    const auto index = static_cast<std::size_t>(group - 1);
    if (name.starts_with(kCasedGroup)) {
      made.cased.push_back(static_cast<std::size_t>(group));
      continue;
    }
    made.slots[index] = name;
    for (const auto& [slot, list] : list_slots) {
      if (slot == name) made.slot_lists[index] = list;
    }
  }
  return made;
}

const CompiledPattern& Pattern::compiled() const {
  std::call_once(once_, [this] { compiled_ = compile(source, cased); });
  return compiled_;
}

void Pattern::compile_small(const std::string& from, CompiledPattern& made) const {
  const auto small = cased ? std::nullopt : in_small_letters(from);
  if (small) made = compile(*small, true);
}

const CompiledPattern* Pattern::compiled_small(std::string_view small_text) const {
  std::call_once(once_spared_, [this] {
    if (!cased) spared_ = spare_lists(source, list_slots);
  });
  const bool is_short = spared_.may_be_asked_of(small_text);
  if (is_short) {
    std::call_once(once_short_, [this] { compile_small(spared_.source, short_); });
  } else {
    std::call_once(once_small_, [this] { compile_small(source, small_); });
  }
  const CompiledPattern& made = is_short ? short_ : small_;
  return made.re != nullptr && made.re->ok() ? &made : nullptr;
}

const std::vector<const Pattern*>& Grammars::patterns(std::string_view kind) const {
  return patterns_numbered(ListName::number_of(kind));
}

const std::vector<const Pattern*>& Grammars::patterns_numbered(std::uint64_t kind) const {
  static const std::vector<const Pattern*> kNoPatterns;
  const auto found = by_kind_.find(kind);
  return found == by_kind_.end() ? kNoPatterns : found->second;
}

StartBits Grammars::starts_bit(std::string_view list) const {
  const auto found = bits_.find(list);
  return found == bits_.end() ? StartBits() : found->second;
}

StartBits Grammars::starts_of_word(std::string_view folded) const {
  const auto found = word_bits_.find(folded);
  return found == word_bits_.end() ? StartBits() : found->second;
}

KindBits Grammars::kinds_begun_by(const StartBits& starts) const {
  KindBits kinds = 0;
  for (const auto& [bit, of_kind] : starts_of_kinds_) {
    if ((of_kind & starts).any()) kinds |= bit;
  }
  return kinds;
}

const WordValues* Grammars::values_of_word(std::string_view folded) const {
  const auto found = word_values_.find(folded);
  return found == word_values_.end() ? nullptr : &found->second;
}

// Reads the files in two rounds: every list of every file first, since a pattern may name a list of
// a later file.
class GrammarReader {
 public:
  GrammarReader(std::string_view language, Complaints& complaints)
      : language_(language), complaints_(complaints) {}

  void read_toml(std::string_view text, const std::string& file) {
    if (auto read = read_grammar_toml(text, file, language_, complaints_)) {
      take(std::move(*read), true);
    }
  }

  void read_packed(std::string_view packed, const std::string& file) {
    GrammarFile grammar = unpack_grammar(packed, file);
    if (grammar.language.empty() || grammar.language == language_) take(std::move(grammar), false);
  }

  Grammars finish() {
    for (const auto& [file, is_checked] : files_) {
      for (const GrammarFile::Pattern& pattern : file.patterns) {
        read_pattern(pattern, file.file, is_checked);
      }
    }
    number_lists();
    index_words();
    index_first_words();
    for (const auto& pattern : grammars_.patterns_) {
      auto& of_kind = grammars_.by_kind_[ListName::number_of(pattern->kind)];
      auto& kinds = grammars_.starts_of_kinds_;
      constexpr std::size_t kMostKinds = 32;
      if (of_kind.empty() && kinds.size() < kMostKinds) {
        kinds.emplace_back(KindBits{1} << kinds.size(), StartBits());
      }
      pattern->kind_bit = of_kind.empty() ? kinds.back().first : of_kind.front()->kind_bit;
      of_kind.push_back(pattern.get());
      for (auto& [bit, starts] : kinds) {
        if (bit == pattern->kind_bit) starts |= pattern->starts;
      }
    }
    return std::move(grammars_);
  }

 private:
  void take(GrammarFile grammar, bool is_checked) {
    for (const GrammarFile::List& entry : grammar.lists) {
      WordList& list = list_named(entry.name);
      list.cased = list.cased || entry.is_cased;
      list.words.reserve(list.words.size() + entry.words.size());
      list.values.reserve(list.values.size() + entry.words.size());
      for (const auto& [phrase, value] : entry.words) add_word(list, phrase, value);
    }
    files_.emplace_back(std::move(grammar), is_checked);
  }

  void complain(const std::string& file, const GrammarFile::Place& at, std::string message) {
    complaints_.push_back({file, at.line, at.column, std::move(message), false});
  }

  WordList& list_named(std::string_view name) {
    const auto known = list_by_name_.find(name);
    if (known != list_by_name_.end()) return *known->second;
    grammars_.lists_.push_back(std::make_unique<WordList>());
    grammars_.lists_.back()->name = name;
    grammars_.lists_.back()->number = grammars_.lists_.size() - 1;
    return *list_by_name_.emplace(name, grammars_.lists_.back().get()).first->second;
  }

  static void add_word(WordList& list, std::string_view phrase, std::string_view value) {
    // "mph" and "m.p.h." fold alike, but a pattern needs the spelling of each.
    const std::string folded = fold_phrase(phrase);
    list.longest = std::max(list.longest, folded.size());
    if (!folded.empty()) list.first_bytes.set(static_cast<unsigned char>(folded[0]));
    const bool is_new = list.values.insert_or_assign(folded, std::string(value)).second ||
                        std::none_of(list.words.begin(), list.words.end(),
                                     [&](const auto& word) { return word.first == phrase; });
    if (is_new) list.words.emplace_back(phrase, value);
  }

  void read_pattern(const GrammarFile::Pattern& entry, const std::string& file, bool is_checked) {
    auto pattern = std::make_unique<Pattern>();
    pattern->kind = entry.kind;
    pattern->name = entry.name;
    pattern->why = "pattern " + pattern->name;
    pattern->file = file;
    if (pattern->kind.empty() || pattern->name.empty() || !entry.match) {
      complain(file, entry.at, "a pattern needs kind, name and match; this one is left out");
      return;
    }
    const auto expanded = expand(*entry.match, entry, file, pattern->list_slots);
    if (!expanded) return;
    pattern->source = *expanded;
    pattern->cased = entry.is_cased;
    if (is_checked && !pattern->compiled().re->ok()) {
      complain(file, entry.at,
               "pattern \"" + pattern->name + "\" is refused: " + pattern->compiled().re->error() +
                   "; this pattern is left out");
      return;
    }
    if (!read_starts(entry, file, *pattern)) return;
    for (const auto& [slot, value] : entry.set) pattern->set[std::string(slot)] = value;
    grammars_.patterns_.push_back(std::move(pattern));
  }

  bool read_starts(const GrammarFile::Pattern& entry, const std::string& file, Pattern& pattern) {
    static const std::map<std::string, StartBits, std::less<>> kClasses = {
        {"@number", kStartsNumber}, {"@capital", kStartsCapital}, {"@mixed", kStartsMixed},
        {"@quote", kStartsQuote},   {"@bracket", kStartsBracket}, {"@any", kStartsAny}};
    if (entry.starts.empty()) {
      complain(file, entry.at,
               "pattern \"" + pattern.name +
                   "\" has no starts: name the lists or classes (@number, @capital, "
                   "@mixed, @quote, @bracket, @any) it may begin with");
      return false;
    }
    for (const auto& [start, at] : entry.starts) {
      const std::string name(start);
      if (const auto found = kClasses.find(name); found != kClasses.end()) {
        pattern.starts |= found->second;
      } else if (list_by_name_.contains(name)) {
        auto& bit = grammars_.bits_[name];
        if (bit.none()) {
          if (next_bit_ == bit.size()) {
            complain(file, at,
                     "more than " + std::to_string(bit.size() - kFirstListBit) +
                         " lists stand in starts; this pattern is left out");
            return false;
          }
          bit.set(next_bit_++);
        }
        pattern.starts |= bit;
      } else {
        complain(file, at, "starts names \"" + name + "\", which is neither a list nor a class");
        return false;
      }
    }
    return true;
  }

  // {list} and {list:slot} become a named group of the list's words.
  std::optional<std::string> expand(std::string_view match, const GrammarFile::Pattern& entry,
                                    const std::string& file,
                                    std::vector<std::pair<std::string, const WordList*>>& slots) {
    std::string out;
    for (std::size_t i = 0; i < match.size(); ++i) {
      if (match[i] != '{' || i + 1 >= match.size() ||
          (match[i + 1] >= '0' && match[i + 1] <= '9') ||
          (i > 0 && (match[i - 1] == '\\' || match[i - 1] == 'p' || match[i - 1] == 'P'))) {
        out += match[i];
        continue;
      }
      const std::size_t close = match.find('}', i);
      if (close == std::string_view::npos) {
        complain(file, entry.at, "a { without its } in match");
        return std::nullopt;
      }
      std::string name(match.substr(i + 1, close - i - 1));
      std::string slot = name;
      if (const std::size_t colon = name.find(':'); colon != std::string::npos) {
        slot = name.substr(colon + 1);
        name.resize(colon);
      }
      const auto found = list_by_name_.find(name);
      if (found == list_by_name_.end()) {
        complain(file, entry.at,
                 "match names the list \"" + name + "\", which no grammar file holds");
        return std::nullopt;
      }
      const WordList& list = *found->second;
      const Case how = list.cased || entry.is_cased ? Case::kTold : Case::kFolded;
      out += "(?P<" + slot + (list.cased ? ">(?-i:" : ">(?:") + choice(list, how) + "))";
      slots.emplace_back(slot, &list);
      i = close;
    }
    return out;
  }

  const std::string& choice(const WordList& list, Case how) {
    std::string& known = choices_[{&list, how}];
    if (!known.empty()) return known;
    std::vector<std::string> phrases;
    for (const auto& [phrase, value] : list.words) phrases.push_back(phrase);
    return known = choice_of(std::move(phrases), how);
  }

  void index_words() {
    std::size_t count = 0;
    for (const auto& list : grammars_.lists_) count += list->values.size();
    grammars_.word_values_.reserve(count);
    for (const auto& list : grammars_.lists_) {
      if (list->number >= ListSet().size()) break;
      for (const auto& [phrase, value] : list->values) {
        if (value.empty() || phrase.find(' ') != std::string::npos) continue;
        WordValues& of_word = grammars_.word_values_[phrase];
        of_word.lists.set(list->number);
        of_word.values.push_back({list->number, value});
      }
    }
  }

  void index_first_words() {
    for (const auto& [name, bit] : grammars_.bits_) {
      for (const auto& [phrase, value] : list_by_name_.at(name)->words) {
        std::string folded = fold(phrase);
        const std::size_t end = folded.find_first_of(" .-/,");
        grammars_.word_bits_[folded.substr(0, end == 0 ? 1 : end)] |= bit;
      }
    }
  }

  void number_lists() {
    auto& table = grammars_.list_by_number_;
    std::size_t size = 1;
    while (size < 4 * grammars_.lists_.size() + 1) size *= 2;
    table.assign(size, {});
    grammars_.number_mask_ = size - 1;
    for (const auto& list : grammars_.lists_) {
      const std::uint64_t number = ListName::number_of(list->name);
      std::size_t at = number;
      while (table[at & (size - 1)].list != nullptr) ++at;
      table[at & (size - 1)] = {number, list.get()};
    }
  }

  std::string language_;
  Complaints& complaints_;
  Grammars grammars_;
  std::map<std::string, WordList*, std::less<>> list_by_name_;
  std::map<std::pair<const WordList*, Case>, std::string> choices_;
  std::vector<std::pair<GrammarFile, bool>> files_;  // and whether patterns are compiled at once
  std::size_t next_bit_ = kFirstListBit;
};

Grammars Grammars::read(const std::vector<GrammarText>& built_in,
                        const std::vector<std::string>& folders, std::string_view language,
                        Complaints& complaints) {
  GrammarReader reader(language, complaints);
  for (const GrammarText& text : built_in) {
    if (text.is_packed) {
      reader.read_packed(text.text, text.name);
    } else {
      reader.read_toml(text.text, text.name);
    }
  }
  for (const std::string& folder : folders) {
    std::error_code error;
    std::vector<std::filesystem::path> files;
    for (auto it = std::filesystem::recursive_directory_iterator(folder, error);
         !error && it != std::filesystem::recursive_directory_iterator(); it.increment(error)) {
      if (it->path().extension() == ".toml") files.push_back(it->path());
    }
    if (error) {
      complaints.push_back(
          {folder, 0, 0, "cannot read this grammar folder: " + error.message(), false});
    }
    std::sort(files.begin(), files.end());
    for (const auto& path : files) {
      const Result<std::string> text = read_bytes(path.string());
      if (!text) {
        complaints.push_back(text.error());
        continue;
      }
      reader.read_toml(text.value(), path.string());
    }
  }
  return reader.finish();
}

}  // namespace tailproof
