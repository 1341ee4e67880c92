// | situation                                                               | level  |
// | two stated diameters of one marking are not as its `rings` has them,    | error  |
// |   by more than the rounding shown allows                                |        |
// | diameters told as a proportion ("six to four to two") and not as `rings` | error  |
// | one diameter alone, a part that `rings` does not name                   | silent |
// | several sizes of the marking in one block: any of them that fits        | silent |
// |   but what semicolons and full points set apart must agree by itself    | error  |
// | two rings of one colour: the one that fits                              | silent |
// | a ring's diameter, or how far it reaches on one side: what fits         | silent |
// | a name shared by several markings, one of which has these proportions   | silent |
// | a marking not named here, and another of its family has them            | silent |
// | all that the block tells of one family fits another marking of it       | silent |
#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "insignia-proportion";

struct Ring {
  std::string name;        // "gold"; "" where the ledger gives diameters alone
  std::string first_word;  // "red" of "red stripe"; else ""
  double size = 0;
  bool is_width = false;  // how far the ring reaches on one side, not its diameter
};

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

// "5:3:1", or "yellow 7;blue 5;white 3;red 1", outermost first.
std::vector<Ring> read_rings(std::string_view cell) {
  std::vector<Ring> rings;
  const char separator = cell.find(';') != std::string_view::npos ? ';' : ':';
  while (!cell.empty()) {
    const std::size_t end = std::min(cell.find(separator), cell.size());
    const std::string_view item = trimmed(cell.substr(0, end));
    cell.remove_prefix(std::min(end + 1, cell.size()));
    const std::size_t blank = item.rfind(' ');
    const std::string_view number = blank == std::string_view::npos ? item : item.substr(blank + 1);
    const double size = std::strtod(std::string(number).c_str(), nullptr);
    if (size <= 0) return {};
    const std::string_view name =
        blank == std::string_view::npos ? std::string_view() : item.substr(0, blank);
    const std::size_t word = name.find(' ');
    rings.push_back(
        {bare(name), word == std::string_view::npos ? "" : bare(name.substr(0, word)), size});
  }
  // "A yellow edge 3 in wide": half of what the next ring leaves of it.
  const std::size_t count = rings.size();
  for (std::size_t i = 0; i + 1 < count; ++i) {
    const bool is_nested = !rings[i].name.empty() && rings[i].first_word.empty() &&
                           !rings[i + 1].name.empty() && rings[i + 1].first_word.empty() &&
                           rings[i].size > rings[i + 1].size;
    if (is_nested)
      rings.push_back({rings[i].name, "", (rings[i].size - rings[i + 1].size) / 2, true});
  }
  return rings;
}

// Which ring a measure speaks of; kNone when that is not told.
std::size_t ring_of(const std::vector<Ring>& rings, std::string_view part) {
  const std::string name = bare(part);
  if (name.empty() || name == "whole" || name == "overall" || name == "diameter" ||
      name == "outer" || name == "outside") {
    return 0;
  }
  constexpr std::string_view kWidth = "width";
  for (std::size_t i = 0; i < rings.size(); ++i) {
    const bool is_named = rings[i].is_width ? name == rings[i].name + std::string(kWidth)
                                            : !rings[i].name.empty() && rings[i].name == name;
    if (is_named) return i;
  }
  // "The border 5 in", where the ledger has "border" for a part beside others: that is its width.
  if (name.ends_with(kWidth)) {
    const std::string part_itself = name.substr(0, name.size() - kWidth.size());
    for (std::size_t i = 0; i < rings.size(); ++i) {
      if (!rings[i].is_width && rings[i].name == part_itself) return i;
    }
    return kNone;
  }
  const auto diameters = static_cast<std::size_t>(
      std::count_if(rings.begin(), rings.end(), [](const Ring& ring) { return !ring.is_width; }));
  // "The crimson centre", "the centre": the part by its colour, or the innermost.
  for (const std::string_view ending :
       {"centre", "center", "disc", "ring", "hub", "boss", "heart"}) {
    if (name.size() > ending.size() && name.ends_with(ending))
      return ring_of(rings, name.substr(0, name.size() - ending.size()));
  }
  if ((name == "centre" || name == "center" || name == "heart") && diameters > 1)
    return diameters - 1;
  // "red" is enough for a "red stripe" where nothing else in the marking is red.
  std::size_t by_first_word = kNone;
  std::size_t count = 0;
  for (std::size_t i = 0; i < rings.size(); ++i) {
    if (rings[i].is_width || rings[i].first_word != name) continue;
    by_first_word = i;
    ++count;
  }
  if (count == 1) return by_first_word;
  const bool is_number = std::all_of(name.begin(), name.end(), [](char c) {
    return std::isdigit(static_cast<unsigned char>(c)) != 0;
  });
  if (is_number && name.size() < 3) {
    const auto number = static_cast<std::size_t>(std::atoi(name.c_str()));
    if (number >= 1 && number <= diameters) return number - 1;
  }
  return kNone;
}

