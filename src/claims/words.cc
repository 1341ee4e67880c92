#include "tailproof/claim.h"

namespace tailproof {

std::string_view to_word(ClaimKind kind) {
  switch (kind) {
#define TAILPROOF_KIND(name, word) \
  case ClaimKind::name:            \
    return word;
#include "claims/kinds.inc"
#undef TAILPROOF_KIND
  }
  return {};
}

}  // namespace tailproof
