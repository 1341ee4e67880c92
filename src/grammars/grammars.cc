#include "grammars/grammars.h"

#include <re2/re2.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <optional>
#include <sstream>

#include "grammars/fold.h"
#include "source/read_bytes.h"
#include "source/toml.h"

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

const CompiledPattern& Pattern::compiled() const {
  std::call_once(once_, [this] {
    RE2::Options options;
    options.set_case_sensitive(cased);
    options.set_log_errors(false);
    compiled_.re = std::make_unique<RE2>(source, options);
    if (!compiled_.re->ok()) return;
    compiled_.slots.resize(static_cast<std::size_t>(compiled_.re->NumberOfCapturingGroups()));
    compiled_.slot_lists.resize(compiled_.slots.size(), nullptr);
    for (const auto& [group, name] : compiled_.re->CapturingGroupNames()) {
      const auto index = static_cast<std::size_t>(group - 1);
      compiled_.slots[index] = name;
      for (const auto& [slot, list] : list_slots) {
        if (slot == name) compiled_.slot_lists[index] = list;
      }
    }
  });
  return compiled_;
}

const std::vector<const Pattern*>& Grammars::patterns(std::string_view kind) const {
  return patterns_numbered(ListName::number_of(kind));
}

const std::vector<const Pattern*>& Grammars::patterns_numbered(std::uint64_t kind) const {
  static const std::vector<const Pattern*> kNoPatterns;
  const auto found = by_kind_.find(kind);
  return found == by_kind_.end() ? kNoPatterns : found->second;
}

std::uint64_t Grammars::starts_bit(std::string_view list) const {
  const auto found = bits_.find(list);
  return found == bits_.end() ? 0 : found->second;
}

