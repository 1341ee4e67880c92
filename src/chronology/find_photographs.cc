// Photographs of the captions, and what each of them alone tells of its day.
#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <unordered_map>
#include <utility>

#include "chronology/chronology_data.h"

namespace tailproof {
namespace {

bool is_date_of_picture(const Claim& claim) {
  return claim.kind == ClaimKind::kDate && claim.of == "photograph" && is_affirmed(claim) &&
         claim.tense == Tense::kThen && !claim.impossible && !claim.date.is_unknown() &&
         !claim.date.days().empty();
}

// Of these the ledger has rows from one day to another.
bool is_spell(Basis basis) {
  return basis == Basis::kIdentity || basis == Basis::kUnit || basis == Basis::kService;
}

// Stretches of days in which some day is recorded; all where none is.
DaySet linked(const DaySet& allowed, const DaySet& recorded) {
  std::vector<DayRange> ranges;
  for (const DayRange& range : allowed.ranges()) {
    if (recorded.intersects(DaySet{range})) ranges.push_back(range);
  }
  return ranges.empty() ? DaySet::all() : DaySet(std::move(ranges));
}

bool is_worn(const Claim& claim) {
  return claim.state == MarkingState::kWorn || claim.state == MarkingState::kAdded;
}

// A marking that lies under another, or of which traces are left. What is only told of an earlier
// time is no trace.
bool is_former_marking(const Claim& claim) {
  return claim.kind == ClaimKind::kMarking && is_affirmed(claim) && claim.shown && claim.known &&
         claim.state == MarkingState::kFormer && claim.readings.size() < 2;
}

// The claims of one caption, which may print several photographs.
class CaptionFacts {
 public:
  CaptionFacts(ChronologyData& data, std::vector<std::uint32_t> claims)
      : data_(data), ledger_(data.input.ledger), claims_(std::move(claims)) {}

  void add(std::uint32_t manuscript, std::uint32_t block) {
    add_photographs(manuscript, block);
    add_archive();
    for (const std::uint32_t i : claims_) {
      const Claim& claim = data_.input.claims[i];
      if (claim.kind == ClaimKind::kDate) continue;
      if (is_trace(claim) && moments_.size() == 1) {
        add(moments_.front().photograph, Basis::kTrace, i, claim);
        continue;
      }
      if (!is_of_picture(data_.input, claim)) continue;
      const std::uint32_t photograph = photograph_of(claim);
      if (photograph != kNone) add_facts(photograph, i, claim);
    }
    drop_narrated();
    for (TimeFact& fact : facts_) {
      data_.photographs[fact.photograph].facts.push_back(
          static_cast<std::uint32_t>(data_.facts.size()));
      data_.facts.push_back(std::move(fact));
    }
  }

  [[nodiscard]] std::vector<std::uint32_t> photographs() const {
    std::vector<std::uint32_t> all;
    for (const Moment& moment : moments_) all.push_back(moment.photograph);
    return all;
  }

 private:
  // Dates that can be true together date one photograph.
  struct Moment {
    std::uint32_t photograph = kNone;
    DaySet days = DaySet::all();  // with margins
    std::vector<std::uint32_t> dates;
  };

  void add_photographs(std::uint32_t manuscript, std::uint32_t block) {
    std::vector<std::uint32_t> counted;
    for (const std::uint32_t i : claims_) {
      const Claim& claim = data_.input.claims[i];
      if (!is_date_of_picture(claim)) continue;
      if (is_counted(data_.input, claim)) {
        counted.push_back(i);
        continue;
      }
      const DaySet days = claim.date.widened(ledger_.settings().margins);
      const auto fits = std::find_if(moments_.begin(), moments_.end(), [&](const Moment& moment) {
        return moment.days.intersects(days);
      });
      Moment& moment = fits == moments_.end() ? moments_.emplace_back() : *fits;
      moment.days = moment.days.intersect(days);
      moment.dates.push_back(i);
    }
    if (moments_.empty()) moments_.emplace_back();
    // What was counted from an event is its fact (relate_events.cc), and no date beside another.
    const bool is_one = moments_.size() == 1;
    const Block& first = data_.input.manuscripts[manuscript].blocks[block];
    for (Moment& moment : moments_) {
      moment.photograph = static_cast<std::uint32_t>(data_.photographs.size());
      data_.photographs.push_back({manuscript, block, first.figure, first.span, {}});
      for (const std::uint32_t i : moment.dates) add_date(moment.photograph, i);
    }
    if (is_one) {
      auto& dates = moments_.front().dates;
      dates.insert(dates.end(), counted.begin(), counted.end());
    }
  }