// "The white" of a marking with two white rings: whichever the most other measures agree with.
std::vector<std::size_t> namesakes_of(const std::vector<Ring>& rings, std::size_t ring) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < rings.size(); ++i) {
    if (i != ring && !rings[i].name.empty() && rings[i].name == rings[ring].name)
      found.push_back(i);
  }
  return found;
}

double factor_of(std::string_view unit) {
  if (unit == "in") return 25.4;
  if (unit == "ft") return 304.8;
  if (unit == "cm") return 10;
  if (unit == "mm") return 1;
  if (unit == "m") return 1000;
  return unit.empty() ? 1 : 0;
}

struct Stated {
  const Claim* claim = nullptr;
  std::size_t ring = 0;
  double low = 0, high = 0;  // with the rounding shown, in millimetres
};

double half_place(std::string_view text, double value) {
  const std::size_t point = text.find('.');
  if (point == std::string_view::npos) return value == std::floor(value) ? 0.5 : 1.0 / 16;
  const std::size_t places = text.size() - point - 1;
  return 0.5 * std::pow(10.0, -static_cast<double>(places));
}

Stated read(const Claim& claim, std::size_t ring) {
  const Measure& measure = *claim.measure;
  const double factor = factor_of(measure.unit);
  const double half = half_place(measure.value_text, measure.value);
  const double low =
      std::min(measure.value, measure.value_low > 0 ? measure.value_low : measure.value);
  const double high = std::max(measure.value, measure.value_high);
  return {&claim, ring, (low - half) * factor, (high + half) * factor};
}

bool agree(const std::vector<Ring>& rings, const Stated& one, const Stated& other) {
  const double a = rings[one.ring].size;
  const double b = rings[other.ring].size;
  // The size of the whole that each allows must have a value in common.
  return one.low / a <= other.high / b && other.low / b <= one.high / a;
}

// The measure that most of the others speak against, by index; kNone when all agree. A later one
// loses to an earlier one.
std::size_t odd_one(const std::vector<Ring>& rings, const std::vector<Stated>& stated) {
  std::size_t worst = kNone;
  std::size_t most = 0;
  for (std::size_t i = 0; i < stated.size(); ++i) {
    std::size_t against = 0;
    bool has_match = false;
    for (std::size_t j = 0; j < stated.size(); ++j) {
      if (stated[i].ring == stated[j].ring) continue;
      if (agree(rings, stated[i], stated[j])) {
        has_match = true;
      } else {
        ++against;
      }
    }
    // With three or more measures, one that fits any other is not the odd one out.
    if (against == 0 || (has_match && against < most)) continue;
    if (against >= most) {
      most = against;
      worst = i;
    }
  }
  return worst;
}

// Puts a measure whose ring has a namesake to the one that the others agree with.
void settle_namesakes(const std::vector<Ring>& rings, std::vector<Stated>& stated) {
  for (std::size_t i = 0; i < stated.size(); ++i) {
    if (stated[i].claim->part.empty() || rings[stated[i].ring].is_width) continue;
    const auto agreeing = [&](std::size_t ring) {
      Stated tried = stated[i];
      tried.ring = ring;
      return std::count_if(stated.begin(), stated.end(), [&](const Stated& other) {
        return other.claim != tried.claim && other.ring != ring && agree(rings, tried, other);
      });
    };
    for (const std::size_t other : namesakes_of(rings, stated[i].ring)) {
      if (agreeing(other) > agreeing(stated[i].ring)) stated[i].ring = other;
    }
  }
}

// An odd measure of a ring that has a namesake is put to the one whose size it comes nearest to.
void settle_odd(const std::vector<Ring>& rings, const Stated& base, Stated& odd) {
  if (odd.claim->part.empty() || rings[odd.ring].is_width) return;
  const auto off_by = [&](std::size_t ring) {
    const double right = (base.low + base.high) * rings[ring].size / rings[base.ring].size;
    return std::abs(std::log((odd.low + odd.high) / right));
  };
  for (const std::size_t other : namesakes_of(rings, odd.ring)) {
    const bool is_diameter = !rings[other].is_width;
    if (other != base.ring && is_diameter && off_by(other) < off_by(odd.ring)) odd.ring = other;
  }
}

