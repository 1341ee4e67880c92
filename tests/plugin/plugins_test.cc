#include "run/plugins.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "ledger/reader.h"

using namespace tailproof;

namespace {

const std::string kFolder = TAILPROOF_PLUGINS;

std::string fault_of(const std::string& name) {
  const Result<std::vector<CheckInfo>> loaded = load_plugin(kFolder + "/" + name);
  if (loaded) return "";
  CHECK(loaded.error().file == kFolder + "/" + name);
  CHECK(loaded.error().message.find('\n') == std::string::npos);
  return loaded.error().message;
}

bool says(const std::string& message, std::string_view words) {
  return message.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("the example plugin is loaded and its check runs") {
  const auto loaded = load_plugin(kFolder + "/shouting_plugin.so");
  REQUIRE(loaded.has_value());
  REQUIRE(loaded.value().size() == 1);
  const CheckInfo& info = loaded.value()[0];
  CHECK(info.id == "marking-shouted");
  CHECK(info.highest == Level::kNote);

  std::vector<Claim> claims(2);
  for (Claim& claim : claims) claim.kind = ClaimKind::kMarking;
  claims[0].text = "RED DISC";
  claims[0].value = "red disc";
  claims[1].text = "red disc";
  const Ledger ledger = empty_ledger();
  const CheckInput input{{}, claims, ledger, {}, {}};
  const std::vector<Query> queries = info.run(input);
  REQUIRE(queries.size() == 1);
  CHECK(queries[0].check == "marking-shouted");
  CHECK(queries[0].suggestion == "red disc");
  CHECK(queries[0].claims == std::vector<std::uint32_t>{0});
}

TEST_CASE("a plugin is loaded twice without harm") {
  CHECK(load_plugin(kFolder + "/shouting_plugin.so").has_value());
  CHECK(load_plugin(kFolder + "/shouting_plugin.so").has_value());
}

TEST_CASE("what cannot be used is refused in one line that says why") {
  CHECK(says(fault_of("bad_plugin_version.so"),
             "version " + std::to_string(kInterfaceVersion + 1) + " of the interface"));
  CHECK(says(fault_of("bad_plugin_entry.so"), "exports no function tailproof_plugin"));
  CHECK(says(fault_of("bad_plugin_twice.so"), "two checks have the id \"twice-named\""));
  CHECK(says(fault_of("bad_plugin_nameless.so"), "\"Not An Id\""));
  CHECK(says(fault_of("bad_plugin_functionless.so"), "has no function"));
  CHECK(says(fault_of("absent.so"), "cannot load the plugin"));
  std::ofstream(kFolder + "/text.so") << "not a shared object\n";
  CHECK(says(fault_of("text.so"), "cannot load the plugin"));
}