  void add_date(std::uint32_t photograph, std::uint32_t i) {
    const Claim& claim = data_.input.claims[i];
    TimeFact fact;
    fact.basis = Basis::kDate;
    fact.photograph = photograph;
    fact.claim = i;
    fact.allowed = {claim.date.days(), claim.date.widened(ledger_.settings().margins)};
    fact.is_hedged = claim.hedged || claim.date.is_uncertain();
    push(std::move(fact));
  }

  // Rows of the numbers that the caption gives its own photograph. Of several, any may be meant.
  void add_archive() {
    if (moments_.size() != 1) return;
    TimeFact fact;
    fact.basis = Basis::kArchive;
    fact.photograph = moments_.front().photograph;
    fact.allowed = Allowed::none();
    for (const std::uint32_t i : claims_) {
      const Claim& claim = data_.input.claims[i];
      const bool is_number = claim.kind == ClaimKind::kReference && claim.role == "photograph" &&
                             is_affirmed(claim) && (claim.said & kSaidElsewhere) == 0;
      if (!is_number) continue;
      const Photograph* row = ledger_.photograph(claim.value);
      if (row == nullptr || row->taken.is_unknown()) return;
      fact.archive = row;
      fact.claim = i;
      fact.allowed =
          unite(fact.allowed, {row->taken.days(), row->taken.widened(ledger_.settings().margins)});
      fact.is_hedged = fact.is_hedged || claim.hedged || row->taken.is_uncertain();
    }
    if (fact.archive != nullptr) push(std::move(fact));
  }

  // The photograph to whose date the claim belongs. Where the caption is dated, what does not stand
  // at that date tells of another time.
  [[nodiscard]] std::uint32_t photograph_of(const Claim& claim) const {
    const bool is_dated = !moments_.front().dates.empty();
    // Whatever else the sentence tells, the machine is in the picture.
    const bool is_machine = claim.kind == ClaimKind::kAirframe && claim.role.empty();
    if (!claim.when.known && (is_dated || (!is_machine && tells_of_something_else(claim)))) {
      return kNone;
    }
    if (moments_.size() == 1) return moments_.front().photograph;
    for (const Moment& moment : moments_) {
      const auto& dates = moment.dates;
      if (std::find(dates.begin(), dates.end(), claim.when.date) != dates.end()) {
        return moment.photograph;
      }
    }
    return kNone;
  }

  // "The Park had it from the following Monday", "when next photographed (Fig. 8)": an undated
  // claim beside the date of something else, or beside another picture to which this one is not
  // related.
  [[nodiscard]] bool tells_of_something_else(const Claim& claim) const {
    const std::string_view block = data_.index.block_text(claim);
    const std::string_view sentence = data_.index.sentence_of(claim);
    auto begin = static_cast<std::size_t>(sentence.data() - block.data());
    const std::size_t end = begin + sentence.size();
    // "The fire was on 7 November; Merrow, by then a Captain, got out": to the full stop before.
    while (begin > 1 && block[begin - 1] == ';') begin = block.find_last_of(".;!?", begin - 2) + 1;
    bool is_something_else = false;
    for (const std::uint32_t i : claims_) {
      const Claim& other = data_.input.claims[i];
      const bool is_beside = other.block == claim.block && other.begin >= begin && other.end <= end;
      if (!is_beside) continue;
      if (other.kind == ClaimKind::kOrderInTime) return false;
      const bool is_date = other.kind == ClaimKind::kDate && other.of != "photograph";
      const bool is_picture = other.kind == ClaimKind::kReference && other.role.empty();
      is_something_else = is_something_else || is_date || is_picture;
    }
    return is_something_else;
  }

