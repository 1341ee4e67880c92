// How well claims are extracted: the hand-annotated corpus against what the program reads.
//
//   tailproof_score [-v] PART...     a PART is a folder of folders, each with a ledger/,
//   manuscripts
//                                    and for each manuscript an annotation MANUSCRIPT.claims
//
// A claim is right when an annotated block has one of the same kind and value: dates by their first
// and last day, types when the words of one are among those of the other, events by their kind,
// descriptions (count, measure, order_in_time, overpaint) by their kind alone. A subject is right
// when the right claim has it too. Only blocks that are annotated count; credits by photograph
// number are left out unless annotated. Exit status 1 when a figure is below --min or
// --min-subject.
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <sstream>

#include "annotations.h"
#include "run/run.h"
#include "tailproof/edtf.h"
#include "tailproof/figure_key.h"

namespace {

namespace fs = std::filesystem;
using tailproof::Block;
using tailproof::Claim;
using tailproof::corpus::AnnotatedBlock;
using tailproof::corpus::Annotation;

struct Tally {
  int right = 0, missed = 0, extra = 0, subject = 0;

  [[nodiscard]] double precision() const { return ratio(right, right + extra); }
  [[nodiscard]] double recall() const { return ratio(right, right + missed); }
  [[nodiscard]] double f1() const { return ratio(2 * right, 2 * right + missed + extra); }
  [[nodiscard]] double subject_f1() const { return ratio(2 * subject, 2 * right + missed + extra); }
  static double ratio(int part, int whole) {
    return whole == 0 ? 1.0 : static_cast<double>(part) / static_cast<double>(whole);
  }
};

std::string folded(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == ' ' && (out.empty() || out.back() == ' ')) continue;
    out += static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  }
  return out;
}

std::set<std::string> words_of(std::string_view text) {
  std::istringstream in{folded(text)};
  return {std::istream_iterator<std::string>(in), {}};
}

// "Fig. 2.1", "Figure 2.1" and a bare "2.1" are one label.
bool same_label(std::string_view a, std::string_view b) {
  if (folded(a) == folded(b)) return true;
  const auto of_a = tailproof::figure_keys(a), of_b = tailproof::figure_keys(b);
  return !of_a.empty() && of_a == of_b;
}

bool is_described(std::string_view kind) {
  return kind == "count" || kind == "measure" || kind == "order_in_time" || kind == "overpaint";
}

// A date with a bound ("by the end of June") agrees with the plain one that the words name.
bool same_days(const tailproof::DaySet& a, const tailproof::DaySet& b) {
  if (a == b) return true;
  const auto is_open = [](const tailproof::DaySet& days, bool at_start) {
    return at_start ? days.first() <= tailproof::kFirstDay : days.last() >= tailproof::kLastDay;
  };
  if (is_open(a, true) != is_open(b, true)) return a.last() == b.last();
  if (is_open(a, false) != is_open(b, false)) return a.first() == b.first();
  return false;
}

bool same_value(const Annotation& gold, const Claim& got) {
  if (is_described(gold.kind)) return true;
  if (gold.kind == "date") {
    const auto a = tailproof::Edtf::parse(gold.value), b = tailproof::Edtf::parse(got.value);
    if (!a || !b) return folded(gold.value) == folded(got.value);
    return same_days(a.value().days(), b.value().days());
  }
  if (gold.kind == "type") {
    const auto a = words_of(gold.value), b = words_of(got.value);
    return std::includes(a.begin(), a.end(), b.begin(), b.end()) ||
           std::includes(b.begin(), b.end(), a.begin(), a.end());
  }
  if (gold.kind == "event") return words_of(gold.value).count(folded(got.value)) != 0;
  if (gold.kind == "reference")
    return same_label(gold.value, got.value) || folded(gold.value) == folded(got.value);
  return folded(gold.value) == folded(got.value);
}

bool same_subject(const Annotation& gold, const Claim& got) {
  return folded(gold.subject) == folded(got.subject) ||
         (!gold.subject.empty() && !got.subject.empty() && same_label(gold.subject, got.subject));
}

class Scorer {
 public:
  explicit Scorer(bool verbose) : verbose_(verbose) {}

