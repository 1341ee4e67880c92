// The manual page, made from the tables of verbs and options; what they do not hold stands here.
#include <map>
#include <string>
#include <string_view>

#include "cli/verb_table.h"
#include "report/report.h"

namespace tailproof {

namespace {

/// Text as roff takes it: nothing in it is a request or an escape.
std::string roff(std::string_view text) {
  std::string words;
  bool at_line_begin = true;
  for (const char c : text) {
    if (at_line_begin && (c == '.' || c == '\'')) {
      words += "\\&";
    }
    if (c == '\\') {
      words += "\\e";
    } else if (c == '-') {
      words += "\\-";
    } else {
      words += c;
    }
    at_line_begin = c == '\n';
  }
  return words;
}

std::string option_heading(const OptionHelp& option) {
  std::string heading = "\\fB" + roff(option.long_name()) + "\\fR";
  if (!option.short_name().empty()) {
    heading += ", \\fB" + roff(option.short_name()) + "\\fR";
  }
  return option.takes_value() ? heading + " \\fIVALUE\\fR" : heading;
}

struct Described {
  OptionHelp option;
  std::vector<std::string> verbs;
};

/// Each option once, with the verbs that take it; where its words differ by verb, all are told.
std::string options_section(const std::vector<VerbHelp>& verbs) {
  std::vector<Described> all;
  for (const VerbHelp& verb : verbs) {
    for (const OptionHelp& option : verb.options) {
      auto found = all.begin();
      while (found != all.end() && found->option.spelling != option.spelling) {
        ++found;
      }
      if (found == all.end()) {
        all.push_back({option, {verb.word}});
      } else {
        found->verbs.push_back(verb.word);
      }
    }
  }
  std::string page;
  for (const Described& row : all) {
    page += ".TP\n" + option_heading(row.option) + "\n" + roff(row.option.help) + "\n(" +
            roff(listed(row.verbs)) + ")\n";
  }
  return page;
}

constexpr std::string_view kDescription =
    "An author of aircraft histories states several things in each caption: which airframe this "
    "is,\n"
    "its type and mark, the unit that held or flew it, who stands beside it, where, when, and "
    "which\n"
    "markings it wears.\n"
    ".B tailproof\n"
    "reads the manuscript (DocBook, Markdown, plain text, or a caption list in CSV), extracts "
    "these\n"
    "claims and holds each against a\n"
    ".IR ledger ,\n"
    "the author's evidence in plain tables, and against the other claims. It reports every\n"
    "contradiction where it stands, with the evidence and its source.\n"
    ".PP\n"
    "It never edits a manuscript or a ledger, and it never says that a claim is true: only that "
    "the\n"
    "evidence upholds it, contradicts it, or does not reach it.\n"
    ".PP\n"
    "A PATH is a file, a folder, which is walked, or \\- for standard input.\n";

constexpr std::string_view kRest =
    ".SH EXIT STATUS\n"
    ".TP\n0\nno query at or above the level of \\-\\-at\\-least\n"
    ".TP\n1\nsome\n"
    ".TP\n2\nsomething could not be read or done; one line on standard error says what and where\n"
    ".SH ENVIRONMENT\n"
    ".TP\nNO_COLOR\nwhen it is set and not empty, nothing is coloured unless \\-\\-color asks for "
    "it\n"
    ".TP\nTERM\n\"dumb\" turns colour and the line of progress off\n"
    ".SH FILES\n"
    ".TP\ntailproof.toml\nthe project file: ledger, manuscripts, levels of checks, margins; looked "
    "for in the "
    "folder of the first PATH and upward\n"
    ".TP\nledger.toml\nmakes a folder a ledger; its tables stand beside it\n"
    ".TP\nstets.csv\nbeside a manuscript: decisions to let a claim stand\n"
    ".TP\ngrammars/*.toml\nbeside a ledger: words and patterns of its own\n";

}  // namespace

std::string manual_page() {
  const std::vector<VerbHelp> verbs = described_verbs();
  std::string page = ".TH TAILPROOF 1 \"\" \"tailproof " TAILPROOF_VERSION "\" \"User Commands\"\n";
  page +=
      ".SH NAME\ntailproof \\- check manuscripts about aircraft against a ledger of evidence\n"
      ".SH SYNOPSIS\n";
  for (const VerbHelp& verb : verbs) {
    page += ".B tailproof " + roff(verb.word) + "\n[\\fIoptions\\fR] \\fI" + roff(verb.operands) +
            "\\fR\n.br\n";
  }
  page += ".SH DESCRIPTION\n" + std::string(kDescription) + ".SH VERBS\n";
  for (const VerbHelp& verb : verbs) {
    page += ".TP\n.B " + roff(verb.word) + "\n" + roff(verb.summary) + "\n";
  }
  page += ".SH OPTIONS\n.TP\n\\fB\\-\\-help\\fR, \\fB\\-h\\fR\nprint the options of a verb\n";
  page += ".TP\n\\fB\\-\\-version\\fR\nprint the version\n";
  page += options_section(verbs) + std::string(kRest) + ".SH EXAMPLES\n";
  for (const VerbHelp& verb : verbs) {
    for (const Example& example : verb.examples) {
      page += ".TP\n\\fB" + roff(example.command) + "\\fR\n" + roff(example.says) + "\n";
    }
  }
  return page;
}

}  // namespace tailproof
