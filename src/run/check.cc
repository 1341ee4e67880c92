// The second half of a run: checks, stets, order.
#include <algorithm>
#include <atomic>
#include <exception>
#include <iterator>
#include <map>
#include <numeric>
#include <optional>
#include <tuple>
#include <utility>

#include "checks/merge.h"
#include "checks/registry.h"
#include "run/kept_checks.h"
#include "run/plugins.h"
#include "run/run.h"
#include "run/stets.h"
#include "source/nearest.h"
#include "source/thread_group.h"
#include "tailproof/chronology.h"
#include "tailproof/claim_index.h"
#include "tailproof/placement.h"

namespace tailproof {

namespace {

std::vector<std::string> ids_of(const std::vector<CheckInfo>& checks) {
  std::vector<std::string> ids;
  for (const CheckInfo& check : checks) {
    ids.emplace_back(check.id);
  }
  return ids;
}

bool contains(const std::vector<std::string>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

void complain_of_unknown(const std::vector<std::string>& asked, std::string_view option,
                         const std::vector<std::string>& ids, Complaints& complaints) {
  for (const std::string& id : asked) {
    if (contains(ids, id)) {
      continue;
    }
    const std::string meant = nearest(id, ids);
    complaints.push_back(Complaint{
        .file = {},
        .message = std::string(option) + ": no check \"" + id + "\"; " +
                   (meant.empty() ? "tailproof checks lists them" : "\"" + meant + "\" exists")});
  }
}

/// One check's queries, each with its place made sure: a check of somebody else's may leave out
/// what its first claim tells, and must not name what does not exist.
std::vector<Query> queries_of(const CheckInfo& info, const CheckInput& input,
                              const Sources& sources) {
  std::vector<Query> queries = info.run(input);
  const auto is_outside = [&](const Span& span) {
    return span.file >= sources.size() || span.end < span.begin ||
           span.end > sources.text(span.file).size();
  };
  std::erase_if(queries, [&](const Query& query) { return is_outside(query.span); });
  for (Query& query : queries) {
    if (query.check.empty()) {
      query.check = info.id;
    }
    std::erase_if(query.claims, [&](std::uint32_t index) { return index >= input.claims.size(); });
    std::erase_if(query.related, [&](const Related& related) { return is_outside(related.span); });
    if (!query.claims.empty() && query.block == kNone) {
      const Claim& claim = input.claims[query.claims.front()];
      query.manuscript = claim.manuscript;
      query.block = claim.block;
      query.span = query.span.end == 0 ? claim.span : query.span;
    }
  }
  return queries;
}

/// Runs the checks side by side; their queries come in the order of the checks all the same.
KeptChecks::Found run_checks(const std::vector<CheckInfo>& checks, const CheckInput& input,
                             unsigned jobs, const Sources& sources, Complaints& complaints) {
  KeptChecks::Found found(checks.size());
  std::vector<std::string> faults(checks.size());
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t i = next++; i < checks.size(); i = next++) {
      try {
        found[i] = queries_of(checks[i], input, sources);
      } catch (const std::exception& fault) {  // only from somebody else's check
        faults[i] = fault.what();
      }
    }
  };
  ThreadGroup helpers;
  for (std::size_t i = 1; i < std::min<std::size_t>(jobs, checks.size()); ++i) {
    if (!helpers.start(work)) {
      break;
    }
  }
  work();
  helpers.join();
  for (std::size_t i = 0; i < checks.size(); ++i) {
    if (!faults[i].empty()) {
      complaints.push_back(
          Complaint{.file = {},
                    .message = "the check " + std::string(checks[i].id) + " failed: " + faults[i]});
    }
  }
  return found;
}

std::vector<Query> all_of(KeptChecks::Found found) {
  std::vector<Query> queries;
  for (std::vector<Query>& own : found) {
    std::move(own.begin(), own.end(), std::back_inserter(queries));
  }
  return queries;
}

/// The check's level as the options have it, or nothing when they leave it alone.
std::optional<Level> wanted_level(const RunOptions& options, const CheckInfo& info) {
  const auto found = options.levels.find(std::string(info.id));
  if (found == options.levels.end()) {
    return std::nullopt;
  }
  for (const Level level : {Level::kNote, Level::kWarning, Level::kError}) {
    if (found->second == to_word(level)) {
      return level;
    }
  }
  return std::nullopt;
}

bool is_off(const RunOptions& options, const CheckInfo& info) {
  const auto found = options.levels.find(std::string(info.id));
  return found != options.levels.end() && found->second == "off";
}

/// Moves the queries of a check by as much as its gravest level moves, so that a hedged claim stays
/// below a flat one.
void change_levels(const RunOptions& options, const std::vector<CheckInfo>& checks,
                   std::vector<Query>& queries) {
  std::map<std::string_view, int> moves;
  for (const CheckInfo& info : checks) {
    if (const std::optional<Level> wanted = wanted_level(options, info)) {
      moves[info.id] = static_cast<int>(*wanted) - static_cast<int>(info.highest);
    }
  }
  for (Query& query : queries) {
    const auto move = moves.find(query.check);
    if (move != moves.end()) {
      const int level = static_cast<int>(query.level) + move->second;
      query.level = static_cast<Level>(std::clamp(level, 0, static_cast<int>(Level::kError)));
    }
  }
}

std::vector<std::string> keys_of(const std::map<std::string, std::string>& table) {
  std::vector<std::string> keys;
  for (const auto& row : table) {
    keys.push_back(row.first);
  }
  return keys;
}

void sort_queries(std::vector<Query>& queries) {
  const auto order = [](const Query& query) {
    return std::tie(query.span.file, query.span.begin, query.check, query.span.end, query.message);
  };
  // Queries are large: each is moved once, when its place is known.
  std::vector<std::uint32_t> places(queries.size());
  std::iota(places.begin(), places.end(), 0U);
  std::stable_sort(places.begin(), places.end(), [&](std::uint32_t a, std::uint32_t b) {
    return order(queries[a]) < order(queries[b]);
  });
  std::vector<Query> sorted;
  sorted.reserve(queries.size());
  for (const std::uint32_t place : places) sorted.push_back(std::move(queries[place]));
  queries = std::move(sorted);
}

}  // namespace

