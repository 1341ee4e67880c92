#include "run/paths.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <optional>
#include <set>
#include <string_view>
#include <system_error>

#include "run/brackets.h"

namespace tailproof {

namespace fs = std::filesystem;

namespace {

constexpr std::array<std::string_view, 7> kExtensions = {".xml",      ".dbk", ".docbook", ".md",
                                                         ".markdown", ".txt", ".csv"};

bool is_manuscript_name(const fs::path& path) {
  std::string extension = path.extension().string();
  std::transform(extension.begin(), extension.end(), extension.begin(), [](unsigned char c) {
    return static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  });
  return path.filename() != "stets.csv" &&
         std::find(kExtensions.begin(), kExtensions.end(), extension) != kExtensions.end();
}

/// FILE:LINE, where that file exists: only one verb takes it.
std::string line_named(const std::string& path) {
  const std::optional<LinePlace> place = read_line_place(path);
  std::error_code error;
  const bool is_file = place && fs::exists(place->file, error);
  return is_file ? "; a line of a file is named to bracket alone" : "";
}

class Walk {
 public:
  Walk(std::vector<std::string>& files, Complaints& complaints)
      : files_(files), complaints_(complaints) {}

  void named(const std::string& path) {
    std::error_code error;
    if (path == "-") {
      take(path);
      return;
    }
    const fs::file_status status = fs::status(path, error);
    if (!fs::exists(status)) {
      const bool missing = status.type() == fs::file_type::not_found;
      complain(path, missing ? "no such file or folder" + line_named(path)
                             : "cannot be looked at: " + error.message());
      return;
    }
    if (!fs::is_directory(status)) {
      take(path);
      return;
    }
    found_ = 0;
    named_ = path;
    const std::size_t before = complaints_.size();
    walk(path);
    if (found_ == 0 && complaints_.size() == before) {
      complain(path,
               "no manuscript in this folder; files ending in .xml, .dbk, .docbook, .md, "
               ".markdown, .txt or .csv are read, a folder with a ledger.toml is not");
    }
  }

 private:
  void complain(const std::string& path, std::string message) {
    complaints_.push_back(Complaint{.file = path, .message = std::move(message)});
  }

  void take(const std::string& path) {
    ++found_;
    if (seen_.insert(canonical_path(path)).second) {
      files_.push_back(path);
    }
  }

  /// A file of a folder, which may have gone since the folder was listed.
  void take_entry(const std::string& path, const fs::file_status& status) {
    switch (status.type()) {
      case fs::file_type::regular:
        take(path);
        return;
      case fs::file_type::not_found:
        complain(path, "leads nowhere or has just gone; mend the link, or check again");
        return;
      case fs::file_type::none:
      case fs::file_type::unknown:
        complain(path, "cannot be looked at; a link that leads to itself, perhaps");
        return;
      default:
        complain(path, "has the name of a manuscript but is no regular file; it is not read");
    }
  }

  void walk(const fs::path& folder) {
    if (folders_.size() >= kMostFolders) {
      if (!is_full_)
        complain(named_,
                 "more than " + std::to_string(kMostFolders) +
                     " folders; the rest is not read: name the folders that hold manuscripts");
      is_full_ = true;
      return;
    }
    // A link may lead back up; each folder is walked once.
    if (!folders_.insert(canonical_path(folder.string())).second) {
      ++found_;
      return;
    }
    std::error_code error;
    std::vector<fs::path> entries;
    fs::directory_iterator end;
    for (fs::directory_iterator entry(folder, error); !error && entry != end;
         entry.increment(error)) {
      if (!entry->path().filename().string().starts_with('.')) {
        entries.push_back(entry->path());
      }
    }
    if (error) {
      complain(folder.string(), "folder cannot be read: " + error.message());
      return;
    }
    const auto is_ledger = [](const fs::path& path) { return path.filename() == "ledger.toml"; };
    if (std::any_of(entries.begin(), entries.end(), is_ledger)) {
      return;
    }
    std::sort(entries.begin(), entries.end(), [](const fs::path& a, const fs::path& b) {
      return a.filename().native() < b.filename().native();
    });
    for (const fs::path& entry : entries) {
      // "." is where the user stands: files are then shown without it.
      const fs::path shown = folder == "." ? entry.filename() : entry;
      std::error_code unknown;
      if (fs::is_directory(entry, unknown)) {
        walk(shown);
      } else if (is_manuscript_name(entry)) {
        take_entry(shown.string(), fs::status(entry, unknown));
      }
    }
  }

  std::vector<std::string>& files_;
  Complaints& complaints_;
  std::set<std::string> seen_;
  std::set<std::string> folders_;
  std::size_t found_ = 0;
  std::string named_;     // the folder that is being walked
  bool is_full_ = false;  // and it has been said
};

}  // namespace

std::string canonical_path(const std::string& path) {
  if (path == "-") {
    return path;
  }
  std::error_code error;
  const fs::path canonical = fs::weakly_canonical(path, error);
  return error ? path : canonical.string();
}

std::vector<std::string> expand_paths(const std::vector<std::string>& paths,
                                      Complaints& complaints) {
  std::vector<std::string> files;
  Walk walk(files, complaints);
  for (const std::string& path : paths) {
    walk.named(path);
  }
  return files;
}

}  // namespace tailproof
