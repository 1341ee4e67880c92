#include "cli/command_line.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <system_error>
#include <thread>

#include "cli/verb_table.h"
#include "report/report.h"
#include "run/paths.h"
#include "source/nearest.h"

namespace tailproof {

namespace {

constexpr unsigned kJobsLeast = 1;
constexpr unsigned kJobsMost = 256;

constexpr std::string_view kAfterHelp =
    "PATH is a file, a folder (walked), or - for standard input.\n"
    "Exit status: 0 no query at or above --at-least, 1 some, 2 could not run or bad input.\n";

bool contains(const std::vector<std::string>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

CLI::Validator one_of(std::vector<std::string> words) {
  return CLI::Validator(
      [words = std::move(words)](std::string& given) {
        return contains(words, given) ? std::string()
                                      : "\"" + given + "\" is none of " + listed(words);
      },
      "");
}

// What each kind of option takes. An option adds nothing here unless its kind is new.
struct OptionAdder {
  CLI::App& app;
  const std::string& verb;
  const char* spelling;
  std::string help;

  CLI::Option* words(std::string& member, const std::vector<std::string>& taken) {
    const std::size_t gap = help.find("{}");
    if (gap != std::string::npos) {
      help.replace(gap, 2, listed(taken));
    }
    return app.add_option(spelling, member, help)->type_name("WORD")->check(one_of(taken));
  }
  void add_Text(std::string& member) { app.add_option(spelling, member, help); }
  void add_List(std::vector<std::string>& member) {
    app.add_option(spelling, member, help)
        ->delimiter(',')
        ->type_name("ID,...")
        ->take_all()
        ->allow_extra_args(false);
  }
  void add_Each(std::vector<std::string>& member) {
    app.add_option(spelling, member, help)->type_name("PATH")->take_all()->allow_extra_args(false);
  }
  void add_Flag(bool& member) { app.add_flag(spelling, member, help); }
  void add_Number(unsigned& member) {
    app.add_option(spelling, member, help)
        ->type_name("N")
        ->check(CLI::Range(kJobsLeast, kJobsMost, ""));
  }
  void add_Level(std::string& member) { words(member, words_taken("Level", verb)); }
  void add_Format(std::string& member) { words(member, words_taken("Format", verb)); }
  void add_Encoding(std::string& member) { words(member, words_taken("Encoding", verb)); }
  void add_Input(std::string& member) { words(member, words_taken("Input", verb)); }
  void add_Color(std::string& member) { words(member, words_taken("Color", verb)); }
};

void add_options(CLI::App& app, const std::string& verb, CommandLine& line) {
#define TAILPROOF_OPTION(spelling, kind, member, verbs, help)       \
  if (contains(split_words(verbs), verb)) {                         \
    OptionAdder{app, verb, spelling, help}.add_##kind(line.member); \
  }
#include "cli/options.inc"
#undef TAILPROOF_OPTION
}

enum class Operands { Paths, Lines, Airframe, Check, Ledger, Shell, Nothing };

void add_operands(CLI::App& app, Operands operands, CommandLine& line) {
  switch (operands) {
    case Operands::Paths:
      app.add_option("PATH", line.paths, "manuscripts: files, folders or -")->type_name("");
      break;
    case Operands::Lines:
      app.add_option("PATH", line.paths,
                     "manuscripts: files, folders or -; FILE:LINE for one caption")
          ->type_name("");
      break;
    case Operands::Airframe:
      app.add_option("SERIAL", line.name, "serial or other identity")->type_name("");
      app.add_option("PATH", line.paths, "manuscripts: files, folders or -")->type_name("");
      break;
    case Operands::Check:
      app.add_option("ID", line.name, "the check whose page is printed")->type_name("");
      break;
    case Operands::Ledger:
      app.add_option("LEDGER", line.ledger, "the same as --ledger")->type_name("");
      break;
    case Operands::Shell:
      app.add_option("SHELL", line.name, listed(known_shells()))->type_name("");
      break;
    case Operands::Nothing:
      break;
  }
}

struct Verb {
  const char* word;
  Operands operands;
  const char* summary;
};

constexpr Verb kVerbs[] = {
#define TAILPROOF_VERB(word, function, operands, summary) {#word, Operands::operands, summary},
#include "cli/verbs.inc"
#undef TAILPROOF_VERB
};

/// "Examples:" and each with what it does.
std::string examples_of(std::string_view word) {
  std::string text = "\nExamples:";
  for (const VerbHelp& verb : described_verbs()) {
    for (const Example& example : verb.word == word ? verb.examples : std::vector<Example>{}) {
      text += "\n  " + std::string(example.command) + "\n      " + std::string(example.says);
    }
  }
  return text;
}

std::vector<std::string> verb_words() {
  std::vector<std::string> words;
  for (const Verb& verb : kVerbs) {
    words.emplace_back(verb.word);
  }
  return words;
}

/// What is wrong with words that no option or operand takes: the first, and what was perhaps meant.
std::string about_unwanted(const CLI::App& app, const std::string& verb) {
  const std::vector<std::string> unwanted = app.remaining(true);
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_subcommand(verb)->get_options()) {
    for (const std::string& name : option->get_lnames()) {
      names.push_back("--" + name);
    }
  }
  const std::string word = unwanted.empty() ? "" : unwanted.front();
  return verb + " takes no \"" + word + "\"" +
         (word.starts_with("--") ? perhaps_meant(word, names) : "");
}

Answer mistake(const std::string& message) { return Answer{"tailproof: " + message + "\n", 2}; }

}  // namespace

std::variant<CommandLine, Answer> parse_command_line(int count, const char* const* words) {
  const std::vector<std::string> verbs = verb_words();
  if (count < 2) {
    return mistake("no verb given; the verbs are " + listed(verbs) +
                   " (tailproof --help tells more)");
  }
  const std::string first = words[1];
  if (!first.starts_with('-') && !contains(verbs, first)) {
    const std::string meant = nearest(first, verbs);
    return mistake("unknown verb \"" + first + "\"; " +
                   (meant.empty() ? "" : "\"" + meant + "\" was perhaps meant; ") +
                   "the verbs are " + listed(verbs));
  }

  CLI::App app("Checks manuscripts about aircraft against a ledger of evidence.", "tailproof");
  app.set_version_flag("--version", "tailproof " TAILPROOF_VERSION, "print the version");
  app.set_help_flag("--help,-h", "print this help");
  app.require_subcommand(1);
  app.footer(std::string(kAfterHelp));
  CommandLine line;
  for (const Verb& verb : kVerbs) {
    CLI::App* sub = app.add_subcommand(verb.word, verb.summary);
    sub->callback([&line, word = verb.word] { line.verb = word; });
    add_operands(*sub, verb.operands, line);
    add_options(*sub, verb.word, line);
    sub->footer(examples_of(verb.word));
  }
  try {
    app.parse(count, words);
  } catch (const CLI::CallForHelp&) {
    const std::vector<CLI::App*> asked = app.get_subcommands();
    return Answer{asked.empty() ? app.help() : asked.front()->help("tailproof"), 0};
  } catch (const CLI::CallForVersion&) {
    return Answer{"tailproof " TAILPROOF_VERSION "\n", 0};
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() == static_cast<int>(CLI::ExitCodes::ExtrasError) &&
        contains(verbs, first)) {
      return mistake(about_unwanted(app, first) + " (tailproof " + first + " --help tells more)");
    }
    return mistake(std::string(error.what()) + " (tailproof " +
                   (contains(verbs, first) ? first + " " : "") + "--help tells more)");
  }
  if (line.verb == "history" && line.name.empty()) {
    return mistake("history needs a SERIAL, and PATHs where manuscripts are to be searched");
  }
  std::error_code error;
  if (line.verb == "history" && std::filesystem::is_regular_file(line.name, error)) {
    return mistake("history needs a SERIAL before the PATHs; " + line.name + " is a file");
  }
  return line;
}

