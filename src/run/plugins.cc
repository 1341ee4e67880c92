#include "run/plugins.h"

#include <dlfcn.h>

#include <algorithm>
#include <filesystem>
#include <set>
#include <string_view>
#include <system_error>

namespace tailproof {
namespace {

using EntryPoint = const Plugin* (*)();

Failure failure(const std::string& path, std::string message) {
  return {Complaint{.file = path, .message = std::move(message)}};
}

// "weekday-wrong": small letters and digits, with hyphens between.
bool is_check_id(std::string_view id) {
  if (id.empty() || id.front() == '-' || id.back() == '-') return false;
  return std::all_of(id.begin(), id.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
  });
}

Result<std::vector<CheckInfo>> read_rows(const std::string& path, const Plugin& plugin) {
  if (plugin.check_count > 0 && plugin.checks == nullptr) {
    return failure(path, "the plugin counts " + std::to_string(plugin.check_count) +
                             " checks but has no table of them");
  }
  if (plugin.check_count == 0) return failure(path, "the plugin has no checks");
  std::vector<CheckInfo> rows;
  std::set<std::string_view> ids;
  for (std::uint32_t i = 0; i < plugin.check_count; ++i) {
    const CheckInfo& row = plugin.checks[i];
    if (!is_check_id(row.id)) {
      return failure(path, "check " + std::to_string(i + 1) + " has the id \"" +
                               std::string(row.id) +
                               "\", expected small letters and digits with hyphens between");
    }
    if (!ids.insert(row.id).second) {
      return failure(path, "two checks have the id \"" + std::string(row.id) + "\"");
    }
    if (row.run == nullptr) {
      return failure(path, "the check \"" + std::string(row.id) + "\" has no function");
    }
    rows.push_back(row);
  }
  return rows;
}

}  // namespace

Result<std::vector<CheckInfo>> load_plugin(const std::string& path) {
  // Without a slash the loader would search its own folders for a library of that name.
  const std::string file = path.find('/') == std::string::npos ? "./" + path : path;
  // Opening a pipe would wait, for whoever writes to it.
  std::error_code error;
  if (const auto status = std::filesystem::status(file, error);
      std::filesystem::exists(status) && !std::filesystem::is_regular_file(status)) {
    return failure(path, "cannot load the plugin: no regular file");
  }
  void* handle = dlopen(file.c_str(), RTLD_NOW | RTLD_LOCAL);
  if (handle == nullptr) {
    const char* reason = dlerror();
    return failure(path, std::string("cannot load the plugin: ") +
                             (reason == nullptr ? "unknown reason" : reason));
  }
  const auto entry = reinterpret_cast<EntryPoint>(dlsym(handle, TAILPROOF_PLUGIN_ENTRY));
  if (entry == nullptr) {
    dlclose(handle);
    return failure(path, "not a plugin: it exports no function " TAILPROOF_PLUGIN_ENTRY);
  }
  const Plugin* plugin = entry();
  if (plugin == nullptr) return failure(path, TAILPROOF_PLUGIN_ENTRY " returned nothing");
  // Nothing behind the version may be looked at before it is known to be ours.
  if (plugin->interface_version != kInterfaceVersion) {
    return failure(path, "the plugin was built for version " +
                             std::to_string(plugin->interface_version) +
                             " of the interface, this program has version " +
                             std::to_string(kInterfaceVersion) + "; build it again");
  }
  return read_rows(path, *plugin);
}

}  // namespace tailproof