// Two sizes of the whole in one block make several insignia: what fits either is in order.
bool fits_another_size(const std::vector<Ring>& rings, const std::vector<Stated>& stated,
                       std::size_t odd) {
  std::size_t wholes = 0;
  bool fits = false;
  for (const Stated& other : stated) {
    if (other.ring == stated[odd].ring) continue;
    ++wholes;
    fits = fits || agree(rings, stated[odd], other);
  }
  const bool has_several = std::any_of(stated.begin(), stated.end(), [&](const Stated& one) {
    return std::any_of(stated.begin(), stated.end(), [&](const Stated& other) {
      return &one != &other && one.ring == other.ring &&
             (one.low > other.high || other.low > one.high);
    });
  });
  return wholes > 0 && has_several && fits;
}

// Whether a semicolon or the end of a sentence stands in the text.
bool has_stop(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == ';' || text[i] == ':') return true;
    const bool is_end = (text[i] == '.' || text[i] == '?' || text[i] == '!') &&
                        i + 2 < text.size() && text[i + 1] == ' ' &&
                        std::isupper(static_cast<unsigned char>(text[i + 2])) != 0;
    if (is_end) return true;
  }
  return false;
}

// "It is 90 cm across with a heart of 30 cm; the other was 60 cm wide with a heart of 30 cm": what
// stands by itself between stops, each ring once, is of one insignia. The odd one of such a run and
// the run, both by index; kNone where each run agrees.
struct Run {
  std::size_t first = 0, end = 0;
};

std::size_t odd_of_runs(const std::vector<Ring>& rings, const std::vector<Stated>& stated,
                        std::string_view text, Run& run) {
  const auto is_parted = [&](std::size_t before, std::size_t after) {
    const Claim& one = *stated[before].claim;
    const Claim& other = *stated[after].claim;
    return one.end <= other.begin && has_stop(text.substr(one.end, other.begin - one.end));
  };
  for (run.first = 0; run.first < stated.size(); run.first = run.end) {
    run.end = run.first + 1;
    std::set<std::size_t> named = {stated[run.first].ring};
    while (run.end < stated.size() && !is_parted(run.end - 1, run.end))
      named.insert(stated[run.end++].ring);
    const std::size_t count = run.end - run.first;
    if (count < 2 || named.size() < count) continue;
    const std::vector<Stated> own(stated.begin() + static_cast<std::ptrdiff_t>(run.first),
                                  stated.begin() + static_cast<std::ptrdiff_t>(run.end));
    const std::size_t odd = odd_one(rings, own);
    if (odd != kNone) return run.first + odd;
  }
  return kNone;
}

struct Group {
  std::string marking;
  std::vector<const Claim*> claims;
};

// Measures of one marking in one block, in the order of the text.
std::vector<Group> group_claims(const CheckInput& input) {
  std::vector<Group> groups;
  std::uint64_t block = 0;
  std::size_t first_of_block = 0;
  for (const Claim& claim : ClaimsOfKind(input, ClaimKind::kMeasure)) {
    if (!is_affirmed(claim) || claim.part == kProportion) continue;
    if (factor_of(claim.measure->unit) <= 0 || claim.measure->value <= 0) continue;
    if (input.ledger.marking(claim.subject) == nullptr) continue;
    const std::uint64_t here = (static_cast<std::uint64_t>(claim.manuscript) << 32U) | claim.block;
    if (here != block) {
      block = here;
      first_of_block = groups.size();
    }
    const auto found =
        std::find_if(groups.begin() + static_cast<std::ptrdiff_t>(first_of_block), groups.end(),
                     [&](const Group& group) { return group.marking == claim.subject; });
    if (found == groups.end()) {
      groups.push_back({claim.subject, {&claim}});
    } else {
      found->claims.push_back(&claim);
    }
  }
  return groups;
}

// "6:4:2".
std::vector<double> parts_of(std::string_view value) {
  std::vector<double> parts;
  while (!value.empty()) {
    const std::size_t end = std::min(value.find(':'), value.size());
    parts.push_back(std::strtod(std::string(value.substr(0, end)).c_str(), nullptr));
    value.remove_prefix(std::min(end + 1, value.size()));
  }
  std::sort(parts.rbegin(), parts.rend());
  return parts;
}

enum class Fit { kNone, kBad, kGood };