  bool score_folder(const fs::path& folder) {
    tailproof::RunOptions options;
    options.ledger = (folder / "ledger").string();
    std::vector<fs::path> annotated;
    for (const auto& entry : fs::directory_iterator(folder)) {
      if (entry.path().extension() == ".claims") annotated.push_back(entry.path());
    }
    std::sort(annotated.begin(), annotated.end());
    bool good = !annotated.empty();
    for (const fs::path& file : annotated) {
      options.paths = {(file.parent_path() / file.stem()).string()};
      good = score_file(file, tailproof::extract(options)) && good;
    }
    return good;
  }

  void print(const std::string& name) const {
    fmt::print("{}: {} captions and {} other blocks\n", name, captions_, others_);
    fmt::print("  {:<14} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>8}\n", "kind", "right", "missed",
               "extra", "P", "R", "F1", "subject");
    for (const auto& [kind, tally] : kinds_) print_row(kind, tally);
    print_row("all", total());
    fmt::print(
        "  of the right ones: polarity {:.3f}, hedged {:.3f}, attributed {:.3f}, shown {:.3f}, of "
        "{:.3f}\n",
        Tally::ratio(polarity_, total().right), Tally::ratio(hedged_, total().right),
        Tally::ratio(attributed_, total().right), Tally::ratio(shown_, total().right),
        Tally::ratio(of_right_, dates_));
  }

  [[nodiscard]] Tally total() const {
    Tally sum;
    for (const auto& [kind, tally] : kinds_) {
      sum.right += tally.right;
      sum.missed += tally.missed;
      sum.extra += tally.extra;
      sum.subject += tally.subject;
    }
    return sum;
  }

 private:
  static void print_row(const std::string& name, const Tally& tally) {
    fmt::print("  {:<14} {:>6} {:>6} {:>6} {:>6.3f} {:>6.3f} {:>6.3f} {:>8.3f}\n", name,
               tally.right, tally.missed, tally.extra, tally.precision(), tally.recall(),
               tally.f1(), tally.subject_f1());
  }

