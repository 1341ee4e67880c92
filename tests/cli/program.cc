#include "program.h"

#include <sys/wait.h>

#include <cstdlib>
#include <fstream>
#include <sstream>

namespace tailproof {

namespace fs = std::filesystem;

namespace {

std::string quoted(const std::string& word) {
  std::string text = "'";
  for (const char c : word) {
    text += c == '\'' ? std::string("'\\''") : std::string(1, c);
  }
  return text + "'";
}

fs::path new_folder() {
  std::string name = (fs::temp_directory_path() / "tailproof-test-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) {
    std::abort();
  }
  return fs::canonical(name);
}

}  // namespace

Folder::Folder() : path_(new_folder()) {}

Folder::~Folder() {
  std::error_code error;
  fs::remove_all(path_, error);
}

const Folder& Folder::with(const std::string& path, const std::string& text) const {
  fs::create_directories((path_ / path).parent_path());
  write_file(path_ / path, text);
  return *this;
}

Outcome run_shell(const std::string& command, const fs::path& folder) {
  const fs::path kept = new_folder();
  const std::string line = "cd " + quoted(folder.string()) + " && PATH=" + quoted(TAILPROOF_BUILD) +
                           ":\"$PATH\" && { " + command + "\n} >" +
                           quoted((kept / "out").string()) + " 2>" +
                           quoted((kept / "err").string()) + " </dev/null";
  const int status = std::system(line.c_str());
  Outcome outcome;
  outcome.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  outcome.out = read_file(kept / "out");
  outcome.err = read_file(kept / "err");
  fs::remove_all(kept);
  return outcome;
}

std::string read_file(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

void write_file(const fs::path& path, const std::string& text) {
  std::ofstream stream(path, std::ios::binary);
  stream << text;
}

bool is_accepting() { return std::getenv("TAILPROOF_ACCEPT") != nullptr; }

}  // namespace tailproof
