#include "chronology/topics.h"

#include <algorithm>

#include "chronology/likeness.h"
#include "tailproof/claim_index.h"
#include "tailproof/event_dates.h"
#include "tailproof/placement.h"

namespace tailproof {
namespace {

constexpr std::string_view kAnd = " and ";

std::vector<std::string> parted(std::string_view values) {
  std::vector<std::string> all;
  for (std::size_t at = 0; at <= values.size();) {
    const std::size_t end = std::min(values.find(kAnd, at), values.size());
    all.emplace_back(values.substr(at, end - at));
    at = end + kAnd.size();
  }
  return all;
}

template <typename Agree>
bool none_agree(const Statement& one, const Statement& other, const Agree& agree) {
  for (const std::string& a : parted(one.value)) {
    for (const std::string& b : parted(other.value)) {
      if (agree(a, b)) return false;
    }
  }
  return true;
}

// Papers and people date a delivery or a striking off by different days; a machine may have more
// than one accident.
bool clash_in_event(const Statement& one, const Statement& other) {
  if (one.days.intersects(other.days)) return false;
  const Claim& a = *one.claims.front();
  const Claim& b = *other.claims.front();
  if (a.value == "accident") {
    const auto day = single_day(one.days);
    const auto second = single_day(other.days);
    return day && second && is_slip(*day, *second);
  }
  if (a.value == "lost" || bare(a.text) == bare(b.text)) return true;
  const Day gap =
      std::max(one.days.first() - other.days.last(), other.days.first() - one.days.last());
  constexpr Day kPaperworkDays = 366;
  return gap > kPaperworkDays;
}

// Whether both cannot be true.
bool clash(const Ledger& ledger, const Topic& topic, const Statement& one, const Statement& other) {
  const bool is_same_caption = one.voters == other.voters && one.voters.size() == 1;
  if (is_same_caption) return false;
  switch (topic.kind) {
    case TopicKind::kEvent:
      return clash_in_event(one, other);
    case TopicKind::kCodeOfDay:
      return bare(one.value) != bare(other.value) && (one.surfaces & other.surfaces).any();
    case TopicKind::kCodeOfTable:
      return one.is_of_table != other.is_of_table && bare(one.value) != bare(other.value) &&
             topic.statements.size() == 2;
    case TopicKind::kCodeOfWeeks:
      return bare(one.value) != bare(other.value) && topic.statements.size() == 2;
    case TopicKind::kHolderOfDay:
      return !units_agree(ledger, one.value, other.value);
    case TopicKind::kPlaceOfDay:
      return !places_agree(ledger, one.value, other.value);
    case TopicKind::kMarkingOfDay:
    case TopicKind::kType:
      return one.value != other.value;
    case TopicKind::kConstructorNumber:
      return bare(one.value) != bare(other.value);
    case TopicKind::kPictureDate:
      return !one.days.intersects(other.days);
    case TopicKind::kPictureMachine:
      return none_agree(one, other,
                        [](const std::string& a, const std::string& b) { return a == b; });
    case TopicKind::kPicturePlace:
      return none_agree(one, other, [&](const std::string& a, const std::string& b) {
        return places_agree(ledger, a, b);
      });
  }
  return false;
}

// The statement with the most captions against it and the fewest for it; of two the later.
std::size_t most_outvoted(const Topic& topic,
                          const std::vector<std::vector<std::size_t>>& against) {
  std::size_t best = against.size();
  std::int64_t best_votes = 0;
  for (std::size_t i = 0; i < against.size(); ++i) {
    if (against[i].empty()) continue;
    std::int64_t votes = -static_cast<std::int64_t>(topic.statements[i].voters.size());
    for (const std::size_t other : against[i]) {
      votes += static_cast<std::int64_t>(topic.statements[other].voters.size());
    }
    const bool is_later = best < against.size() &&
                          topic.statements[i].claims.back() > topic.statements[best].claims.back();
    if (best == against.size() || votes > best_votes || (votes == best_votes && is_later)) {
      best = i;
      best_votes = votes;
    }
  }
  return best;
}

}  // namespace

std::vector<Outvoted> outvoted(const Ledger& ledger, const Topic& topic) {
  const std::size_t count = topic.statements.size();
  std::vector<std::vector<std::size_t>> against(count);
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t j = i + 1; j < count; ++j) {
      if (!clash(ledger, topic, topic.statements[i], topic.statements[j])) continue;
      against[i].push_back(j);
      against[j].push_back(i);
    }
  }
  std::vector<Outvoted> all;
  for (std::size_t wrong = most_outvoted(topic, against); wrong != count;
       wrong = most_outvoted(topic, against)) {
    for (const std::size_t other : against[wrong]) std::erase(against[other], wrong);
    all.push_back({wrong, std::move(against[wrong])});
    against[wrong].clear();
  }
  return all;
}

std::string joined(const std::set<std::string>& values) {
  std::string all;
  for (const std::string& value : values) all += (all.empty() ? "" : std::string(kAnd)) + value;
  return all;
}

std::string verb_of(const Topic& topic) {
  switch (topic.kind) {
    case TopicKind::kEvent:
      return "was " + event_in_words(*topic.statements.front().claims.front());
    case TopicKind::kCodeOfDay:
    case TopicKind::kCodeOfTable:
    case TopicKind::kCodeOfWeeks:
      return "is coded";
    case TopicKind::kHolderOfDay:
      return "is held by";
    case TopicKind::kPlaceOfDay:
    case TopicKind::kPicturePlace:
      return "is at";
    case TopicKind::kMarkingOfDay:
      return "is";
    case TopicKind::kType:
      return "is of type";
    case TopicKind::kConstructorNumber:
      return "has the constructor's number";
    case TopicKind::kPictureDate:
      return "is dated";
    case TopicKind::kPictureMachine:
      return "shows";
  }
  return "is";
}

Level level_of_kind(TopicKind kind) {
  const bool is_soft = kind == TopicKind::kCodeOfTable || kind == TopicKind::kCodeOfWeeks ||
                       kind == TopicKind::kPlaceOfDay || kind == TopicKind::kMarkingOfDay;
  return is_soft ? Level::kWarning : Level::kError;
}

}  // namespace tailproof
