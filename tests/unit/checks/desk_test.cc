#include "desk.h"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>

namespace tailproof::testing {

Desk::Desk() {
  std::string pattern = (std::filesystem::temp_directory_path() / "tailproof-XXXXXX").string();
  REQUIRE(mkdtemp(pattern.data()) != nullptr);
  folder_ = pattern;
  manuscripts_.resize(1);
  manuscripts_[0].path = "book.md";
  claims_.reserve(100);  // so that references to claims stay good
  toml("title = \"An invented ledger\"\n");
}

Desk::~Desk() { std::filesystem::remove_all(folder_); }

Desk& Desk::table(std::string_view name, std::string_view csv) {
  std::ofstream(folder_ + "/" + std::string(name) + ".csv") << csv;
  return *this;
}

Desk& Desk::toml(std::string_view text) {
  std::ofstream(folder_ + "/ledger.toml") << text;
  return *this;
}

Desk& Desk::caption(std::string_view text, std::string_view figure, BlockKind kind) {
  Block block;
  block.kind = kind;
  block.text = text;
  block.figure = figure;
  block.span.begin = static_cast<std::uint32_t>(manuscripts_[0].blocks.size() * 100);
  block.span.end = block.span.begin + 10;
  manuscripts_[0].blocks.push_back(std::move(block));
  date_ = kNone;
  return *this;
}

Claim& Desk::add(ClaimKind kind, std::string_view value, std::string_view subject,
                 std::string_view role) {
  if (manuscripts_[0].blocks.empty()) caption("A caption.");
  Claim claim;
  claim.kind = kind;
  claim.value = value;
  claim.text = value;
  claim.subject = subject;
  claim.role = role;
  claim.block = static_cast<std::uint32_t>(manuscripts_[0].blocks.size() - 1);
  claim.span.begin = static_cast<std::uint32_t>(claims_.size());
  claim.span.end = claim.span.begin + 1;
  if (date_ != kNone && kind != ClaimKind::kDate) {
    const Claim& date = claims_[date_];
    claim.when.known = true;
    claim.when.days = date.date.days();
    claim.when.widened = date.date.widened(Margins{});
    claim.when.date = date_;
  }
  claims_.push_back(std::move(claim));
  REQUIRE(claims_.size() < 100);
  return claims_.back();
}

Claim& Desk::date(std::string_view edtf, std::string_view of) {
  Claim& claim = add(ClaimKind::kDate, edtf, "Fig. 1");
  claim.of = of;
  Result<Edtf> parsed = Edtf::parse(edtf);
  REQUIRE(parsed.has_value());
  claim.date = parsed.value();
  date_ = static_cast<std::uint32_t>(claims_.size() - 1);
  return claim;
}

const Ledger& Desk::ledger() {
  if (!is_read_) {
    Complaints complaints;
    Result<Ledger> read = read_ledger(folder_, complaints);
    for (const Complaint& complaint : complaints) {
      INFO(to_line(complaint));
      CHECK(complaint.is_note);
    }
    REQUIRE(read.has_value());
    ledger_ = std::move(read).value();
    is_read_ = true;
  }
  return ledger_;
}

CheckInput Desk::input() { return {manuscripts_, claims_, ledger(), {}, {}}; }

std::vector<Query> Desk::run(std::string_view check) {
  const CheckInput input = this->input();
  for (const CheckInfo& info : builtin_checks()) {
    if (info.id == check) return info.run(input);
  }
  FAIL("no check " << check);
  return {};
}

std::vector<Query> Desk::run_all() {
  const CheckInput input{manuscripts_, claims_, ledger(), {}, {}};
  std::vector<Query> queries;
  for (const CheckInfo& info : builtin_checks()) {
    if (info.after_stets) continue;
    for (Query& query : info.run(input)) queries.push_back(std::move(query));
  }
  return merge_queries(std::move(queries), input);
}

std::vector<Query> Desk::run_stets(std::vector<StetUse> stets, std::vector<std::string> ids) {
  const CheckInput input{manuscripts_, claims_, ledger(), stets, ids};
  for (const CheckInfo& info : builtin_checks()) {
    if (info.id == "stet-unused") return info.run(input);
  }
  return {};
}

std::string summary(const std::vector<Query>& queries) {
  std::string text;
  for (const Query& query : queries) {
    text += (text.empty() ? "" : "; ") + std::string(to_word(query.level)) + " " + query.check;
  }
  return text;
}

}  // namespace tailproof::testing
