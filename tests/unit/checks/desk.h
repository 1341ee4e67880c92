// A desk for tests of checks: an invented ledger, written to a folder and read as any other, and
// claims put down by hand as extraction would make them.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "checks/merge.h"
#include "checks/registry.h"
#include "ledger/reader.h"
#include "tailproof/check.h"

namespace tailproof::testing {

class Desk {
 public:
  Desk();
  Desk(const Desk&) = delete;
  Desk& operator=(const Desk&) = delete;
  ~Desk();

  /// Rows of a table ("airframes"), the first of them its header.
  Desk& table(std::string_view name, std::string_view csv);
  /// ledger.toml, whole.
  Desk& toml(std::string_view text);

  /// A claim of the current caption, dated by the caption's date if it has one.
  Claim& add(ClaimKind kind, std::string_view value, std::string_view subject,
             std::string_view role = {});
  /// The date of the current caption, as EDTF; later claims rest on it.
  Claim& date(std::string_view edtf, std::string_view of = "photograph");
  /// Begins another caption with this text.
  Desk& caption(std::string_view text, std::string_view figure = {},
                BlockKind kind = BlockKind::kCaption);

  /// Queries of one check, unmerged.
  std::vector<Query> run(std::string_view check);
  /// Queries of all checks that run before stets, merged.
  std::vector<Query> run_all();
  std::vector<Query> run_stets(std::vector<StetUse> stets, std::vector<std::string> ids);

  const Ledger& ledger();
  /// What lies on the desk, as checks see it. Lifetime: until the next claim is put down.
  CheckInput input();

 private:
  std::string folder_;
  Ledger ledger_;
  bool is_read_ = false;
  std::vector<Manuscript> manuscripts_;
  std::vector<Claim> claims_;
  std::uint32_t date_ = kNone;
};

/// "error rank-disagrees", one a query, joined by "; "; "" when there is none.
std::string summary(const std::vector<Query>& queries);

}  // namespace tailproof::testing