std::uint64_t Grammars::starts_of_word(std::string_view folded) const {
  const auto found = word_bits_.find(folded);
  return found == word_bits_.end() ? 0 : found->second;
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

  void read_text(std::string_view text, const std::string& file, bool is_proven = false) {
    auto parsed = parse(text, file);
    if (!parsed) return;
    const toml::table& top = *parsed;
    const auto language = top["language"].value<std::string>();
    if (language && *language != language_) return;
    for (const auto& [key, node] : top) {
      if (key != "language" && key != "lists" && key != "pattern" && key != "about") {
        complain(file, node,
                 "unknown key " + std::string(key.str()) +
                     ", expected language, about, lists or pattern");
      }
    }
    read_lists(top, file);
    files_.push_back({file, std::move(*parsed), !is_proven});
  }

  Grammars finish() {
    for (const File& file : files_) read_patterns(file.top, file.name, file.is_checked);
    number_lists();
    index_words();
    index_first_words();
    for (const auto& pattern : grammars_.patterns_) {
      grammars_.by_kind_[ListName::number_of(pattern->kind)].push_back(pattern.get());
    }
    return std::move(grammars_);
  }

 private:
  std::optional<toml::table> parse(std::string_view text, const std::string& file) {
    toml::parse_result parsed = toml::parse(text, file);
    if (!parsed) {
      const toml::parse_error& error = parsed.error();
      complaints_.push_back(
          {file, error.source().begin.line, error.source().begin.column,
           "not TOML: " + std::string(error.description()) + "; this grammar file is left out",
           false});
      return std::nullopt;
    }
    return std::move(parsed).table();
  }

  void complain(const std::string& file, const toml::node& node, std::string message) {
    const auto& at = node.source().begin;
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

  static void add_word(WordList& list, std::string_view phrase, std::string value) {
    // "mph" and "m.p.h." fold alike, but a pattern needs the spelling of each.
    const std::string folded = fold_phrase(phrase);
    list.longest = std::max(list.longest, folded.size());
    if (!folded.empty()) list.first_bytes.set(static_cast<unsigned char>(folded[0]));
    list.values.insert_or_assign(folded, value);
    const bool is_new = std::none_of(list.words.begin(), list.words.end(),
                                     [&](const auto& word) { return word.first == phrase; });
    if (is_new) list.words.emplace_back(phrase, std::move(value));
  }

  void read_lists(const toml::table& top, const std::string& file) {
    const toml::table* lists = top["lists"].as_table();
    if (lists == nullptr) return;
    for (const auto& [name, node] : *lists) {
      const toml::table* entry = node.as_table();
      if (entry == nullptr) {
        complain(file, node, "list " + std::string(name.str()) + " is not a table with words");
        continue;
      }
      WordList& list = list_named(name.str());
      list.cased = list.cased || entry->get("cased") != nullptr;
      if (const toml::table* words = (*entry)["words"].as_table()) {
        for (const auto& [phrase, value] : *words) {
          if (const auto text = value.value<std::string>()) {
            add_word(list, phrase.str(), *text);
          } else if (const auto number = value.value<std::int64_t>()) {
            add_word(list, phrase.str(), std::to_string(*number));
          } else {
            complain(file, value, "the value of a word must be text or a whole number");
          }
        }
      } else if (const toml::array* plain = (*entry)["words"].as_array()) {
        for (const auto& word : *plain) {
          if (const auto text = word.value<std::string>()) {
            add_word(list, *text, *text);
          } else {
            complain(file, word, "a word must be text");
          }
        }
      } else {
        complain(file, node, "list " + std::string(name.str()) + " has no words");
      }
    }
  }

  void read_patterns(const toml::table& top, const std::string& file, bool is_checked) {
    const toml::array* patterns = top["pattern"].as_array();
    if (patterns == nullptr) return;
    for (const auto& node : *patterns) {
      if (const toml::table* entry = node.as_table()) read_pattern(*entry, file, is_checked);
    }
  }

  void read_pattern(const toml::table& entry, const std::string& file, bool is_checked) {
    auto pattern = std::make_unique<Pattern>();
    pattern->kind = entry["kind"].value_or(std::string{});
    pattern->name = entry["name"].value_or(std::string{});
    pattern->why = "pattern " + pattern->name;
    pattern->file = file;
    const auto match = entry["match"].value<std::string>();
    if (pattern->kind.empty() || pattern->name.empty() || !match) {
      complain(file, entry, "a pattern needs kind, name and match; this one is left out");
      return;
    }
    const auto expanded = expand(*match, entry, file, pattern->list_slots);
    if (!expanded) return;
    pattern->source = *expanded;
    pattern->cased = entry["cased"].value_or(false);
    if (is_checked && !pattern->compiled().re->ok()) {
      complain(file, entry,
               "pattern \"" + pattern->name + "\" is refused: " + pattern->compiled().re->error() +
                   "; this pattern is left out");
      return;
    }
    if (!read_starts(entry, file, *pattern)) return;
    if (const toml::table* fixed = entry["set"].as_table()) {
      for (const auto& [key, value] : *fixed) {
        pattern->set[std::string(key.str())] = value.value_or(std::string{});
      }
    }
    grammars_.patterns_.push_back(std::move(pattern));
  }

  bool read_starts(const toml::table& entry, const std::string& file, Pattern& pattern) {
    static const std::map<std::string, std::uint64_t, std::less<>> kClasses = {
        {"@number", kStartsNumber}, {"@capital", kStartsCapital}, {"@mixed", kStartsMixed},
        {"@quote", kStartsQuote},   {"@bracket", kStartsBracket}, {"@any", kStartsAny}};
    const toml::array* starts = entry["starts"].as_array();
    if (starts == nullptr || starts->empty()) {
      complain(file, entry,
               "pattern \"" + pattern.name +
                   "\" has no starts: name the lists or classes (@number, @capital, "
                   "@mixed, @quote, @bracket, @any) it may begin with");
      return false;
    }
    for (const auto& node : *starts) {
      const std::string name = node.value_or(std::string{});
      if (const auto found = kClasses.find(name); found != kClasses.end()) {
        pattern.starts |= found->second;
      } else if (list_by_name_.contains(name)) {
        auto& bit = grammars_.bits_[name];
        if (bit == 0) {
          if (next_bit_ > 63) {
            complain(file, node, "more than 58 lists stand in starts; this pattern is left out");
            return false;
          }
          bit = std::uint64_t{1} << next_bit_++;
        }
        pattern.starts |= bit;
      } else {
        complain(file, node, "starts names \"" + name + "\", which is neither a list nor a class");
        return false;
      }
    }
    return true;
  }

  // {list} and {list:slot} become a named group of the list's words, the longest first.
  std::optional<std::string> expand(const std::string& match, const toml::table& entry,
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
      if (close == std::string::npos) {
        complain(file, entry, "a { without its } in match");
        return std::nullopt;
      }
      std::string name = match.substr(i + 1, close - i - 1);
      std::string slot = name;
      if (const std::size_t colon = name.find(':'); colon != std::string::npos) {
        slot = name.substr(colon + 1);
        name.resize(colon);
      }
      const auto found = list_by_name_.find(name);
      if (found == list_by_name_.end()) {
        complain(file, entry, "match names the list \"" + name + "\", which no grammar file holds");
        return std::nullopt;
      }
      out += "(?P<" + slot + ">" + alternatives(*found->second) + ")";
      slots.emplace_back(slot, found->second);
      i = close;
    }
    return out;
  }

  static std::string alternatives(const WordList& list) {
    std::vector<std::string> phrases;
    for (const auto& [phrase, value] : list.words) phrases.push_back(phrase);
    std::sort(phrases.begin(), phrases.end(), [](const auto& a, const auto& b) {
      return a.size() != b.size() ? a.size() > b.size() : a < b;
    });
    std::string out;
    for (const auto& phrase : phrases) {
      if (!out.empty()) out += '|';
      out += list.cased ? "(?-i:" + quoted(phrase) + ")" : quoted(phrase);
    }
    return "(?:" + out + ")";
  }

  // An apostrophe in a phrase stands for either form of it; after the last letter a word ends.
  static std::string quoted(std::string_view phrase) {
    std::string out;
    for (const char c : phrase) {
      if (c == '\'') {
        out += "['’]";
      } else if (std::string_view("\\^$.|?*+()[]{}").find(c) != std::string_view::npos) {
        out += '\\';
        out += c;
      } else {
        out += c;
      }
    }
    const char last = phrase.empty() ? ' ' : phrase.back();
    const bool is_word = (last >= 'a' && last <= 'z') || (last >= 'A' && last <= 'Z') ||
                         (last >= '0' && last <= '9');
    return is_word ? out + "\\b" : out;
  }

  void index_words() {
    std::size_t count = 0;
    for (const auto& list : grammars_.lists_) count += list->values.size();
    grammars_.word_values_.reserve(count);
    for (const auto& list : grammars_.lists_) {
      if (list->number >= ListSet().size()) break;
      for (const auto& [phrase, value] : list->values) {
        if (phrase.find(' ') != std::string::npos) continue;
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
  struct File {
    std::string name;
    toml::table top;
    bool is_checked = true;  // its patterns are compiled at once
  };
  std::vector<File> files_;
  unsigned next_bit_ = kFirstListBit;
};

Grammars Grammars::read(const std::vector<GrammarText>& built_in,
                        const std::vector<std::string>& folders, std::string_view language,
                        Complaints& complaints) {
  GrammarReader reader(language, complaints);
  for (const GrammarText& text : built_in) reader.read_text(text.text, text.name, text.is_proven);
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
      reader.read_text(text.value(), path.string());
    }
  }
  return reader.finish();
}

}  // namespace tailproof
