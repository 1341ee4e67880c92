#include "run/project.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <initializer_list>
#include <system_error>
#include <utility>

#include "ledger/duration.h"
#include "source/nearest.h"
#include "source/sources.h"
#include "source/toml.h"

namespace tailproof {

namespace fs = std::filesystem;

namespace {

class ProjectReader {
 public:
  ProjectReader(const std::string& file, Complaints& complaints)
      : file_(file), folder_(fs::path(file).parent_path()), complaints_(complaints) {}

  Project read(const toml::table& top) {
    Project project;
    project.path = file_;
    note_unknown(top, "",
                 {"manuscripts", "ledger", "grammars", "only", "skip", "language", "at_least",
                  "encoding", "levels", "margins"});
    project.manuscripts = paths_at(top, "manuscripts");
    project.grammars = paths_at(top, "grammars");
    project.only = texts_at(top, "only");
    project.skip = texts_at(top, "skip");
    project.language = text_at(top, "", "language");
    project.at_least = word_at(top, "", "at_least", {"note", "warning", "error"});
    project.encoding = word_at(top, "", "encoding", {"utf-8", "windows-1252"});
    if (const std::string ledger = text_at(top, "", "ledger"); !ledger.empty()) {
      project.ledger = beside(ledger);
    }
    if (const toml::table* levels = table_at(top, "levels")) {
      for (const auto& [key, node] : *levels) {
        project.levels[std::string(key.str())] =
            word_at(*levels, "levels.", key.str(), {"note", "warning", "error", "off"});
      }
      std::erase_if(project.levels, [](const auto& row) { return row.second.empty(); });
    }
    if (const toml::table* margins = table_at(top, "margins")) {
      note_unknown(*margins, "margins.", {"day", "month", "year"});
      project.margins = {margin_at(*margins, "day"), margin_at(*margins, "month"),
                         margin_at(*margins, "year")};
    }
    return project;
  }

 private:
  void complain(const toml::node& node, const std::string& key, const std::string& what,
                bool is_note = false) {
    const auto& begin = node.source().begin;
    complaints_.push_back({file_, static_cast<std::uint32_t>(begin.line),
                           static_cast<std::uint32_t>(begin.column), key + " " + what, is_note});
  }

  void note_unknown(const toml::table& table, const std::string& prefix,
                    std::initializer_list<std::string_view> known) {
    const std::vector<std::string> keys(known.begin(), known.end());
    for (const auto& [key, node] : table) {
      if (std::find(known.begin(), known.end(), key.str()) == known.end()) {
        complain(node, prefix + std::string(key.str()),
                 key.str() == "plugins" || key.str() == "plugin"
                     ? "is not read here; a plugin is loaded only when --plugin names it"
                     : "is no setting of a project and is ignored" + perhaps_meant(key.str(), keys),
                 true);
      }
    }
  }

  const toml::table* table_at(const toml::table& parent, std::string_view key) {
    const toml::node* node = parent.get(key);
    if (node != nullptr && !node->is_table()) {
      complain(*node, std::string(key), "must be a table; write [" + std::string(key) + "] above");
    }
    return node == nullptr ? nullptr : node->as_table();
  }

  std::string text_at(const toml::table& table, const std::string& prefix, std::string_view key) {
    const toml::node* node = table.get(key);
    if (node == nullptr) {
      return "";
    }
    const auto* text = node->as_string();
    if (text == nullptr) {
      complain(*node, prefix + std::string(key), "must be a string; put it in quotation marks");
      return "";
    }
    return text->get();
  }

  std::string word_at(const toml::table& table, const std::string& prefix, std::string_view key,
                      std::initializer_list<std::string_view> words) {
    std::string text = text_at(table, prefix, key);
    if (text.empty() || std::find(words.begin(), words.end(), text) != words.end()) {
      return text;
    }
    std::string known;
    for (const std::string_view word : words) {
      known += (known.empty() ? "" : ", ") + std::string(word);
    }
    complain(*table.get(key), prefix + std::string(key),
             "is \"" + text + "\", which is not known; write one of " + known);
    return "";
  }

