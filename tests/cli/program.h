// Runs the built program as a user does, in a folder of its own.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace tailproof {

struct Outcome {
  int status = -1;
  std::string out;
  std::string err;
};

/// A command of /bin/sh, with `tailproof` on its path, in `folder`.
[[nodiscard]] Outcome run_shell(const std::string& command, const std::filesystem::path& folder);

/// A folder that is gone at the end of the test.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  /// Writes a file, making folders as needed.
  const Folder& with(const std::string& path, const std::string& text) const;
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  [[nodiscard]] Outcome run(const std::string& command) const { return run_shell(command, path_); }

 private:
  std::filesystem::path path_;
};

[[nodiscard]] std::string read_file(const std::filesystem::path& path);
void write_file(const std::filesystem::path& path, const std::string& text);

/// With TAILPROOF_ACCEPT in the environment, expected outputs are written anew instead of compared.
[[nodiscard]] bool is_accepting();

}  // namespace tailproof
