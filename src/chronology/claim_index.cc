#include "tailproof/claim_index.h"

#include <algorithm>
#include <cctype>
#include <string>
#include <unordered_map>

#include "source/ascii.h"

namespace tailproof {
namespace {

const Block& block_at(const CheckInput& input, const Claim& claim) {
  static const Block kNoBlock;
  if (claim.manuscript >= input.manuscripts.size()) return kNoBlock;
  const Manuscript& manuscript = input.manuscripts[claim.manuscript];
  return claim.block < manuscript.blocks.size() ? manuscript.blocks[claim.block] : kNoBlock;
}

bool is_letter_or_digit(char c) { return is_letter(c) || is_digit(c); }

// A full stop ends a sentence when a blank and a capital follow and the word before it is longer
// than an initial or the usual short form ("No.", "Lt."), or a small word in small letters before a
// word ("in the bay. It").
bool ends_sentence(std::string_view text, std::size_t at) {
  const char c = text[at];
  if (c != '.' && c != '!' && c != '?' && c != ';') return false;
  if (at + 1 >= text.size()) return true;
  if (c == ';') return true;
  if (at + 2 >= text.size() || text[at + 1] != ' ') return false;
  if (std::islower(static_cast<unsigned char>(text[at + 2])) != 0) return false;
  std::size_t length = 0;
  while (length < at && is_letter_or_digit(text[at - 1 - length])) ++length;
  const bool is_small = length > 1 &&
                        std::islower(static_cast<unsigned char>(text[at - length])) != 0 &&
                        std::isupper(static_cast<unsigned char>(text[at + 2])) != 0;
  return length > 3 || is_small ||
         (length > 0 && std::isdigit(static_cast<unsigned char>(text[at - 1])) != 0);
}

}  // namespace

std::uint64_t caption_key(const CheckInput& input, const Claim& claim) {
  // A group's number and a block's number share the low half; the top bit tells them apart.
  const std::uint32_t group = block_at(input, claim).group;
  const std::uint64_t manuscript = static_cast<std::uint64_t>(claim.manuscript) << 32U;
  if (group == kNone) return manuscript | claim.block;
  return (1ULL << 63U) | manuscript | group;
}

Captions::Captions(std::span<const Manuscript> manuscripts, std::span<const Claim> claims) {
  of_.resize(manuscripts.size());
  std::unordered_map<std::uint32_t, std::uint32_t> range_of_group;
  for (std::size_t m = 0; m < manuscripts.size(); ++m) {
    range_of_group.clear();
    for (const Block& block : manuscripts[m].blocks) {
      const auto fresh = static_cast<std::uint32_t>(ranges_.size());
      const std::uint32_t range =
          block.group == kNone ? fresh
                               : range_of_group.try_emplace(block.group, fresh).first->second;
      if (range == fresh) ranges_.emplace_back();
      of_[m].push_back(range);
    }
  }
  // Sorted by counting: how many stand in each, where each begins, then every claim to its place.
  const auto range_of = [this](const Claim& claim) -> Range* {
    if (claim.manuscript >= of_.size() || claim.block >= of_[claim.manuscript].size())
      return nullptr;
    return &ranges_[of_[claim.manuscript][claim.block]];
  };
  for (const Claim& claim : claims) {
    if (Range* range = range_of(claim)) ++range->count;
  }
  std::uint32_t first = 0;
  for (Range& range : ranges_) {
    range.first = first;
    first += range.count;
    range.count = 0;
  }
  claims_.resize(first);
  for (std::uint32_t i = 0; i < claims.size(); ++i) {
    if (Range* range = range_of(claims[i])) claims_[range->first + range->count++] = i;
    const auto kind = static_cast<std::size_t>(claims[i].kind);
    if (kind >= kinds_.size()) kinds_.resize(kind + 1);
    kinds_[kind].push_back(i);
  }
}

std::span<const std::uint32_t> Captions::around(const Claim& claim) const {
  if (claim.manuscript >= of_.size() || claim.block >= of_[claim.manuscript].size()) return {};
  const Range range = ranges_[of_[claim.manuscript][claim.block]];
  return std::span(claims_).subspan(range.first, range.count);
}

FirstClaims first_claims(const CheckInput& input) {
  // Claims stand by manuscript and block.
  const auto claims = input.claims;
  FirstClaims first(input.manuscripts.size());
  std::uint32_t next = 0;
  for (std::uint32_t m = 0; m < first.size(); ++m) {
    const auto blocks = static_cast<std::uint32_t>(input.manuscripts[m].blocks.size());
    for (std::uint32_t b = 0; b < blocks; ++b) {
      const auto is_before = [&](const Claim& claim) {
        return claim.manuscript < m || (claim.manuscript == m && claim.block < b);
      };
      while (next < claims.size() && is_before(claims[next])) ++next;
      first[m].push_back(next);
    }
    while (next < claims.size() && claims[next].manuscript <= m) ++next;
    first[m].push_back(next);
  }
  return first;
}

std::span<const std::uint32_t> Captions::of_kind(ClaimKind kind) const {
  const auto number = static_cast<std::size_t>(kind);
  return number < kinds_.size() ? std::span(kinds_[number]) : std::span<const std::uint32_t>{};
}

namespace {

std::shared_ptr<const Captions> captions_of(const CheckInput& input) {
  return input.captions != nullptr
             ? input.captions
             : std::make_shared<const Captions>(input.manuscripts, input.claims);
}

}  // namespace

ClaimsOfKind::ClaimsOfKind(const CheckInput& input, ClaimKind kind)
    : captions_(captions_of(input)),
      claims_(input.claims.data()),
      of_kind_(captions_->of_kind(kind)) {}

ClaimIndex::ClaimIndex(const CheckInput& input) : input_(&input), captions_(captions_of(input)) {}

std::span<const std::uint32_t> ClaimIndex::around(const Claim& claim) const {
  return captions_->around(claim);
}

std::uint32_t ClaimIndex::index_of(const Claim& claim) const {
  return static_cast<std::uint32_t>(&claim - input_->claims.data());
}

const Claim* ClaimIndex::person_beside(const Claim& claim) const {
  const std::uint32_t person = claim.holder_of_rank;
  return person < input_->claims.size() ? &input_->claims[person] : nullptr;
}

const Block& ClaimIndex::block_of(const Claim& claim) const { return block_at(*input_, claim); }

std::string_view ClaimIndex::block_text(const Claim& claim) const { return block_of(claim).text; }

std::string_view ClaimIndex::sentence_of(const Claim& claim) const {
  const std::string_view text = block_text(claim);
  if (text.empty()) return text;
  std::size_t begin = std::min<std::size_t>(claim.begin, text.size());
  while (begin > 0 && !ends_sentence(text, begin - 1)) --begin;
  std::size_t end = std::min<std::size_t>(std::max(claim.end, claim.begin), text.size());
  while (end < text.size() && !ends_sentence(text, end)) ++end;
  return text.substr(begin, end - begin);
}

std::span<const Claim> ClaimIndex::in_sentence(const Claim& claim) const {
  const std::string_view sentence = sentence_of(claim);
  const auto begin = static_cast<std::size_t>(sentence.data() - block_text(claim).data());
  const auto is_here = [&](const Claim& other) {
    return other.manuscript == claim.manuscript && other.block == claim.block &&
           other.begin >= begin && other.begin < begin + sentence.size();
  };
  // Claims of a block stand in the order of the text.
  const std::span<const Claim> all = input_->claims;
  std::size_t first = index_of(claim), last = first + 1;
  while (first > 0 && is_here(all[first - 1])) --first;
  while (last < all.size() && is_here(all[last])) ++last;
  return all.subspan(first, last - first);
}

NamedMachine machine_beside(const ClaimIndex& index, const Claim& claim) {
  NamedMachine named;
  for (const Claim& other : index.in_sentence(claim)) {
    const bool is_machine = other.kind == ClaimKind::kAirframe && &other != &claim;
    if (!is_machine || other.role == "nickname" || other.subject.empty()) continue;
    if (other.subject != claim.subject) {
      named.is_only = false;
    } else if (other.end <= claim.begin) {
      // "X12 (TL-A) at the Point": the letters are beside the serial, and no other machine.
      if (named.before == nullptr || other.role != "code") named.before = &other;
    } else if (named.behind == nullptr) {
      named.behind = &other;
    }
  }
  if (named.before != nullptr) {
    named.between =
        index.block_text(claim).substr(named.before->end, claim.begin - named.before->end);
  }
  return named;
}

std::string bare(std::string_view text) {
  std::string out;
  for (const char c : text) {
    // Bytes of other alphabets are kept: only ASCII marks and blanks vanish.
    if (is_letter_or_digit(c) || (static_cast<unsigned char>(c) & 0x80U) != 0) out += lower(c);
  }
  return out;
}

}  // namespace tailproof
