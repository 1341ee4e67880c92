// Preloaded, makes allocations fail, counted from where the program says what it does without
// memory: before that there are only the loader and the libraries, which nobody can speak for.
//
//   FAULT_MEMORY_AT=N    the Nth one fails
//   FAULT_MEMORY_ON=1    and all that follow it
//   FAULT_MEMORY_TOTAL=F how many there were is written to this file at the end
#include <dlfcn.h>
#include <fcntl.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <new>

extern "C" {
void* __libc_malloc(size_t size);
void* __libc_calloc(size_t count, size_t size);
void* __libc_realloc(void* block, size_t size);
void* __libc_memalign(size_t alignment, size_t size);
}

namespace {

std::atomic<long> count{0};
std::atomic<bool> has_begun{false};

long number_of(const char* name) {
  const char* text = std::getenv(name);
  return text == nullptr ? 0 : std::atol(text);
}

bool fails() {
  static const long at = number_of("FAULT_MEMORY_AT");
  static const bool goes_on = number_of("FAULT_MEMORY_ON") != 0;
  if (!has_begun) return false;
  const long now = ++count;
  if (at == 0 || !(goes_on ? now >= at : now == at)) return false;
  errno = ENOMEM;
  return true;
}

__attribute__((destructor)) void tell_total() {
  const char* file = std::getenv("FAULT_MEMORY_TOTAL");
  if (file == nullptr) return;
  char text[32];
  const int length = std::snprintf(text, sizeof text, "%ld\n", count.load());
  const int descriptor = open(file, O_WRONLY | O_CREAT | O_TRUNC, 0666);
  if (descriptor < 0) return;
  if (write(descriptor, text, static_cast<size_t>(length)) != length) std::abort();
  close(descriptor);
}

}  // namespace

extern "C" std::new_handler begin(std::new_handler handler) noexcept
    __asm__("_ZSt15set_new_handlerPFvvE");

std::new_handler begin(std::new_handler handler) noexcept {
  using Function = std::new_handler(std::new_handler);
  auto* const real = reinterpret_cast<Function*>(dlsym(RTLD_NEXT, "_ZSt15set_new_handlerPFvvE"));
  has_begun = true;
  return real(handler);
}

extern "C" {

void* malloc(size_t size) { return fails() ? nullptr : __libc_malloc(size); }
void* calloc(size_t number, size_t size) { return fails() ? nullptr : __libc_calloc(number, size); }
void* realloc(void* block, size_t size) { return fails() ? nullptr : __libc_realloc(block, size); }
void* memalign(size_t alignment, size_t size) {
  return fails() ? nullptr : __libc_memalign(alignment, size);
}
void* aligned_alloc(size_t alignment, size_t size) {
  return fails() ? nullptr : __libc_memalign(alignment, size);
}
int posix_memalign(void** block, size_t alignment, size_t size) {
  if (fails()) return ENOMEM;
  *block = __libc_memalign(alignment, size);
  return *block == nullptr ? ENOMEM : 0;
}
}
