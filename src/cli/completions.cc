// Completion scripts for the shells, made from the tables of verbs and options.
#include <string>
#include <string_view>

#include "cli/verb_table.h"

namespace tailproof {

namespace {

std::string spaced(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) {
    text += (text.empty() ? "" : " ") + word;
  }
  return text;
}

/// Within single quotes of a shell.
std::string shell_quoted(std::string_view text) {
  std::string words = "'";
  for (const char c : text) {
    words += c == '\'' ? std::string("'\\''") : std::string(1, c);
  }
  return words + "'";
}

std::string spellings(const OptionHelp& option, std::string_view between) {
  const std::string brief = option.short_name();
  return option.long_name() + (brief.empty() ? "" : std::string(between) + brief);
}

std::string words_of_verbs() {
  std::vector<std::string> words;
  for (const VerbHelp& verb : described_verbs()) {
    words.push_back(verb.word);
  }
  return spaced(words);
}

std::string for_bash() {
  std::string script =
      "# Completion of tailproof for bash.\n"
      "_tailproof() {\n"
      "  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} "
      "verb=${COMP_WORDS[1]}\n"
      "  COMPREPLY=()\n"
      "  if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
      "    COMPREPLY=($(compgen -W '" +
      words_of_verbs() +
      " --help --version' -- \"$word\"))\n"
      "    return\n"
      "  fi\n"
      "  case \"$verb $before\" in\n";
  std::string options;
  for (const VerbHelp& verb : described_verbs()) {
    std::string names = "--help";
    for (const OptionHelp& option : verb.options) {
      names += " " + spellings(option, " ");
      if (!option.takes_value()) {
        continue;
      }
      script += "    " + shell_quoted(verb.word + " " + option.long_name());
      if (!option.short_name().empty()) {
        script += "|" + shell_quoted(verb.word + " " + option.short_name());
      }
      script += ") ";
      if (!option.words.empty()) {
        script += "COMPREPLY=($(compgen -W '" + spaced(option.words) + "' -- \"$word\"))";
      } else if (option.kind == "List") {
        script +=
            "COMPREPLY=($(compgen -W \"$(tailproof checks 2>/dev/null | cut -d' ' -f1)\" -- "
            "\"$word\"))";
      } else {
        script += "COMPREPLY=($(compgen -f -- \"$word\"))";
      }
      script += "; return ;;\n";
    }
    options += "    " + verb.word + ") ";
    if (verb.word == "checks") {
      options +=
          "[[ $word == -* ]] || { COMPREPLY=($(compgen -W \"$(tailproof checks 2>/dev/null | cut "
          "-d' ' -f1)\" -- \"$word\")); return; }; ";
    } else if (verb.word == "completions") {
      options += "[[ $word == -* ]] || { COMPREPLY=($(compgen -W '" + spaced(known_shells()) +
                 "' -- \"$word\")); return; }; ";
    }
    options += "names='" + names + "' ;;\n";
  }
  script +=
      "  esac\n"
      "  local names=--help\n"
      "  case \"$verb\" in\n" +
      options +
      "  esac\n"
      "  if [[ $word == -* ]]; then\n"
      "    COMPREPLY=($(compgen -W \"$names\" -- \"$word\"))\n"
      "  else\n"
      "    COMPREPLY=($(compgen -f -- \"$word\"))\n"
      "  fi\n"
      "}\n"
      "complete -o filenames -F _tailproof tailproof\n";
  return script;
}

/// Text between the brackets of an _arguments specification.
std::string zsh_text(std::string_view text) {
  std::string words;
  for (const char c : text) {
    if (c == '[' || c == ']' || c == ':' || c == '\\') {
      words += '\\';
    }
    words += c;
  }
  return words;
}

std::string zsh_action(const OptionHelp& option) {
  if (!option.words.empty()) {
    return "(" + spaced(option.words) + ")";
  }
  return option.kind == "List" ? "($(tailproof checks 2>/dev/null | cut -d' ' -f1))" : "_files";
}

std::string for_zsh() {
  std::string script =
      "#compdef tailproof\n"
      "# Completion of tailproof for zsh.\n"
      "_tailproof() {\n"
      "  local -a verbs\n"
      "  verbs=(\n";
  for (const VerbHelp& verb : described_verbs()) {
    script += "    " + shell_quoted(verb.word + ":" + zsh_text(verb.summary)) + "\n";
  }
  script +=
      "  )\n"
      "  if (( CURRENT == 2 )); then\n"
      "    _describe 'verb' verbs\n"
      "    return\n"
      "  fi\n"
      "  local verb=${words[2]}\n"
      "  shift words; (( CURRENT-- ))\n"
      "  case $verb in\n";
  for (const VerbHelp& verb : described_verbs()) {
    script += "    " + verb.word + ")\n      _arguments -s '--help[print this help]'";
    for (const OptionHelp& option : verb.options) {
      const std::string value = option.takes_value() ? ":value:" + zsh_action(option) : "";
      const bool is_repeated = option.kind == "Each" || option.kind == "List";
      for (const std::string& name : {option.long_name(), option.short_name()}) {
        if (!name.empty()) {
          script += " \\\n        " + shell_quoted((is_repeated ? "*" : "") + name + "[" +
                                                   zsh_text(option.help) + "]" + value);
        }
      }
    }
    if (verb.word == "checks") {
      script += " \\\n        '1:check:($(tailproof checks 2>/dev/null | cut -d\" \" -f1))'";
    } else if (verb.word == "completions") {
      script += " \\\n        '1:shell:(" + spaced(known_shells()) + ")'";
    } else {
      script += " \\\n        '*:path:_files'";
    }
    script += "\n      ;;\n";
  }
  return script +
         "  esac\n"
         "}\n"
         "if [ \"$funcstack[1]\" = _tailproof ]; then _tailproof; else compdef _tailproof "
         "tailproof; fi\n";
}

std::string for_fish() {
  std::string script = "# Completion of tailproof for fish.\n";
  script += "complete -c tailproof -n __fish_use_subcommand -l help -d 'print this help'\n";
  script += "complete -c tailproof -n __fish_use_subcommand -l version -d 'print the version'\n";
  for (const VerbHelp& verb : described_verbs()) {
    script += "complete -c tailproof -f -n __fish_use_subcommand -a " + verb.word + " -d " +
              shell_quoted(verb.summary) + "\n";
  }
  for (const VerbHelp& verb : described_verbs()) {
    const std::string seen =
        "complete -c tailproof -n '__fish_seen_subcommand_from " + verb.word + "' ";
    for (const OptionHelp& option : verb.options) {
      script += seen + "-l " + option.long_name().substr(2);
      if (!option.short_name().empty()) {
        script += " -s " + option.short_name().substr(1);
      }
      if (!option.words.empty()) {
        script += " -x -a " + shell_quoted(spaced(option.words));
      } else if (option.kind == "List") {
        script += " -x -a \"(tailproof checks 2>/dev/null | string split -f1 ' ')\"";
      } else if (option.takes_value()) {
        script += " -r";
      }
      script += " -d " + shell_quoted(option.help) + "\n";
    }
    if (verb.word == "checks") {
      script += seen + "-f -a \"(tailproof checks 2>/dev/null | string split -f1 ' ')\"\n";
    } else if (verb.word == "completions") {
      script += seen + "-f -a " + shell_quoted(spaced(known_shells())) + "\n";
    }
  }
  return script;
}

}  // namespace

std::string completions_for(std::string_view shell) {
  if (shell == "bash") {
    return for_bash();
  }
  if (shell == "zsh") {
    return for_zsh();
  }
  return shell == "fish" ? for_fish() : "";
}

}  // namespace tailproof
