// The folders and documents that the client has open, and the collections that they make.
//
// Contract: a collection is opened with the first document that belongs to its ledger and closed
// with the last. Its manuscripts are those of the workspace for which the same ledger is found;
// without a ledger a document stands alone. See editors.md for what users are told.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "lsp/collection.h"
#include "run/project.h"

namespace tailproof::lsp {

class Workspace {
 public:
  [[nodiscard]] const Documents& documents() const { return documents_; }
  [[nodiscard]] Document* document(const std::string& path);

  void set_settings(Settings settings);
  [[nodiscard]] const Settings& settings() const { return settings_; }
  void set_folders(std::vector<std::string> folders);
  [[nodiscard]] const std::vector<std::string>& folders() const { return folders_; }

  void open(Document document);
  void close(const std::string& path);
  /// The document has been changed.
  void changed(const std::string& path);
  /// A file has been written, made or deleted, by the editor or by somebody else.
  void file_changed(const std::string& path);

  /// Up to date; nullptr when the document is no manuscript.
  [[nodiscard]] const Collection* collection_of(const std::string& path);
  /// Brings every collection up to date.
  void refresh();
  [[nodiscard]] std::vector<const Collection*> collections() const;
  /// What the user should be told, once each; the list is empty afterwards.
  [[nodiscard]] std::vector<std::string> take_notices();

 private:
  /// What a manuscript is checked with.
  struct Base {
    std::string ledger;        // "" : none
    std::string project_file;  // "" : none

    friend bool operator==(const Base&, const Base&) = default;
  };

  [[nodiscard]] static bool is_manuscript(const Document& document);
  [[nodiscard]] std::string resolved(const std::string& setting, const std::string& folder) const;
  [[nodiscard]] const Base& base_of(const std::string& path);
  [[nodiscard]] const Project& project(const std::string& file);
  [[nodiscard]] CollectionOptions options_for(const std::string& path);
  [[nodiscard]] std::vector<std::string> files_of(const Base& base);
  void arrange();
  void forget();
  void notice(const std::string& words);

  Settings settings_;
  std::vector<std::string> folders_;
  Documents documents_;
  std::map<std::string, std::unique_ptr<Collection>> collections_;  // by key, see arrange()
  std::map<std::string, std::string> key_of_document_;
  std::map<std::string, Base> base_of_folder_;
  std::map<std::string, Project> projects_;  // by file
  std::map<std::string, Complaints> project_complaints_;
  bool is_arranged_ = true;
  std::vector<std::string> notices_, told_;
};

}  // namespace tailproof::lsp
