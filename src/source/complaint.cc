#include "tailproof/result.h"

namespace tailproof {

std::string to_line(const Complaint& complaint) {
  std::string line = complaint.file;
  if (complaint.line != 0) line += (line.empty() ? "" : ":") + std::to_string(complaint.line);
  if (complaint.column != 0) line += (line.empty() ? "" : ":") + std::to_string(complaint.column);
  if (!line.empty()) line += ": ";
  return line + complaint.message;
}

}  // namespace tailproof