  // The lower of two coats.
  [[nodiscard]] bool is_trace(const Claim& claim) const {
    if (!is_former_marking(claim)) return false;
    return std::any_of(claims_.begin(), claims_.end(), [&](std::uint32_t i) {
      const Claim& other = data_.input.claims[i];
      if (other.kind != ClaimKind::kOverpaint || !is_affirmed(other) || !other.shown) return false;
      return other.block == claim.block && other.value.ends_with(" over " + claim.value);
    });
  }

  void push(TimeFact fact) { facts_.push_back(std::move(fact)); }

  // "H-7 with one unit, then F-2 with the next": what the machine, or person, cannot have had at
  // once is told of several times, and none of it of the picture's.
  void drop_narrated() {
    const auto tells_one_thing = [](const TimeFact& fact) {
      return fact.basis == Basis::kIdentity || fact.basis == Basis::kUnit ||
             fact.basis == Basis::kPlace || fact.basis == Basis::kRank ||
             fact.basis == Basis::kService;
    };
    std::map<std::tuple<std::uint32_t, Basis, std::string_view>, DaySet> common;
    const auto key_of = [&](const TimeFact& fact) {
      return std::tuple(fact.photograph, fact.basis,
                        std::string_view(data_.input.claims[fact.claim].subject));
    };
    for (const TimeFact& fact : facts_) {
      if (!tells_one_thing(fact)) continue;
      const DaySet days = fact.allowed.days.intersect(fact.recorded);
      const auto [found, is_first] = common.try_emplace(key_of(fact), days);
      if (!is_first) found->second = found->second.intersect(days);
    }
    // "Is that this one or that one?": of machines in doubt, one at most is in the picture.
    const auto is_doubted = [](const TimeFact& fact) {
      return fact.basis == Basis::kLife && fact.is_hedged;
    };
    if (std::count_if(facts_.begin(), facts_.end(), is_doubted) > 1) {
      std::erase_if(facts_, is_doubted);
    }
    std::erase_if(facts_, [&](const TimeFact& fact) {
      return tells_one_thing(fact) && common[key_of(fact)].empty() && is_one_of_several(fact);
    });
  }

  [[nodiscard]] bool is_one_of_several(const TimeFact& fact) const {
    const Claim& claim = data_.input.claims[fact.claim];
    return std::any_of(claims_.begin(), claims_.end(), [&](std::uint32_t i) {
      const Claim& other = data_.input.claims[i];
      return other.kind == claim.kind && other.subject == claim.subject &&
             other.value != claim.value && other.role == claim.role;
    });
  }

  // Another mention of the same thing says nothing new.
  [[nodiscard]] bool is_new(std::uint32_t photograph, Basis basis, const Claim& claim) {
    return seen_.emplace(photograph, basis, claim.value, claim.subject, claim.position, claim.role)
        .second;
  }

  void add(std::uint32_t photograph, Basis basis, std::uint32_t i, const Claim& claim,
           bool is_firm = true) {
    if (!is_firm && !data_.has_usual_facts) return;
    if (!is_new(photograph, basis, claim)) return;
    std::optional<FactDays> days = days_of_fact(data_, basis, claim, nullptr);
    if (!days) return;
    const bool says_nothing =
        days->allowed.days.is_all() && days->allowed.widened.is_all() && days->recorded.is_all();
    if (says_nothing) return;
    TimeFact fact;
    fact.basis = basis;
    fact.photograph = photograph;
    fact.claim = i;
    fact.allowed = std::move(days->allowed);
    fact.recorded = std::move(days->recorded);
    if (is_spell(basis)) fact.linked = linked(fact.allowed.days, fact.recorded);
    fact.is_firm = is_firm;
    fact.is_hedged = claim.hedged;
    fact.is_inherited = claim.inherited;
    push(std::move(fact));
  }