  bool score_file(const fs::path& file, const tailproof::Run& run) {
    for (const tailproof::Complaint& complaint : run.complaints) {
      if (!complaint.is_note) fmt::print(stderr, "{}\n", to_line(complaint));
    }
    std::ifstream in(file, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    const auto blocks = tailproof::corpus::read_annotations(text, file.string());
    if (!blocks) {
      fmt::print(stderr, "{}\n", to_line(blocks.error()));
      return false;
    }
    bool good = true;
    for (const AnnotatedBlock& block : blocks.value()) good = score_block(file, block, run) && good;
    return good;
  }

  static bool is_block(const AnnotatedBlock& gold, const Block& block, const tailproof::Run& run) {
    if (gold.figure.empty()) {
      return run.sources.position(block.span.file, block.span.begin).line == gold.line;
    }
    return block.kind == tailproof::BlockKind::kCaption && !block.figure.empty() &&
           same_label(block.figure, gold.figure);
  }

  bool score_block(const fs::path& file, const AnnotatedBlock& gold, const tailproof::Run& run) {
    std::vector<const Claim*> got;
    bool found = false;
    for (std::uint32_t m = 0; m < run.manuscripts.size(); ++m) {
      for (const Block& block : run.manuscripts[m].blocks) {
        found = found || is_block(gold, block, run);
      }
    }
    if (!found) {
      fmt::print(stderr, "{}:{}: no such block in the manuscript\n", file.string(), gold.written);
      return false;
    }
    (gold.figure.empty() ? others_ : captions_) += 1;
    for (const Claim& claim : run.claims) {
      if (is_block(gold, run.manuscripts[claim.manuscript].blocks[claim.block], run))
        got.push_back(&claim);
    }
    std::vector<bool> taken(got.size(), false), matched(gold.claims.size(), false);
    // Those with the right subject first, so that two machines with one predicate each find theirs.
    for (const bool with_subject : {true, false}) {
      for (std::size_t g = 0; g < gold.claims.size(); ++g) {
        const Annotation& wanted = gold.claims[g];
        for (std::size_t i = 0; i < got.size() && !matched[g]; ++i) {
          if (taken[i] || to_word(got[i]->kind) != wanted.kind || !same_value(wanted, *got[i]) ||
              same_subject(wanted, *got[i]) != with_subject) {
            continue;
          }
          taken[i] = matched[g] = true;
          count_right(file, wanted, *got[i], with_subject);
        }
      }
    }
    for (std::size_t g = 0; g < gold.claims.size(); ++g) {
      if (matched[g]) continue;
      const Annotation& wanted = gold.claims[g];
      ++kinds_[wanted.kind].missed;
      say("missed", file, wanted.line, wanted.kind, wanted.value, wanted.subject);
    }
    for (std::size_t i = 0; i < got.size(); ++i) {
      const Claim& claim = *got[i];
      if (taken[i] ||
          (claim.kind == tailproof::ClaimKind::kReference && claim.role == "photograph"))
        continue;
      ++kinds_[std::string(to_word(claim.kind))].extra;
      say("extra", file, gold.written, std::string(to_word(claim.kind)), claim.value,
          claim.subject);
    }
    return true;
  }

  void count_right(const fs::path& file, const Annotation& wanted, const Claim& got, bool subject) {
    Tally& tally = kinds_[wanted.kind];
    ++tally.right;
    tally.subject += subject ? 1 : 0;
    if (!subject) {
      say("subject", file, wanted.line, wanted.kind, wanted.value,
          wanted.subject + "\" and not \"" + got.subject);
    }
    polarity_ += wanted.negated == got.negated ? 1 : 0;
    hedged_ += wanted.hedged == got.hedged ? 1 : 0;
    attributed_ += wanted.attributed == got.attributed ? 1 : 0;
    shown_ += wanted.shown == got.shown ? 1 : 0;
    if (wanted.negated != got.negated)
      say("polarity", file, wanted.line, wanted.kind, wanted.value, wanted.subject);
    if (wanted.attributed != got.attributed)
      say("attributed", file, wanted.line, wanted.kind, wanted.value, wanted.subject);
    if (wanted.kind == "date") {
      ++dates_;
      of_right_ += wanted.of == got.of ? 1 : 0;
      if (wanted.of != got.of)
        say("of", file, wanted.line, wanted.of + " and not " + got.of, wanted.value,
            wanted.subject);
    }
  }

  void say(const char* what, const fs::path& file, std::uint32_t line, const std::string& kind,
           const std::string& value, const std::string& subject) const {
    if (!verbose_) return;
    fmt::print("{}:{}: {} {} \"{}\" of \"{}\"\n", file.string(), line, what, kind, value, subject);
  }

  bool verbose_;
  std::map<std::string, Tally> kinds_;
  int captions_ = 0, others_ = 0;
  int polarity_ = 0, hedged_ = 0, attributed_ = 0, shown_ = 0, of_right_ = 0, dates_ = 0;
};

}  // namespace

int main(int argc, char** argv) {
  bool verbose = false, good = true;
  double least = 0, least_subject = 0;
  std::vector<std::string> parts;
  for (int i = 1; i < argc; ++i) {
    const std::string_view word = argv[i];
    if (word == "-v") {
      verbose = true;
    } else if (word.starts_with("--min=")) {
      least = std::atof(argv[i] + 6);
    } else if (word.starts_with("--min-subject=")) {
      least_subject = std::atof(argv[i] + 14);
    } else {
      parts.emplace_back(word);
    }
  }
  if (parts.empty()) {
    fmt::print(stderr, "usage: tailproof_score [-v] [--min=F1] [--min-subject=F1] PART...\n");
    return 2;
  }
  for (const std::string& part : parts) {
    Scorer scorer(verbose);
    std::vector<fs::path> folders;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(part, error)) {
      if (entry.is_directory()) folders.push_back(entry.path());
    }
    std::sort(folders.begin(), folders.end());
    if (folders.empty()) {
      fmt::print(stderr, "{}: no folder with annotated manuscripts\n", part);
      return 2;
    }
    for (const fs::path& folder : folders) good = scorer.score_folder(folder) && good;
    scorer.print(part);
    good = good && scorer.total().f1() >= least && scorer.total().subject_f1() >= least_subject;
  }
  return good ? 0 : 1;
}
