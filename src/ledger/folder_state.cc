#include "ledger/folder_state.h"

#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <vector>

namespace tailproof {
namespace {

namespace fs = std::filesystem;

std::string state_of(const std::string& path) {
  struct stat status {};
  if (stat(path.c_str(), &status) != 0) return {};
  return path + '\0' + std::to_string(status.st_ino) + ' ' + std::to_string(status.st_size) + ' ' +
         std::to_string(status.st_mtim.tv_sec) + '.' + std::to_string(status.st_mtim.tv_nsec) +
         '\n';
}

}  // namespace

std::string folder_state(const std::string& path) {
  std::error_code error;
  if (!fs::is_directory(path, error)) return state_of(path);
  std::vector<std::string> states;
  const fs::directory_iterator end;
  for (fs::directory_iterator entry(path, error); !error && entry != end; entry.increment(error)) {
    const fs::path extension = entry->path().extension();
    if (extension == ".csv" || extension == ".toml") {
      states.push_back(state_of(entry->path().string()));
    }
  }
  std::sort(states.begin(), states.end());
  std::string all;
  for (const std::string& state : states) all += state;
  return all;
}

}  // namespace tailproof
