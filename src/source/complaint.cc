#include "source/shown_path.h"
#include "tailproof/result.h"

namespace tailproof {

std::string to_line(const Complaint& complaint) {
  std::string line = shown_path(complaint.file);
  if (complaint.line != 0) line += (line.empty() ? "" : ":") + std::to_string(complaint.line);
  if (complaint.column != 0) line += (line.empty() ? "" : ":") + std::to_string(complaint.column);
  if (!line.empty()) line += ": ";
  // It may quote a name or a text.
  return line + shown_path(complaint.message);
}

}  // namespace tailproof