  void add_facts(std::uint32_t photograph, std::uint32_t i, const Claim& claim) {
    switch (claim.kind) {
      case ClaimKind::kAirframe:
        add_airframe(photograph, i, claim);
        break;
      case ClaimKind::kUnit:
        add_unit(photograph, i, claim);
        break;
      case ClaimKind::kPlace:
        if (claim.known && (claim.role.empty() || claim.role == "approximate")) {
          add(photograph, Basis::kPlace, i, claim);
          add(photograph, Basis::kStation, i, claim, false);
        }
        break;
      case ClaimKind::kPerson:
        if ((claim.said & kSaidDeath) == 0 && (claim.said & kSaidBirth) == 0) {
          add(photograph, Basis::kPerson, i, claim);
        }
        break;
      case ClaimKind::kRank:
        if (ledger_.rank(claim.value) != nullptr && (claim.said & kSaidRankChange) == 0) {
          add(photograph, Basis::kRank, i, claim);
        }
        break;
      case ClaimKind::kAward:
        if (claim.role != "later") add(photograph, Basis::kAward, i, claim);
        break;
      case ClaimKind::kMarking:
        if (!is_worn(claim)) break;
        add(photograph, Basis::kIntroduced, i, claim);
        add(photograph, Basis::kReached, i, claim, false);
        add(photograph, Basis::kCurrent, i, claim, false);
        break;
      default:
        break;
    }
  }

  void add_airframe(std::uint32_t photograph, std::uint32_t i, const Claim& claim) {
    const bool is_serial = claim.role.empty() || claim.role == "tail";
    const std::string& serial = claim.subject.empty() ? claim.value : claim.subject;
    if (ledger_.machine_of(serial).empty()) return;
    if (is_serial) add(photograph, Basis::kLife, i, claim);
    const bool is_identity =
        claim.role == "code" || claim.role == "radio_call" || claim.role == "nickname";
    if (is_identity && claim.state == MarkingState::kWorn && claim.subject != claim.value) {
      add(photograph, Basis::kIdentity, i, claim);
    }
  }

  void add_unit(std::uint32_t photograph, std::uint32_t i, const Claim& claim) {
    const bool is_plain = claim.role.empty();
    if ((claim.said & kSaidForming) == 0) {
      // A member's or former unit may be gone by then; one that holds or flies is there.
      if (is_plain || claim.role == "holder" || claim.role == "operator") {
        add(photograph, Basis::kUnitLife, i, claim);
      }
    }
    if (ledger_.person(claim.subject) != nullptr) {
      if (is_plain || claim.role == "member" || claim.role == "command") {
        add(photograph, Basis::kService, i, claim);
      }
      return;
    }
    if (!is_plain && claim.role != "holder" && claim.role != "operator") return;
    if (ledger_.unit(claim.value) == nullptr || ledger_.machine_of(claim.subject).empty()) return;
    if (ledger_.history_of(claim.subject).empty()) return;
    add(photograph, Basis::kUnit, i, claim);
  }