// Whether the diameters of the marking, or as many of them in their order, are as the parts.
Fit fit_of(const Marking* marking, const std::vector<double>& parts) {
  constexpr double kSlack = 0.02;
  if (marking == nullptr) return Fit::kNone;
  std::vector<double> sizes;
  for (const Ring& ring : read_rings(marking->rings)) {
    if (ring.is_width) continue;
    if (!sizes.empty() && ring.size >= sizes.back()) return Fit::kNone;  // no rings one in another
    sizes.push_back(ring.size);
  }
  if (parts.empty() || sizes.size() < parts.size()) return Fit::kNone;
  for (std::size_t first = 0; first < sizes.size(); ++first) {
    std::size_t found = 1;
    for (std::size_t next = first + 1; next < sizes.size() && found < parts.size(); ++next) {
      const double right = sizes[next] / sizes[first];
      if (std::abs(parts[found] / parts[0] - right) <= kSlack * right) ++found;
    }
    if (found == parts.size()) return Fit::kGood;
  }
  return Fit::kBad;
}

std::string number(double value) {
  char digits[32];
  std::snprintf(digits, sizeof digits, "%.4g", value);
  return digits;
}

// "6:4:2": the diameters alone, as a text tells them.
std::string proportion_of(std::string_view rings) {
  std::string told;
  for (const Ring& ring : read_rings(rings)) {
    if (ring.is_width) continue;
    if (!told.empty()) told += ':';
    told += number(ring.size);
  }
  return told;
}

bool is_called_by_name(const ClaimIndex& index, const Claim& claim, const Marking& marking) {
  const auto around = index.around(claim);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& named = index.claim(i);
    return named.kind == ClaimKind::kMarking && named.value == marking.marking &&
           bare(named.text).find(bare(marking.family)) != std::string::npos;
  });
}

// "The diameters stood as six to four to two".
std::vector<Query> query_proportions(const CheckInput& input, const ClaimIndex& index) {
  std::vector<Query> queries;
  for (const Claim& claim : ClaimsOfKind(input, ClaimKind::kMeasure)) {
    if (claim.part != kProportion || !is_affirmed(claim)) continue;
    const Marking* marking = input.ledger.marking(claim.subject);
    const std::vector<double> parts = parts_of(claim.value);
    if (marking == nullptr || fit_of(marking, parts) != Fit::kBad) continue;
    const auto fits = [&](const std::string& key) {
      return fit_of(input.ledger.marking(key), parts) == Fit::kGood;
    };
    if (std::any_of(claim.readings.begin(), claim.readings.end(), fits)) continue;
    // One that is told only by its colours, or before, may be another of its family.
    const std::span<const Marking> known = input.ledger.markings();
    const bool fits_kin = std::any_of(known.begin(), known.end(), [&](const Marking& other) {
      return !marking->family.empty() && other.family == marking->family && fits(other.marking);
    });
    if (fits_kin && !is_called_by_name(index, claim, *marking)) continue;
    Query query = query_at(kId, input, claim, tempered(claim, Level::kError),
                           "the diameters of " + marking->marking + " are told as " + claim.value +
                               ", but its proportions are " + marking->rings);
    query.evidence.push_back(
        quote(marking->row, marking->marking + " has the proportions " + marking->rings));
    query.suggestion = proportion_of(marking->rings);
    queries.push_back(std::move(query));
  }
  return queries;
}

}  // namespace

