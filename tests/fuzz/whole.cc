// The whole check, and every report on it: the first byte says what kind of manuscript the rest is.
#include <filesystem>
#include <fstream>

#include "fuzz.h"
#include "report/report.h"
#include "run/run.h"

using namespace tailproof;

namespace {

constexpr const char* kEndings[] = {"xml", "md", "txt", "csv"};
constexpr const char* kFormats[] = {"text", "json", "jsonl", "sarif", "html"};

/// A folder for the one file; what is checked is what a user would check.
class Folder {
 public:
  Folder() {
    path_ = (std::filesystem::temp_directory_path() / "tailproof-fuzz-XXXXXX").string();
    fuzz::require(mkdtemp(path_.data()) != nullptr, "there is a folder to write to");
  }
  ~Folder() {
    std::error_code error;
    std::filesystem::remove_all(path_, error);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Folder kFolder;
  if (size == 0) return 0;
  const std::string path = kFolder.path() + "/input." + kEndings[data[0] % 4];
  const std::string_view text = fuzz::as_text(data + 1, size - 1);
  std::ofstream(path, std::ios::binary) << text;
  RunOptions options;
  options.paths = {path};
  options.ledger = TAILPROOF_TOP "/tests/readme/ledger";
  options.jobs = 1;
  const Run run = check(options);
  fuzz::require(!run.stopped, "the ledger can be read");
  fuzz::require(run.manuscripts.size() == 1 || !run.complaints.empty(),
                "nothing is left out silently");
  for (const Query& query : run.queries) {
    fuzz::require(query.span.end <= run.sources.text(query.span.file).size(),
                  "a query in its file");
  }
  for (const char* format : kFormats) {
    fuzz::require(
        !check_writer(format)(run, ReportOptions{}).empty() || std::string_view(format) == "jsonl",
        "a report says something");
  }
  for (const char* format : {"text", "json", "csv"}) {
    static_cast<void>(bracket_writer(format)(run, ReportOptions{}));
  }
  return 0;
}
