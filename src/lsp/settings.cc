#include "lsp/settings.h"

#include <filesystem>
#include <system_error>

#include "run/project.h"

namespace tailproof::lsp {

namespace fs = std::filesystem;

namespace {

bool is_ledger(const fs::path& folder) {
  std::error_code error;
  return fs::is_regular_file(folder / "ledger.toml", error);
}

/// The only subfolder that is a ledger; "" when there is none, or more than one.
fs::path only_ledger_in(const fs::path& folder) {
  fs::path found;
  std::error_code error;
  fs::directory_iterator end;
  for (fs::directory_iterator entry(folder, error); !error && entry != end;
       entry.increment(error)) {
    std::error_code unknown;
    if (!entry->is_directory(unknown) || !is_ledger(entry->path())) continue;
    if (!found.empty()) return {};
    found = entry->path();
  }
  return found;
}

class Reader {
 public:
  Reader(const Json& object, std::vector<std::string>& faults) : object_(object), faults_(faults) {}

  void read(std::string_view name, std::string& setting) {
    const Json& value = member(object_, name);
    if (value.is_null()) return;
    if (const auto text = text_of(value)) {
      setting = *text;
    } else {
      complain(name, "a text");
    }
  }

  void read(std::string_view name, std::vector<std::string>& setting) {
    const Json& value = member(object_, name);
    if (value.is_null()) return;
    if (const auto texts = texts_of(value)) {
      setting = *texts;
    } else {
      complain(name, "a list of texts");
    }
  }

  void read(std::string_view name, std::optional<Level>& setting) {
    const Json& value = member(object_, name);
    if (value.is_null()) return;
    for (const Level level : {Level::kNote, Level::kWarning, Level::kError}) {
      if (text_of(value) == std::string(to_word(level))) {
        setting = level;
        return;
      }
    }
    complain(name, "\"note\", \"warning\" or \"error\"");
  }

 private:
  void complain(std::string_view name, std::string_view expected) {
    faults_.push_back("the setting tailproof." + std::string(name) + " is left out; expected " +
                      std::string(expected));
  }

  const Json& object_;
  std::vector<std::string>& faults_;
};

}  // namespace

Settings with_json(Settings settings, const Json& object, std::vector<std::string>& faults) {
  if (object.is_null()) return settings;
  if (!object.is_object()) {
    faults.emplace_back("the settings are left out; expected an object");
    return settings;
  }
  if (object.contains("tailproof")) return with_json(settings, member(object, "tailproof"), faults);
  Reader reader(object, faults);
  reader.read("ledger", settings.ledger);
  reader.read("grammars", settings.grammars);
  reader.read("only", settings.only);
  reader.read("skip", settings.skip);
  reader.read("language", settings.language);
  reader.read("atLeast", settings.at_least);
  return settings;
}

std::string find_ledger(const std::string& manuscript) {
  fs::path folder = fs::path(manuscript).parent_path();
  while (true) {
    if (is_ledger(folder / "ledger")) return (folder / "ledger").string();
    if (is_ledger(folder)) return folder.string();
    if (const fs::path found = only_ledger_in(folder); !found.empty()) return found.string();
    if (!folder.has_relative_path()) return "";
    folder = folder.parent_path();
  }
}

std::string find_project_file(const std::string& manuscript) {
  fs::path folder = fs::path(manuscript).parent_path();
  while (true) {
    std::error_code error;
    const fs::path file = folder / kProjectFile;
    if (fs::is_regular_file(file, error)) return file.string();
    if (!folder.has_relative_path()) return "";
    folder = folder.parent_path();
  }
}

bool is_in_ledger(const std::string& path) {
  fs::path folder = fs::path(path).parent_path();
  while (true) {
    if (is_ledger(folder)) return true;
    if (!folder.has_relative_path()) return false;
    folder = folder.parent_path();
  }
}

}  // namespace tailproof::lsp
