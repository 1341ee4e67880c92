#include "cli/memory.h"

#include <cstdint>
#include <cstdlib>

#ifdef __GLIBC__
#include <malloc.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <unistd.h>
#endif

namespace tailproof {

#ifdef __GLIBC__

namespace {

constexpr int kMegabyte = 1 << 20;
constexpr int kStep = 64 * kMegabyte;  // of addresses; a page of them is memory once it is used

}  // namespace

void prepare_memory() {
  // Whoever limits the addresses counts on none being taken that are not needed.
  rlimit most{};
  if (getrlimit(RLIMIT_AS, &most) != 0 || most.rlim_cur != RLIM_INFINITY) return;
  mallopt(M_MMAP_THRESHOLD, 32 * kMegabyte);  // the largest that is taken
  mallopt(M_TRIM_THRESHOLD, 4 * kStep);
  mallopt(M_TOP_PAD, kStep);
  // The heap has its first step of addresses behind this piece.
  auto* const piece = static_cast<char*>(std::malloc(kMegabyte));
  if (piece == nullptr) return;
  constexpr std::uintptr_t kPage = 4096;
  const auto at = reinterpret_cast<std::uintptr_t>(piece);
  const auto end = reinterpret_cast<std::uintptr_t>(sbrk(0));
  const std::uintptr_t into = (kPage - at % kPage) % kPage;
  if (at + into < end && end - at <= 2 * std::uintptr_t{kStep}) {
    // Where the system has no large pages to give, it goes on with small ones.
    static_cast<void>(madvise(piece + into, end - at - into, MADV_HUGEPAGE));
  }
  std::free(piece);
}

#else

void prepare_memory() {}

#endif

}  // namespace tailproof