std::vector<Query> check_insignia_proportion(const CheckInput& input) {
  const ClaimIndex index(input);
  std::vector<Query> queries = query_proportions(input, index);
  const std::vector<Group> groups = group_claims(input);
  for (const Group& group : groups) {
    const Marking* marking = input.ledger.marking(group.marking);
    const std::vector<Ring> rings = read_rings(marking->rings);
    if (rings.size() < 2) continue;
    // Every marking that the words may mean: one that fits is enough.
    const auto fits_reading = [&](const std::string& key) {
      const Marking* other = input.ledger.marking(key);
      if (other == nullptr || key == group.marking) return false;
      const std::vector<Ring> its = read_rings(other->rings);
      std::vector<Stated> stated;
      for (const Claim* claim : group.claims) {
        const std::size_t ring = its.empty() ? kNone : ring_of(its, claim->part);
        if (ring == kNone) return false;
        stated.push_back(read(*claim, ring));
      }
      return odd_one(its, stated) == kNone;
    };
    // "A type C roundel", and not only by a part of it ("the white disc").
    const auto around = index.around(*group.claims.front());
    const bool is_called_whole = std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
      const Claim& named = index.claim(i);
      return named.kind == ClaimKind::kMarking && named.value == group.marking &&
             bare(named.text).find(bare(marking->family)) != std::string::npos;
    });
    // "A green disc of 50 in and a crimson centre of 20", each taken for the form that has such a
    // part: all that the block says of insignia of one family fits another of them.
    const auto fits_all = [&](const Marking& other) {
      if (marking->family.empty() || other.family != marking->family) return false;
      const std::vector<Ring> its = read_rings(other.rings);
      std::vector<Stated> all;
      std::set<std::size_t> named;
      std::set<std::string_view> forms;
      for (const Group& kin : groups) {
        const Claim& first = *kin.claims.front();
        const Marking* of = input.ledger.marking(kin.marking);
        if (of->family != marking->family || first.block != group.claims.front()->block ||
            first.manuscript != group.claims.front()->manuscript)
          continue;
        forms.insert(kin.marking);
        for (const Claim* claim : kin.claims) {
          const std::size_t ring = its.empty() ? kNone : ring_of(its, claim->part);
          if (ring == kNone) return false;
          all.push_back(read(*claim, ring));
          named.insert(ring);
        }
      }
      return (forms.size() > 1 || !is_called_whole) && named.size() > 1 &&
             odd_one(its, all) == kNone;
    };
    const std::span<const Marking> known = input.ledger.markings();
    if (std::any_of(known.begin(), known.end(), fits_all)) continue;
    const std::vector<std::string>& readings = group.claims.front()->readings;
    if (std::any_of(readings.begin(), readings.end(), fits_reading)) continue;
    // "The order took out the black: 36 in of green and 18 in of white": a form that the block does
    // not name may be another of its family.
    const bool is_named = std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
      const Claim& named = index.claim(i);
      return named.kind == ClaimKind::kMarking && named.value == group.marking;
    });
    const auto is_kin = [&](const Marking& other) {
      return !marking->family.empty() && other.family == marking->family &&
             fits_reading(other.marking);
    };
    if (!is_named && std::any_of(known.begin(), known.end(), is_kin)) continue;

    std::vector<Stated> stated;
    for (const Claim* claim : group.claims) {
      const std::size_t ring = ring_of(rings, claim->part);
      if (ring != kNone) stated.push_back(read(*claim, ring));
    }
    if (stated.empty()) continue;
    settle_namesakes(rings, stated);
    const Claim& first = *stated.front().claim;
    const std::string& text = input.manuscripts[first.manuscript].blocks[first.block].text;
    Run run;
    const std::size_t paired = odd_of_runs(rings, stated, text, run);
    const std::size_t odd = paired != kNone ? paired : odd_one(rings, stated);
    if (odd == kNone || (paired == kNone && fits_another_size(rings, stated, odd))) continue;
    const Claim& claim = *stated[odd].claim;
    // What the others say of the whole gives the size that would agree; of two wholes the nearer,
    // since the other may be painted elsewhere.
    const Stated* base = nullptr;
    const auto apart = [&](const Stated& other) {
      return other.claim->begin > claim.begin ? other.claim->begin - claim.begin
                                              : claim.begin - other.claim->begin;
    };
    for (const Stated& other : stated) {
      const auto at = static_cast<std::size_t>(&other - stated.data());
      if (other.ring == stated[odd].ring || (paired != kNone && (at < run.first || at >= run.end)))
        continue;
      const bool is_larger = base == nullptr || rings[other.ring].size > rings[base->ring].size;
      const bool is_nearer =
          base != nullptr && other.ring == base->ring && apart(other) < apart(*base);
      if (is_larger || is_nearer) base = &other;
    }
    settle_odd(rings, *base, stated[odd]);
    const double unit = factor_of(claim.measure->unit);
    const double middle = (base->low + base->high) / 2;
    const double right = middle * rings[stated[odd].ring].size / rings[base->ring].size / unit;
    const bool is_number =
        !claim.part.empty() && std::isdigit(static_cast<unsigned char>(claim.part.front())) != 0;
    const std::string part = claim.part.empty() ? "the whole"
                             : is_number        ? "ring " + claim.part
                                                : claim.part;
    Query query = query_at(kId, input, claim, tempered(claim, Level::kError),
                           part + " of " + group.marking + " is given as " +
                               number(claim.measure->value) + " " + claim.measure->unit +
                               ", but beside " + number(base->claim->measure->value) + " " +
                               base->claim->measure->unit + " its proportions (" + marking->rings +
                               ") make it " + number(right) + " " + claim.measure->unit);
    query.evidence.push_back(
        quote(marking->row, group.marking + " has the proportions " + marking->rings));
    query.suggestion = number(right) + " " + claim.measure->unit;
    queries.push_back(std::move(query));
  }
  return queries;
}

}  // namespace tailproof