  std::vector<std::string> texts_at(const toml::table& table, std::string_view key) {
    std::vector<std::string> texts;
    const toml::node* node = table.get(key);
    if (node == nullptr) {
      return texts;
    }
    const toml::array* array = node->as_array();
    if (array == nullptr) {
      complain(*node, std::string(key), "must be an array of strings; write [\"...\"]");
      return texts;
    }
    for (const toml::node& element : *array) {
      if (const auto* text = element.as_string()) {
        texts.push_back(text->get());
      } else {
        complain(element, std::string(key), "must hold strings only");
      }
    }
    return texts;
  }

  [[nodiscard]] std::string beside(const std::string& path) const {
    return (folder_ / path).lexically_normal().string();
  }

  std::vector<std::string> paths_at(const toml::table& table, std::string_view key) {
    std::vector<std::string> paths = texts_at(table, key);
    for (std::string& path : paths) {
      path = beside(path);
    }
    return paths;
  }

  std::optional<Day> margin_at(const toml::table& table, std::string_view key) {
    const std::string text = text_at(table, "margins.", key);
    if (text.empty()) {
      return std::nullopt;
    }
    const std::optional<Day> days = duration_days(text);
    if (!days) {
      complain(*table.get(key), "margins." + std::string(key),
               "is \"" + text + "\", no ISO 8601 duration of days or longer; write \"P3D\", say");
    }
    return days;
  }

  const std::string& file_;
  fs::path folder_;
  Complaints& complaints_;
};

}  // namespace

std::string find_project(const std::string& path) {
  std::error_code error;
  const fs::path start = path.empty() || path == "-" ? fs::path(".") : fs::path(path);
  const fs::path shown = fs::is_directory(start, error) ? start : start.parent_path();
  // Beside the manuscript the file is shown as the manuscript was named, further up by its full
  // path.
  if (fs::is_regular_file(shown / kProjectFile, error)) {
    return (shown / kProjectFile).lexically_normal().string();
  }
  fs::path folder = fs::weakly_canonical(shown.empty() ? fs::path(".") : shown, error);
  while (!error && folder.has_relative_path()) {
    folder = folder.parent_path();
    if (fs::is_regular_file(folder / kProjectFile, error)) {
      const fs::path here = fs::current_path(error);
      const fs::path relative = fs::proximate(folder / kProjectFile, here, error);
      return (error ? folder / kProjectFile : relative).string();
    }
    error.clear();
  }
  return "";
}

Result<Project> read_project(const std::string& file, Complaints& complaints) {
  Sources sources;
  const Result<FileId> text = sources.read(file);
  if (!text) {
    return Failure{text.error()};
  }
  const toml::parse_result parsed = toml::parse(sources.text(text.value()), file);
  if (!parsed) {
    const toml::parse_error& error = parsed.error();
    return Failure{{file, static_cast<std::uint32_t>(error.source().begin.line),
                    static_cast<std::uint32_t>(error.source().begin.column),
                    "is no valid TOML: " + std::string(error.description()), false}};
  }
  return ProjectReader(file, complaints).read(parsed.table());
}

void fill_in(RunOptions& options, const Project& project) {
  const auto fill = [](auto& value, const auto& settled) {
    if (value.empty()) {
      value = settled;
    }
  };
  fill(options.paths, project.manuscripts);
  fill(options.ledger, project.ledger);
  fill(options.only, project.only);
  fill(options.skip, project.skip);
  fill(options.language, project.language);
  options.grammars.insert(options.grammars.begin(), project.grammars.begin(),
                          project.grammars.end());
  options.levels.insert(project.levels.begin(), project.levels.end());
  options.margins = project.margins;
}

}  // namespace tailproof
