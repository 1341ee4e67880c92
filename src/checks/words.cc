#include "tailproof/check.h"

namespace tailproof {

std::string_view to_word(Level level) {
  switch (level) {
    case Level::kNote:
      return "note";
    case Level::kWarning:
      return "warning";
    case Level::kError:
      return "error";
  }
  return {};
}

}  // namespace tailproof
