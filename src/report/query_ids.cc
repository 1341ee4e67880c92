#include "report/query_ids.h"

#include <fmt/format.h>

#include <cstdint>
#include <map>
#include <string_view>

#include "report/phrases.h"

namespace tailproof {

namespace {

/// FNV-1a of 32 bits: the same on every machine.
std::uint32_t hash_of(std::string_view key) {
  std::uint32_t hash = 2166136261U;
  for (const char c : key) {
    hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
  }
  return hash;
}

std::string file_name(const Run& run, const Query& query) {
  const std::string& path = run.sources.path(query.span.file);
  return path.substr(path.find_last_of('/') + 1);
}

std::string figure_of(const Run& run, const Query& query) {
  if (query.manuscript >= run.manuscripts.size()) {
    return "";
  }
  const std::vector<Block>& blocks = run.manuscripts[query.manuscript].blocks;
  return query.block < blocks.size() ? blocks[query.block].figure : "";
}

}  // namespace

std::vector<std::string> ids_of_queries(const Run& run) {
  std::vector<std::string> ids;
  std::map<std::string, unsigned> seen;
  for (const Query& query : run.queries) {
    std::string key = file_name(run, query);
    if (query.manuscript < run.manuscripts.size() &&
        query.block < run.manuscripts[query.manuscript].blocks.size()) {
      key += '\n' + figure_of(run, query);
    }
    key += '\n' + query.subject + '\n' + words_of(run, query);
    std::string id = fmt::format("{}-{:08x}", query.check, hash_of(key));
    if (const unsigned number = ++seen[query.check + '\n' + key]; number > 1) {
      id += fmt::format("-{}", number);
    }
    ids.push_back(std::move(id));
  }
  return ids;
}

std::string wording_id(const Run& run, const Query& query) {
  const bool is_of_figure = query.subject == figure_of(run, query);
  const std::string key = file_name(run, query) + '\n' + (is_of_figure ? "" : query.subject) +
                          '\n' + words_of(run, query);
  return fmt::format("{}-{:08x}", query.check, hash_of(key));
}

}  // namespace tailproof
