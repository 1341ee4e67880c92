#include "grammars/grammar_file.h"

#include <algorithm>
#include <deque>
#include <set>

#include "source/toml.h"

namespace tailproof {
namespace {

/// What a file's texts point into.
struct TomlText {
  toml::table top;
  std::deque<std::string> made;  // values that are numbers, phrases made of others
};

using Words = std::vector<std::pair<std::string_view, std::string_view>>;

class TomlReader {
 public:
  TomlReader(TomlText& text, const std::string& file, Complaints& complaints)
      : text_(text), complaints_(complaints) {
    grammar_.file = file;
  }

  GrammarFile read() {
    for (const auto& [key, node] : text_.top) {
      if (key != "language" && key != "lists" && key != "pattern" && key != "about") {
        complain(node, "unknown key " + std::string(key.str()) +
                           ", expected language, about, lists or pattern");
      }
    }
    if (const toml::table* lists = text_.top["lists"].as_table()) {
      for (const auto& [name, node] : *lists) read_list(name.str(), node);
      for (const auto& [name, node] : *lists) fill_in(name.str());
      for (const auto& [name, node] : *lists) share(name.str(), node);
    }
    if (const toml::array* patterns = text_.top["pattern"].as_array()) {
      for (const auto& node : *patterns) {
        if (const toml::table* entry = node.as_table()) read_pattern(*entry);
      }
    }
    return std::move(grammar_);
  }

 private:
  static GrammarFile::Place place_of(const toml::node& node) {
    return {node.source().begin.line, node.source().begin.column};
  }

  void complain(const toml::node& node, std::string message) {
    const GrammarFile::Place at = place_of(node);
    complaints_.push_back({grammar_.file, at.line, at.column, std::move(message), false});
  }

  static std::string_view text_or_nothing(const toml::node* node) {
    const auto* text = node == nullptr ? nullptr : node->as_string();
    return text == nullptr ? std::string_view{} : std::string_view(text->get());
  }

  void read_list(std::string_view name, const toml::node& node) {
    const toml::table* entry = node.as_table();
    if (entry == nullptr) {
      complain(node, "list " + std::string(name) + " is not a table with words");
      return;
    }
    GrammarFile::List& list = grammar_.lists.emplace_back();
    list.name = name;
    list.is_cased = entry->get("cased") != nullptr;
    if (const toml::table* words = (*entry)["words"].as_table()) {
      list.words.reserve(words->size());
      for (const auto& [phrase, value] : *words) {
        if (value.is_string()) {
          list.words.emplace_back(phrase.str(), text_or_nothing(&value));
        } else if (const auto number = value.value<std::int64_t>()) {
          list.words.emplace_back(phrase.str(), text_.made.emplace_back(std::to_string(*number)));
        } else {
          complain(value, "the value of a word must be text or a whole number");
        }
      }
    } else if (const toml::array* plain = (*entry)["words"].as_array()) {
      for (const auto& word : *plain) {
        if (word.is_string()) {
          list.words.emplace_back(text_or_nothing(&word), text_or_nothing(&word));
        } else {
          complain(word, "a word must be text");
        }
      }
    } else {
      complain(node, "list " + std::string(name) + " has no words");
    }
  }

  GrammarFile::List* list_named(std::string_view name) {
    const auto at = std::find_if(grammar_.lists.begin(), grammar_.lists.end(),
                                 [&](const auto& list) { return list.name == name; });
    return at == grammar_.lists.end() ? nullptr : &*at;
  }

  // A phrase that the list has already keeps its value.
  static void add_new(GrammarFile::List& list, const Words& words) {
    std::set<std::string_view> known;
    for (const auto& [phrase, value] : list.words) known.insert(phrase);
    for (const auto& word : words) {
      if (known.insert(word.first).second) list.words.push_back(word);
    }
  }

  // "the {date_nth} {date_weekday} of" = "weekday:{date_nth}:{date_weekday}": one phrase for each
  // phrase of the lists named, and their values in its value.
  void fill_in(std::string_view name) {
    GrammarFile::List* list = list_named(name);
    if (list == nullptr) return;
    Words plain, made;
    for (const auto& word : list->words) {
      (word.first.find('{') == std::string_view::npos ? plain : made).push_back(word);
    }
    if (made.empty()) return;
    for (std::size_t i = 0; i < made.size(); ++i) {
      const auto [phrase, value] = made[i];
      const std::size_t open = phrase.find('{');
      if (open == std::string_view::npos) continue;
      const std::size_t size = std::min(phrase.find('}', open), phrase.size() - 1) - open + 1;
      const std::string_view slot = phrase.substr(open, size);
      const GrammarFile::List* others = list_named(slot.substr(1, size - 2));
      if (others == nullptr || others == list) {
        complaints_.push_back({grammar_.file, 0, 0,
                               "\"" + std::string(phrase) + "\" of list " + std::string(name) +
                                   " names no other list of this file; the phrase is left out",
                               false});
        continue;
      }
      for (const auto& [other, its_value] : others->words) {
        made.emplace_back(put(phrase, slot, other), put(value, slot, its_value));
      }
    }
    std::erase_if(made, [](const auto& word) { return word.first.find('{') != word.first.npos; });
    list->words = std::move(plain);
    add_new(*list, made);
  }

  std::string_view put(std::string_view text, std::string_view slot, std::string_view words) {
    const std::size_t at = text.find(slot);
    if (at == std::string_view::npos) return text;
    return text_.made.emplace_back(std::string(text).replace(at, slot.size(), words));
  }