Level level_of_word(std::string_view word) {
  for (const Level level : {Level::kNote, Level::kError}) {
    if (word == to_word(level)) {
      return level;
    }
  }
  return Level::kWarning;
}

RunOptions run_options(const CommandLine& line) {
  RunOptions options;
  options.paths = line.paths;
  options.ledger = line.ledger;
  options.grammars = line.grammars;
  options.plugins = line.plugins;
  options.only = line.only;
  options.skip = line.skip;
  options.language = line.language;
  options.explain = line.explain;
  options.read.format = format_of_word(line.format_in);
  options.read.encoding =
      line.encoding == "windows-1252" ? Encoding::kWindows1252 : Encoding::kUtf8;
  options.jobs = line.jobs != 0 ? line.jobs : std::max(1U, std::thread::hardware_concurrency());
  return options;
}

Result<Project> project_of(const CommandLine& line, Complaints& complaints) {
  if (line.no_project) {
    return Project{};
  }
  if (!line.project.empty()) {
    return read_project(line.project, complaints);
  }
  const std::string file = find_project(line.paths.empty() ? "" : line.paths.front());
  for (const std::string& path : line.paths) {
    if (path != "-" && canonical_path(find_project(path)) != canonical_path(file)) {
      complaints.push_back(Complaint{
          .file = path,
          .message = "does not stand under " + (file.empty() ? "a project file" : file) +
                     " as the first PATH does, which all are checked by; check it by itself",
          .is_note = true});
      break;
    }
  }
  return file.empty() ? Result<Project>(Project{}) : read_project(file, complaints);
}

std::string complete(CommandLine& line, const Project& project) {
  const bool is_of_ledger = line.verb == "audit";
  if (line.ledger.empty()) {
    line.ledger = project.ledger;
  }
  if (line.at_least.empty()) {
    line.at_least = project.at_least;
  }
  if (line.encoding.empty()) {
    line.encoding = project.encoding;
  }
  if (line.paths.empty() && !is_of_ledger) {
    line.paths = project.manuscripts;
  }
  if (is_of_ledger && line.ledger.empty()) {
    return "audit needs --ledger, or a project file that names one";
  }
  if (line.verb == "history" && line.ledger.empty() && line.paths.empty()) {
    return "history needs --ledger, or a PATH, or both";
  }
  if (line.verb != "history" && !is_of_ledger && line.paths.empty()) {
    return line.verb + " needs a PATH: a file, a folder or -";
  }
  return "";
}

}  // namespace tailproof
