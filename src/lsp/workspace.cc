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
constexpr std::uintmax_t kMostBytes = std::uintmax_t{64} << 20U;

constexpr std::array<std::string_view, 7> kExtensions = {".xml",      ".dbk", ".docbook", ".md",
                                                         ".markdown", ".txt", ".csv"};
constexpr std::array<std::string_view, 4> kLanguages = {"markdown", "xml", "docbk", "plaintext"};

bool is_below(const std::string& path, const std::string& folder) {
  return folder == "/" || path.starts_with(folder + "/");
}

bool contains(const std::vector<std::string>& list, const std::string& word) {
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
  projects_.clear();
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
  for (const auto& [key, project] : projects_) {
    if (contains(project->files(), path) || project->run().sources.find(path)) {
      project->text_changed(path);
    }
  }
}

void Workspace::file_changed(const std::string& path) {
  const fs::path file(path);
  for (const auto& [key, project] : projects_) {
    const std::string& ledger = project->ledger();
    const auto holds = [&](const std::string& folder) {
      return !folder.empty() && (path == folder || is_below(path, folder));
    };
    const std::vector<std::string>& grammars = project->settings().grammars;
    if (holds(ledger) || std::any_of(grammars.begin(), grammars.end(), holds)) {
      project->ledger_changed();
    }
    if (!documents_.contains(path)) project->text_changed(path);
  }
  if (file.filename() == "ledger.toml") ledger_of_folder_.clear();
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

std::string Workspace::ledger_of(const std::string& path) {
  const std::string folder = fs::path(path).parent_path().string();
  const auto [found, is_new] = ledger_of_folder_.try_emplace(folder);
  if (!is_new) return found->second;
  if (settings_.ledger.empty()) {
    found->second = find_ledger(path);
    return found->second;
  }
  found->second = resolved(settings_.ledger, folder);
  return found->second;
}

/// The manuscripts of the workspace for this ledger, those that are open among them.
std::vector<std::string> Workspace::files_of(const std::string& ledger) {
  std::vector<std::string> places = folders_;
  for (const auto& [path, document] : documents_) {
    const auto holds = [&path = path](const std::string& folder) { return is_below(path, folder); };
    if (is_manuscript(document) && ledger_of(path) == ledger &&
        std::none_of(places.begin(), places.end(), holds)) {
      places.push_back(fs::path(path).parent_path().string());
    }
  }
  Complaints ignored;  // an empty folder is nothing that an editor need tell
  std::vector<std::string> files;
  std::uintmax_t bytes = 0;
  for (const std::string& path : expand_paths(places, ignored)) {
    if (ledger_of(path) != ledger) continue;
    std::error_code error;
    const std::uintmax_t size = fs::file_size(path, error);
    bytes += error ? 0 : size;
    files.push_back(path);
  }
  if (files.size() > kMostFiles || bytes > kMostBytes) {
    notice("the workspace holds more than 5,000 files or 64 MiB for the ledger " + ledger +
           "; only open manuscripts are checked");
    files.clear();
  }
  for (const auto& [path, document] : documents_) {
    if (is_manuscript(document) && ledger_of(path) == ledger && !contains(files, path)) {
      files.push_back(path);
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

/// Gives each document its project. The key is the ledger; without one, the document's path.
void Workspace::arrange() {
  if (is_arranged_) return;
  is_arranged_ = true;
  ledger_of_folder_.clear();
  key_of_document_.clear();
  std::set<std::string> keys;
  for (const auto& [path, document] : documents_) {
    if (!is_manuscript(document)) continue;
    const std::string ledger = ledger_of(path);
    const std::string& key = ledger.empty() ? path : ledger;
    key_of_document_[path] = key;
    if (ledger.empty()) {
      notice("no ledger is found for " + path +
             "; set tailproof.ledger, or put a folder \"ledger\" with ledger.toml beside it");
    }
    auto& project = projects_[key];
    if (project == nullptr) {
      Settings settings = settings_;
      for (std::string& grammars : settings.grammars) {
        grammars = resolved(grammars, fs::path(path).parent_path().string());
      }
      project = std::make_unique<Project>(ledger, std::move(settings), documents_);
    }
    if (keys.insert(key).second) {
      project->set_files(ledger.empty() ? std::vector<std::string>{path} : files_of(ledger));
    }
  }
  std::erase_if(projects_, [&](const auto& entry) { return !keys.contains(entry.first); });
}

const Project* Workspace::project_of(const std::string& path) {
  arrange();
  const auto key = key_of_document_.find(path);
  if (key == key_of_document_.end()) return nullptr;
  Project& project = *projects_.at(key->second);
  project.refresh();
  return &project;
}

void Workspace::refresh() {
  arrange();
  for (const auto& [key, project] : projects_) project->refresh();
}

std::vector<const Project*> Workspace::projects() const {
  std::vector<const Project*> all;
  for (const auto& [key, project] : projects_) all.push_back(project.get());
  return all;
}

void Workspace::notice(const std::string& words) {
  if (contains(told_, words)) return;
  told_.push_back(words);
  notices_.push_back(words);
}

std::vector<std::string> Workspace::take_notices() { return std::exchange(notices_, {}); }

}  // namespace tailproof::lsp
