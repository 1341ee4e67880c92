// Plugins with one fault each, chosen by the build.
#include "tailproof/check.h"

namespace {

using namespace tailproof;

[[maybe_unused]] std::vector<Query> nothing(const CheckInput&) { return {}; }

#if defined(TAILPROOF_FAULT_NAMELESS)
constexpr CheckInfo kChecks[] = {{"Not An Id", "bad", Level::kNote, nothing, "", false}};
#elif defined(TAILPROOF_FAULT_FUNCTIONLESS)
constexpr CheckInfo kChecks[] = {{"does-nothing", "bad", Level::kNote, nullptr, "", false}};
#else
constexpr CheckInfo kChecks[] = {{"twice-named", "bad", Level::kNote, nothing, "", false},
                                 {"twice-named", "bad", Level::kNote, nothing, "", false}};
#endif

#if defined(TAILPROOF_FAULT_VERSION)
constexpr std::uint32_t kVersion = kInterfaceVersion + 1;
#else
constexpr std::uint32_t kVersion = kInterfaceVersion;
#endif
constexpr Plugin kPlugin = {kVersion, kChecks, sizeof kChecks / sizeof kChecks[0]};

}  // namespace

extern "C" const tailproof::Plugin* tailproof_plugin() { return &kPlugin; }
