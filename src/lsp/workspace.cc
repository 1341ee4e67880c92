#include "lsp/workspace.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <set>
#include <system_error>
#include <utility>

#include "run/paths.h"

namespace tailproof::lsp {

namespace fs = std::filesystem;

namespace {

// Beyond these the folders are hardly one author's manuscripts, and reading them all would make
// everybody wait.
constexpr std::size_t kMostFiles = 5000;
constexpr std::size_t kMostEntries = 50000;
constexpr std::uintmax_t kMostFileBytes = std::uintmax_t{64} << 20U;

constexpr std::array<std::string_view, 7> kExtensions = {".xml",      ".dbk", ".docbook", ".md",
                                                         ".markdown", ".txt", ".csv"};
constexpr std::array<std::string_view, 4> kLanguages = {"markdown", "xml", "docbk", "plaintext"};

bool is_below(const std::string& path, const std::string& folder) {
  return folder == "/" || path.starts_with(folder + "/");
}

/// Whether a folder holds more than anybody would walk while somebody waits.
bool is_vast(const std::string& folder) {
  std::error_code error;
  std::size_t count = 0;
  const auto options = fs::directory_options::skip_permission_denied;
  const fs::recursive_directory_iterator end;
  for (fs::recursive_directory_iterator entry(folder, options, error); !error && entry != end;
       entry.increment(error)) {
    if (++count > kMostEntries) return true;
    const bool is_hidden = entry->path().filename().string().starts_with('.');
    std::error_code unknown;
    if (is_hidden && entry->is_directory(unknown)) entry.disable_recursion_pending();
  }
  return false;
}

bool is_among(const std::vector<std::string>& list, const std::string& word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

}  // namespace

Document* Workspace::document(const std::string& path) {
  const auto found = documents_.find(path);
  return found == documents_.end() ? nullptr : &found->second;
}

void Workspace::set_settings(Settings settings) {
  if (settings == settings_) return;
  settings_ = std::move(settings);
  forget();
}

/// What was found about files and folders may be otherwise now.
void Workspace::forget() {
  collections_.clear();
  projects_.clear();
  project_complaints_.clear();
  is_arranged_ = false;
}

void Workspace::set_folders(std::vector<std::string> folders) {
  folders_ = std::move(folders);
  is_arranged_ = false;
}

bool Workspace::is_manuscript(const Document& document) {
  const fs::path path(document.path);
  if (path.filename() == "stets.csv") return false;
  const std::string extension = path.extension().string();
  const bool is_known =
      std::find(kExtensions.begin(), kExtensions.end(), extension) != kExtensions.end();
  if (!is_known) {
    return std::find(kLanguages.begin(), kLanguages.end(), document.language) != kLanguages.end();
  }
  // A table of a ledger looks like a list of captions.
  return extension != ".csv" || !is_in_ledger(document.path);
}

void Workspace::open(Document document) {
  const std::string path = document.path;
  const bool is_new = is_manuscript(document);
  documents_.insert_or_assign(path, std::move(document));
  if (is_new) is_arranged_ = false;
  changed(path);
}

void Workspace::close(const std::string& path) {
  if (documents_.erase(path) == 0) return;
  is_arranged_ = false;
  changed(path);
}

void Workspace::changed(const std::string& path) {
  for (const auto& [key, collection] : collections_) {
    if (is_among(collection->files(), path) || collection->run().sources.find(path)) {
      collection->text_changed(path);
    }
  }
}

void Workspace::file_changed(const std::string& path) {
  const fs::path file(path);
  for (const auto& [key, collection] : collections_) {
    const std::string& ledger = collection->ledger();
    const auto holds = [&](const std::string& folder) {
      return !folder.empty() && (path == folder || is_below(path, folder));
    };
    const std::vector<std::string>& grammars = collection->grammars();
    if (holds(ledger) || std::any_of(grammars.begin(), grammars.end(), holds)) {
      collection->ledger_changed();
    }
    if (!documents_.contains(path)) collection->text_changed(path);
  }
  if (file.filename() == kProjectFile) forget();
  is_arranged_ = false;
}

/// A path that the user has set. A relative one is looked for where he is: in the workspace's
/// folders, that of the manuscript first, or beside the manuscript.
std::string Workspace::resolved(const std::string& setting, const std::string& folder) const {
  fs::path path(setting);
  if (path.is_relative()) {
    std::vector<std::string> places;
    for (const std::string& place : folders_) {
      if (folder == place || is_below(folder, place)) places.push_back(place);
    }
    places.insert(places.end(), folders_.begin(), folders_.end());
    places.push_back(folder);
    std::error_code error;
    const auto holds = [&](const std::string& place) {
      return fs::exists(fs::path(place) / path, error);
    };
    const auto place = std::find_if(places.begin(), places.end(), holds);
    path = fs::path(place == places.end() ? places.front() : *place) / path;
  }
  std::string normal = path.lexically_normal().string();
  if (normal.size() > 1 && normal.ends_with('/')) normal.pop_back();
  return normal;
}

const Project& Workspace::project(const std::string& file) {
  const auto [found, is_new] = projects_.try_emplace(file);
  if (!is_new || file.empty()) return found->second;
  Complaints& complaints = project_complaints_[file];
  Result<Project> read = read_project(file, complaints);
  if (read) {
    found->second = std::move(read).value();
  } else {
    complaints.push_back(read.error());
  }
  return found->second;
}

const Workspace::Base& Workspace::base_of(const std::string& path) {
  const std::string folder = fs::path(path).parent_path().string();
  const auto [found, is_new] = base_of_folder_.try_emplace(folder);
  if (!is_new) return found->second;
  Base& base = found->second;
  base.project_file = find_project_file(path);
  base.ledger = project(base.project_file).ledger;
  if (!settings_.ledger.empty()) base.ledger = resolved(settings_.ledger, folder);
  if (base.ledger.empty()) base.ledger = find_ledger(path);
  return base;
}

CollectionOptions Workspace::options_for(const std::string& path) {
  const Base& base = base_of(path);
  const std::string folder = fs::path(path).parent_path().string();
  const Project& its_project = project(base.project_file);
  CollectionOptions options;
  options.run.ledger = base.ledger;
  options.run.plugins = settings_.plugins;
  options.run.only = settings_.only;
  options.run.skip = settings_.skip;
  options.run.language = settings_.language;
  for (const std::string& grammars : settings_.grammars) {
    options.run.grammars.push_back(resolved(grammars, folder));
  }
  fill_in(options.run, its_project);
  if (its_project.encoding == "windows-1252") options.run.read.encoding = Encoding::kWindows1252;
  for (const Level level : {Level::kNote, Level::kWarning, Level::kError}) {
    if (its_project.at_least == to_word(level)) options.at_least = level;
  }
  options.at_least = settings_.at_least.value_or(options.at_least);
  options.complaints = project_complaints_[base.project_file];
  return options;
}

/// The manuscripts of a collection: those that the project file names, or else those of the
/// workspace, and those that are open.
std::vector<std::string> Workspace::files_of(const Base& base) {
  Complaints ignored;  // an empty folder is nothing that an editor need tell
  const std::vector<std::string>& named = project(base.project_file).manuscripts;
  if (!named.empty()) return expand_paths(named, ignored);

  std::vector<std::string> places = folders_;
  std::vector<std::string> open;
  for (const auto& [path, document] : documents_) {
    if (!is_manuscript(document) || base_of(path) != base) continue;
    open.push_back(path);
    const auto holds = [&path = path](const std::string& folder) { return is_below(path, folder); };
    if (std::none_of(places.begin(), places.end(), holds)) {
      places.push_back(fs::path(path).parent_path().string());
    }
  }
  std::vector<std::string> files;
  std::uintmax_t bytes = 0;
  bool is_too_much = std::any_of(places.begin(), places.end(), is_vast);
  if (is_too_much) places.clear();
  for (const std::string& path : expand_paths(places, ignored)) {
    if (base_of(path) != base) continue;
    std::error_code error;
    const std::uintmax_t size = fs::file_size(path, error);
    bytes += error ? 0 : size;
    files.push_back(path);
  }
  is_too_much = is_too_much || files.size() > kMostFiles || bytes > kMostFileBytes;
  if (is_too_much) {
    notice(
        "the workspace is too large to be read as one author's manuscripts; only those that are "
        "open are checked. Name them in tailproof.toml, or open their folder alone");
    files.clear();
  }
  for (const std::string& path : open) {
    if (!is_among(files, path)) files.push_back(path);
  }
  std::sort(files.begin(), files.end());
  return files;
}

/// Gives each document its collection. The key is the project file and the ledger; of a document
/// that stands alone, for want of a ledger or because its project names other manuscripts, its own
/// path too.
void Workspace::arrange() {
  if (is_arranged_) return;
  is_arranged_ = true;
  base_of_folder_.clear();
  key_of_document_.clear();
  std::map<std::string, std::vector<std::string>> files_of_key;
  for (const auto& [path, document] : documents_) {
    if (!is_manuscript(document)) continue;
    const Base base = base_of(path);
    std::string key = base.project_file + "\n" + base.ledger;
    std::vector<std::string> files = {path};
    if (base.ledger.empty()) {
      notice("no ledger is found for " + path +
             "; set tailproof.ledger, name one in tailproof.toml, or put a folder \"ledger\" with "
             "ledger.toml beside it");
    } else if (const auto known = files_of_key.find(key); known != files_of_key.end()) {
      files = known->second;
    } else {
      files = files_of(base);
    }
    if (is_among(files, path) && !base.ledger.empty()) {
      files_of_key[key] = files;
    } else {
      key += "\n" + path;
      files = {path};
    }
    key_of_document_[path] = key;
    auto& collection = collections_[key];
    if (collection == nullptr) {
      collection = std::make_unique<Collection>(options_for(path), documents_);
    }
    collection->set_files(std::move(files));
  }
  std::erase_if(collections_, [&](const auto& entry) {
    return std::none_of(key_of_document_.begin(), key_of_document_.end(),
                        [&](const auto& document) { return document.second == entry.first; });
  });
}

const Collection* Workspace::collection_of(const std::string& path) {
  arrange();
  const auto key = key_of_document_.find(path);
  if (key == key_of_document_.end()) return nullptr;
  Collection& collection = *collections_.at(key->second);
  collection.refresh();
  return &collection;
}

void Workspace::refresh() {
  arrange();
  for (const auto& [key, collection] : collections_) collection->refresh();
}

std::vector<const Collection*> Workspace::collections() const {
  std::vector<const Collection*> all;
  for (const auto& [key, collection] : collections_) all.push_back(collection.get());
  return all;
}

void Workspace::notice(const std::string& words) {
  if (is_among(told_, words)) return;
  told_.push_back(words);
  notices_.push_back(words);
}

std::vector<std::string> Workspace::take_notices() { return std::exchange(notices_, {}); }

}  // namespace tailproof::lsp
