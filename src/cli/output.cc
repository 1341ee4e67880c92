#include "cli/output.h"

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <system_error>

namespace tailproof {

namespace fs = std::filesystem;

std::string write_output(const std::string& path, std::string_view text) {
  const std::string shown = path.empty() ? "standard output" : path;
  std::FILE* file = path.empty() ? stdout : std::fopen(path.c_str(), "wb");
  if (file == nullptr) {
    return shown + ": cannot be written: " + std::strerror(errno);
  }
  errno = 0;
  bool is_written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
  is_written = std::fflush(file) == 0 && is_written;
  int fault = errno;
  if (!path.empty() && std::fclose(file) != 0) {
    is_written = false;
    fault = errno;
  }
  if (is_written || fault == EPIPE) {
    return "";
  }
  return shown + ": cannot be written: " + std::strerror(fault);
}

bool would_overwrite(const std::string& output, const std::vector<std::string>& inputs) {
  std::error_code error;
  const fs::path target = fs::weakly_canonical(output, error);
  if (error) {
    return false;
  }
  return std::any_of(inputs.begin(), inputs.end(), [&](const std::string& input) {
    std::error_code unknown;
    // Two names of one file (hard links) are one file.
    if (fs::equivalent(output, input, unknown)) {
      return true;
    }
    if (!fs::is_directory(input, unknown)) {
      return false;
    }
    const fs::path folder = fs::weakly_canonical(input, unknown);
    return std::mismatch(folder.begin(), folder.end(), target.begin(), target.end()).first ==
           folder.end();
  });
}

bool print_complaints(const Complaints& complaints) {
  bool is_bad = false;
  for (const Complaint& complaint : complaints) {
    Complaint shown = complaint;
    if (complaint.is_note) {
      shown.message = "note: " + shown.message;
    }
    is_bad = is_bad || !complaint.is_note;
    std::fprintf(stderr, "tailproof: %s\n", to_line(shown).c_str());
  }
  return is_bad;
}

}  // namespace tailproof
