#include "cli/verb_table.h"

#include <algorithm>

#include "report/report.h"

namespace tailproof {

namespace {

struct VerbRow {
  const char* word;
  const char* operands;
  const char* summary;
};

constexpr VerbRow kVerbRows[] = {
#define TAILPROOF_VERB(word, function, operands, summary) {#word, #operands, summary},
#include "cli/verbs.inc"
#undef TAILPROOF_VERB
};

struct OptionRow {
  const char* spelling;
  const char* kind;
  const char* verbs;
  const char* help;
};

constexpr OptionRow kOptionRows[] = {
#define TAILPROOF_OPTION(spelling, kind, member, verbs, help) {spelling, #kind, verbs, help},
#include "cli/options.inc"
#undef TAILPROOF_OPTION
};

struct ExampleRow {
  const char* verb;
  const char* command;
  const char* says;
};

constexpr ExampleRow kExampleRows[] = {
#define TAILPROOF_EXAMPLE(verb, command, says) {#verb, command, says},
#include "cli/examples.inc"
#undef TAILPROOF_EXAMPLE
};

std::string operands_in_words(std::string_view operands) {
  struct Row {
    std::string_view operands, words;
  };
  constexpr Row kRows[] = {{"Lines", "[PATH or FILE:LINE...]"},
                           {"Paths", "[PATH...]"},
                           {"Airframe", "SERIAL [PATH...]"},
                           {"Check", "[ID]"},
                           {"Ledger", "[LEDGER]"},
                           {"Shell", "SHELL"},
                           {"Nothing", ""}};
  for (const Row& row : kRows) {
    if (row.operands == operands) {
      return std::string(row.words);
    }
  }
  return "[PATH...]";
}

}  // namespace

std::string OptionHelp::long_name() const { return spelling.substr(0, spelling.find(',')); }

std::string OptionHelp::short_name() const {
  const std::size_t comma = spelling.find(',');
  return comma == std::string::npos ? "" : spelling.substr(comma + 1);
}

std::vector<VerbHelp> described_verbs() {
  std::vector<VerbHelp> verbs;
  for (const VerbRow& row : kVerbRows) {
    VerbHelp verb{row.word, operands_in_words(row.operands), row.summary, {}, {}};
    for (const OptionRow& option : kOptionRows) {
      const std::vector<std::string> taking = split_words(option.verbs);
      if (std::find(taking.begin(), taking.end(), row.word) == taking.end()) {
        continue;
      }
      OptionHelp help{option.spelling, option.kind, words_taken(option.kind, row.word),
                      option.help};
      if (const std::size_t gap = help.help.find("{}"); gap != std::string::npos) {
        help.help.replace(gap, 2, listed(help.words));
      }
      verb.options.push_back(std::move(help));
    }
    for (const ExampleRow& example : kExampleRows) {
      if (verb.word == example.verb) {
        verb.examples.push_back({example.command, example.says});
      }
    }
    verbs.push_back(std::move(verb));
  }
  return verbs;
}

std::vector<std::string> words_taken(std::string_view kind, std::string_view verb) {
  if (kind == "Level") {
    return {"note", "warning", "error"};
  }
  if (kind == "Format") {
    return formats_of(verb);
  }
  if (kind == "Encoding") {
    return {"utf-8", "windows-1252"};
  }
  if (kind == "Input") {
    return {"docbook", "markdown", "text", "captions"};
  }
  if (kind == "Color") {
    return {"auto", "always", "never"};
  }
  return {};
}

std::vector<std::string> split_words(std::string_view words) {
  std::vector<std::string> list;
  std::string word;
  for (const char c : words) {
    if (c != ' ') {
      word += c;
    } else {
      list.push_back(std::move(word));
      word.clear();
    }
  }
  list.push_back(std::move(word));
  return list;
}

std::string listed(const std::vector<std::string>& words) {
  std::string list;
  for (const std::string& word : words) {
    list += (list.empty() ? "" : ", ") + word;
  }
  return list;
}

std::vector<std::string> known_shells() { return {"bash", "zsh", "fish"}; }

}  // namespace tailproof