std::vector<CheckInfo> known_checks(const std::vector<std::string>& plugins,
                                    Complaints& complaints) {
  std::vector<CheckInfo> checks;
  for (const CheckInfo& check : builtin_checks()) {
    checks.push_back(check);
  }
  for (const std::string& path : plugins) {
    const Result<std::vector<CheckInfo>> loaded = load_plugin(path);
    if (!loaded) {
      complaints.push_back(loaded.error());
      continue;
    }
    for (const CheckInfo& check : loaded.value()) {
      if (contains(ids_of(checks), check.id)) {
        complaints.push_back(
            Complaint{.file = path,
                      .message = "the check \"" + std::string(check.id) +
                                 "\" exists already and is not replaced; give it another id"});
        continue;
      }
      checks.push_back(check);
      // How far a check of somebody else's sees is not proved by any test here.
      checks.back().scope = CheckScope::kBook;
    }
  }
  return checks;
}

Run check(const RunOptions& options) {
  Run run = extract(options);
  if (!run.stopped) {
    if (options.at_stage) {
      options.at_stage("checking " + std::to_string(run.claims.size()) + " claims");
    }
    check_claims(run, options);
    while (read_more(run, options)) {
    }
  }
  return run;
}

void check_claims(Run& run, const RunOptions& options, KeptChecks* kept) {
  run.checks.clear();
  run.stets.clear();
  const std::vector<CheckInfo> known = known_checks(options.plugins, run.complaints);
  const std::vector<std::string> ids = ids_of(known);
  complain_of_unknown(options.only, "--only", ids, run.complaints);
  complain_of_unknown(options.skip, "--skip", ids, run.complaints);
  complain_of_unknown(keys_of(options.levels), "levels", ids, run.complaints);
  for (const CheckInfo& info : known) {
    const bool is_asked = options.only.empty() || contains(options.only, info.id);
    if (is_asked && !contains(options.skip, info.id) && !is_off(options, info)) {
      run.checks.push_back(info);
    }
  }

  std::vector<CheckInfo> first;
  std::vector<CheckInfo> last;
  for (const CheckInfo& info : run.checks) {
    (info.after_stets ? last : first).push_back(info);
  }
  Stets stets = Stets::collect(run.sources, run.manuscripts, ids, run.complaints);
  CheckInput input{.manuscripts = run.manuscripts,
                   .claims = run.claims,
                   .ledger = run.ledger,
                   .stets = {},
                   .check_ids = ids,
                   .captions = std::make_shared<const Captions>(run.manuscripts, run.claims),
                   .photographs = std::make_shared<const PhotographFacts>(),
                   .whereabouts = std::make_shared<const Whereabouts>(run.ledger)};
  const auto run_all = [&](const std::vector<CheckInfo>& checks, const CheckInput& over) {
    return run_checks(checks, over, options.jobs, run.sources, run.complaints);
  };
  run.queries = merge_queries(
      all_of(kept == nullptr ? run_all(first, input) : kept->run(first, input, run_all)), input);
  sort_queries(run.queries);
  stets.apply(run.queries, run.sources, run.manuscripts, run.claims);

  // Whether a stet is still needed is known only where its check ran.
  const std::vector<std::string> ran = ids_of(first);
  for (const StetUse& use : stets.uses()) {
    if (contains(ran, use.check)) {
      run.stets.push_back(use);
    }
  }
  const CheckInput after{.manuscripts = run.manuscripts,
                         .claims = run.claims,
                         .ledger = run.ledger,
                         .stets = run.stets,
                         .check_ids = ids,
                         .captions = input.captions};
  std::vector<Query> more = all_of(run_all(last, after));
  std::move(more.begin(), more.end(), std::back_inserter(run.queries));
  change_levels(options, run.checks, run.queries);
  sort_queries(run.queries);
}

}  // namespace tailproof