  // The phrases of one list are phrases of others as well.
  void share(std::string_view name, const toml::node& node) {
    const toml::table* entry = node.as_table();
    const toml::array* others = entry == nullptr ? nullptr : (*entry)["also"].as_array();
    if (others == nullptr) return;
    for (const auto& other : *others) {
      GrammarFile::List* list = list_named(text_or_nothing(&other));
      if (list == nullptr || list->name == name) {
        complain(other, "also names no other list of this file");
        continue;
      }
      GrammarFile::List& own = *list_named(name);
      own.is_shared = true;
      add_new(*list, own.words);
    }
  }

  void read_pattern(const toml::table& entry) {
    GrammarFile::Pattern& pattern = grammar_.patterns.emplace_back();
    pattern.at = place_of(entry);
    pattern.kind = text_or_nothing(entry.get("kind"));
    pattern.name = text_or_nothing(entry.get("name"));
    if (const toml::node* match = entry.get("match"); match != nullptr && match->is_string()) {
      pattern.match = text_or_nothing(match);
    }
    pattern.is_cased = entry["cased"].value_or(false);
    if (const toml::array* starts = entry["starts"].as_array()) {
      for (const auto& node : *starts) {
        pattern.starts.push_back({text_or_nothing(&node), place_of(node)});
      }
    }
    if (const toml::table* fixed = entry["set"].as_table()) {
      for (const auto& [key, value] : *fixed) {
        pattern.set.emplace_back(key.str(), text_or_nothing(&value));
      }
    }
  }

  TomlText& text_;
  Complaints& complaints_;
  GrammarFile grammar_;
};

// The packed form: fields one after the other, each with a byte behind it that no grammar holds; a
// list of anything begins with its length.
constexpr char kEndOfField = '\x1f';

class Packer {
 public:
  void add(std::string_view field) {
    bytes_ += field;
    bytes_ += kEndOfField;
  }
  void add(std::size_t number) { add(std::to_string(number)); }
  void add(const std::vector<std::pair<std::string_view, std::string_view>>& pairs) {
    add(pairs.size());
    for (const auto& [first, second] : pairs) {
      add(first);
      add(second);
    }
  }
  [[nodiscard]] std::string take() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

class Unpacker {
 public:
  explicit Unpacker(std::string_view bytes) : rest_(bytes) {}

  std::string_view text() {
    const std::size_t end = std::min(rest_.find(kEndOfField), rest_.size());
    const std::string_view field = rest_.substr(0, end);
    rest_.remove_prefix(std::min(end + 1, rest_.size()));
    return field;
  }
  std::size_t number() {
    std::size_t value = 0;
    for (const char c : text()) value = value * 10 + static_cast<std::size_t>(c - '0');
    return value;
  }
  bool flag() { return number() != 0; }
  void read(std::vector<std::pair<std::string_view, std::string_view>>& pairs) {
    pairs.resize(number());
    for (auto& [first, second] : pairs) {
      first = text();
      second = text();
    }
  }

 private:
  std::string_view rest_;
};

}  // namespace

std::optional<GrammarFile> read_grammar_toml(std::string_view text, const std::string& file,
                                             std::string_view language, Complaints& complaints) {
  toml::parse_result parsed = toml::parse(text, file);
  if (!parsed) {
    const toml::parse_error& error = parsed.error();
    complaints.push_back(
        {file, error.source().begin.line, error.source().begin.column,
         "not TOML: " + std::string(error.description()) + "; this grammar file is left out",
         false});
    return std::nullopt;
  }
  const auto owner = std::make_shared<TomlText>();
  owner->top = std::move(parsed).table();
  const auto* own = owner->top["language"].as_string();
  if (own != nullptr && !language.empty() && own->get() != language) return std::nullopt;
  GrammarFile grammar = TomlReader(*owner, file, complaints).read();
  if (own != nullptr) grammar.language = own->get();
  grammar.owner = owner;
  return grammar;
}

std::string pack_grammar(const GrammarFile& grammar) {
  Packer packer;
  packer.add(grammar.language);
  packer.add(grammar.lists.size());
  for (const GrammarFile::List& list : grammar.lists) {
    packer.add(list.name);
    packer.add(std::size_t{list.is_cased});
    packer.add(list.words);
  }
  packer.add(grammar.patterns.size());
  for (const GrammarFile::Pattern& pattern : grammar.patterns) {
    packer.add(pattern.kind);
    packer.add(pattern.name);
    packer.add(pattern.match.value_or(""));
    packer.add(std::size_t{pattern.is_cased});
    packer.add(pattern.starts.size());
    for (const GrammarFile::Start& start : pattern.starts) packer.add(start.name);
    packer.add(pattern.set);
  }
  return packer.take();
}

GrammarFile unpack_grammar(std::string_view packed, const std::string& file) {
  Unpacker unpacker(packed);
  GrammarFile grammar;
  grammar.file = file;
  grammar.language = unpacker.text();
  grammar.lists.resize(unpacker.number());
  for (GrammarFile::List& list : grammar.lists) {
    list.name = unpacker.text();
    list.is_cased = unpacker.flag();
    unpacker.read(list.words);
  }
  grammar.patterns.resize(unpacker.number());
  for (GrammarFile::Pattern& pattern : grammar.patterns) {
    pattern.kind = unpacker.text();
    pattern.name = unpacker.text();
    pattern.match = unpacker.text();
    pattern.is_cased = unpacker.flag();
    pattern.starts.resize(unpacker.number());
    for (GrammarFile::Start& start : pattern.starts) start.name = unpacker.text();
    unpacker.read(pattern.set);
  }
  return grammar;
}

}  // namespace tailproof