  ChronologyData& data_;
  const Ledger& ledger_;
  std::vector<std::uint32_t> claims_;
  std::vector<Moment> moments_;
  std::vector<TimeFact> facts_;
  std::set<std::tuple<std::uint32_t, Basis, std::string_view, std::string_view, std::string_view,
                      std::string_view>>
      seen_;
};

}  // namespace

bool is_of_picture(const CheckInput& input, const Claim& claim) {
  if (!is_affirmed(claim) || !claim.shown || claim.tense != Tense::kThen) return false;
  if (!claim.when.known) return true;
  if (claim.when.date >= input.claims.size()) return false;
  return input.claims[claim.when.date].of == "photograph";
}

namespace {

/// Calls `take` for each caption: its manuscript, its blocks that are captions, and the claims of
/// these.
template <typename Take>
void for_each_caption(const CheckInput& input, const Take& take) {
  const FirstClaims first_claim = first_claims(input);
  for (std::uint32_t m = 0; m < input.manuscripts.size(); ++m) {
    const auto& blocks = input.manuscripts[m].blocks;
    std::unordered_map<std::uint32_t, std::vector<std::uint32_t>> blocks_of;  // by group
    for (std::uint32_t b = 0; b < blocks.size(); ++b) {
      if (blocks[b].kind == BlockKind::kCaption && blocks[b].group != kNone) {
        blocks_of[blocks[b].group].push_back(b);
      }
    }
    for (std::uint32_t b = 0; b < blocks.size(); ++b) {
      if (blocks[b].kind != BlockKind::kCaption) continue;
      std::vector<std::uint32_t> own = {b};
      if (blocks[b].group != kNone) own = blocks_of[blocks[b].group];
      if (own.front() != b) continue;
      std::vector<std::uint32_t> gathered;
      for (const std::uint32_t block : own) {
        for (std::uint32_t i = first_claim[m][block]; i < first_claim[m][block + 1]; ++i) {
          gathered.push_back(i);
        }
      }
      take(m, own, std::move(gathered));
    }
  }
}

/// What was kept of the caption, put behind the photographs and facts that are there.
std::vector<std::uint32_t> take_kept(ChronologyData& data, const CaptionPhotographs& kept,
                                     std::uint32_t manuscript, std::uint32_t block,
                                     const std::vector<std::uint32_t>& claims) {
  const auto first = static_cast<std::uint32_t>(data.photographs.size());
  const Block& caption = data.input.manuscripts[manuscript].blocks[block];
  std::vector<std::uint32_t> photographs;
  for (std::uint32_t i = 0; i < kept.count; ++i) {
    photographs.push_back(first + i);
    data.photographs.push_back({manuscript, block, caption.figure, caption.span, {}});
  }
  for (const TimeFact& fact : kept.facts) {
    data.photographs[first + fact.photograph].facts.push_back(
        static_cast<std::uint32_t>(data.facts.size()));
    TimeFact& own = data.facts.emplace_back(fact);
    own.photograph += first;
    own.claim = claims[own.claim];
  }
  return photographs;
}

}  // namespace

void find_photographs(ChronologyData& data) {
  data.facts.reserve(data.input.claims.size() / 2);
  data.photographs_of_block.resize(data.input.manuscripts.size());
  for (std::size_t m = 0; m < data.input.manuscripts.size(); ++m) {
    data.photographs_of_block[m].resize(data.input.manuscripts[m].blocks.size());
  }
  const PhotographFacts* kept = data.has_usual_facts ? nullptr : data.input.photographs.get();
  if (kept != nullptr && kept->of.empty()) kept = nullptr;
  for_each_caption(data.input, [&](std::uint32_t m, const std::vector<std::uint32_t>& blocks,
                                   std::vector<std::uint32_t> claims) {
    const CaptionPhotographs* known = kept == nullptr ? nullptr : kept->of[m][blocks.front()].get();
    std::vector<std::uint32_t> photographs;
    if (known != nullptr) {
      photographs = take_kept(data, *known, m, blocks.front(), claims);
    } else {
      CaptionFacts caption(data, std::move(claims));
      caption.add(m, blocks.front());
      photographs = caption.photographs();
    }
    for (const std::uint32_t block : blocks) data.photographs_of_block[m][block] = photographs;
  });
}

std::shared_ptr<PhotographFacts> photograph_facts(const CheckInput& input) {
  ChronologyData data(input);
  data.has_usual_facts = false;
  data.input.photographs = nullptr;
  auto found = std::make_shared<PhotographFacts>();
  found->of.resize(input.manuscripts.size());
  for (std::size_t m = 0; m < found->of.size(); ++m) {
    found->of[m].resize(input.manuscripts[m].blocks.size());
  }
  for_each_caption(input, [&](std::uint32_t m, const std::vector<std::uint32_t>& blocks,
                              const std::vector<std::uint32_t>& claims) {
    const auto first_fact = static_cast<std::ptrdiff_t>(data.facts.size());
    const auto first = static_cast<std::uint32_t>(data.photographs.size());
    CaptionFacts caption(data, claims);
    caption.add(m, blocks.front());
    CaptionPhotographs own;
    own.count = static_cast<std::uint32_t>(data.photographs.size()) - first;
    own.facts.assign(data.facts.begin() + first_fact, data.facts.end());
    for (TimeFact& fact : own.facts) {
      fact.photograph -= first;
      const auto at = std::lower_bound(claims.begin(), claims.end(), fact.claim);
      fact.claim = static_cast<std::uint32_t>(at - claims.begin());
    }
    found->of[m][blocks.front()] = std::make_shared<const CaptionPhotographs>(std::move(own));
  });
  return found;
}

}  // namespace tailproof
