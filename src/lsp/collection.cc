#include "lsp/collection.h"

#include <algorithm>
#include <filesystem>
#include <thread>
#include <utility>

#include "ledger/reader.h"
#include "source/read_bytes.h"

namespace tailproof::lsp {

namespace fs = std::filesystem;

namespace {

bool contains(const std::vector<std::string>& list, const std::string& path) {
  return std::find(list.begin(), list.end(), path) != list.end();
}

void append(Complaints& all, const Complaints& more) {
  all.insert(all.end(), more.begin(), more.end());
}

}  // namespace

Collection::Collection(CollectionOptions options, const Documents& documents)
    : options_(std::move(options)), documents_(documents) {
  options_.run.jobs = std::max(1U, std::thread::hardware_concurrency());
}

void Collection::set_files(std::vector<std::string> files) {
  if (files == files_) return;
  files_ = std::move(files);
  are_files_old_ = true;
}

void Collection::text_changed(const std::string& path) {
  const bool is_read = run_.sources.find(path).has_value();
  if (is_read) changed_.insert(path);
  // What could not be read last time, or was not there, may change what belongs to what.
  if (!is_read && (contains(files_, path) || !documents_.contains(path))) are_files_old_ = true;
}

bool Collection::is_old() const { return is_ledger_old_ || are_files_old_ || !changed_.empty(); }

bool Collection::has_file(const std::string& path) const {
  return std::any_of(parts_.begin(), parts_.end(),
                     [&](const Part& part) { return contains(part.files, path); });
}

void Collection::refresh() {
  if (!is_old()) return;
  if (is_ledger_old_) read_ledger_and_grammars();
  if (is_ledger_old_ || are_files_old_ || !read_again()) read_files();
  is_ledger_old_ = false;
  are_files_old_ = false;
  changed_.clear();
  check_all();
}

void Collection::read_ledger_and_grammars() {
  kept_.reset();
  kept_checks_.forget();
  ledger_complaints_.clear();
  run_ = Run{};
  const RunOptions& options = options_.run;
  Result<Ledger> ledger = options.ledger.empty()
                              ? Result<Ledger>(empty_ledger())
                              : read_ledger(options.ledger, ledger_complaints_, options.margins);
  run_.stopped = !ledger;
  if (ledger) {
    run_.ledger = std::move(ledger).value();
  } else {
    ledger_complaints_.push_back(ledger.error());
    ledger_fault_ = to_line(ledger.error());
    run_.ledger = empty_ledger();
  }
  grammars_ = read_grammars(options, ledger_complaints_);
  kept_ = std::make_unique<KeptClaims>(run_.ledger, grammars_);
}

Result<Manuscript> Collection::read(const std::string& path, Part& part) {
  part.complaints.clear();
  part.files = {path};
  return read_manuscript(run_.sources, path, options_.run.read, part.complaints, &part.files);
}

/// Documents in and below the folders of the manuscripts: one of them may be included.
void Collection::take_open_texts() {
  run_.sources = Sources();
  run_.sources.keep_files();
  std::set<fs::path> folders;
  for (const std::string& file : files_) folders.insert(fs::path(file).parent_path());
  const auto is_near = [&](fs::path folder) {
    while (!folders.contains(folder) && folder.has_relative_path()) folder = folder.parent_path();
    return folders.contains(folder);
  };
  for (const auto& [path, document] : documents_) {
    if (!is_near(fs::path(path).parent_path()) || is_in_ledger(path)) continue;
    // It came as JSON, so that it is UTF-8 and far below 4 GiB.
    static_cast<void>(run_.sources.add(path, document.text));
  }
}

void Collection::read_files() {
  take_open_texts();
  run_.manuscripts.clear();
  parts_.clear();
  unread_complaints_.clear();
  std::vector<Manuscript> manuscripts;
  std::vector<Part> parts;
  std::set<std::string> included;
  // An editor shows no file that is not there, so it is said where the author looks.
  for (const std::string& path : run_.stopped ? files_ : std::vector<std::string>()) {
    unread_complaints_.push_back(
        {path, 0, 0, "is not checked while its ledger cannot be read: " + ledger_fault_, false});
  }
  for (const std::string& path : run_.stopped ? std::vector<std::string>() : files_) {
    Part part;
    Result<Manuscript> manuscript = read(path, part);
    if (!manuscript) {
      append(unread_complaints_, part.complaints);
      unread_complaints_.push_back(manuscript.error());
      continue;
    }
    included.insert(part.files.begin() + 1, part.files.end());
    manuscripts.push_back(std::move(manuscript).value());
    parts.push_back(std::move(part));
  }
  // One that another includes is read in its place there.
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (included.contains(parts[i].files.front())) continue;
    run_.manuscripts.push_back(std::move(manuscripts[i]));
    parts_.push_back(std::move(parts[i]));
  }
  kept_->extract(run_.manuscripts, run_.claims);
  kept_checks_.forget();
}

/// Reads what has changed; false when that changes which file belongs to which manuscript.
bool Collection::read_again() {
  for (const std::string& path : changed_) {
    const std::optional<FileId> file = run_.sources.find(path);
    const auto document = documents_.find(path);
    std::string text;
    Encoding encoding = options_.run.read.encoding;
    if (document != documents_.end()) {
      text = document->second.text;
      encoding = Encoding::kUtf8;
    } else {
      Result<std::string> bytes = read_bytes(path);
      if (!bytes) return false;
      text = std::move(bytes).value();
    }
    if (!file || !run_.sources.replace(*file, std::move(text), encoding)) return false;
  }
  for (std::size_t m = 0; m < parts_.size(); ++m) {
    const auto is_changed = [&](const std::string& path) { return changed_.contains(path); };
    if (std::none_of(parts_[m].files.begin(), parts_[m].files.end(), is_changed)) continue;
    Part part;
    Result<Manuscript> manuscript = read(parts_[m].files.front(), part);
    if (!manuscript || part.files != parts_[m].files) return false;
    parts_[m] = std::move(part);
    const Manuscript before = std::exchange(run_.manuscripts[m], std::move(manuscript).value());
    const auto index = static_cast<std::uint32_t>(m);
    const Touched touched = kept_->update(run_.manuscripts, index, before, run_.claims);
    kept_checks_.touch(index, run_.manuscripts[m], static_cast<std::uint32_t>(before.blocks.size()),
                       touched);
  }
  return true;
}

void Collection::check_all() {
  run_.complaints = options_.complaints;
  append(run_.complaints, ledger_complaints_);
  append(run_.complaints, unread_complaints_);
  for (const Part& part : parts_) append(run_.complaints, part.complaints);
  check_claims(run_, options_.run, &kept_checks_);
}

}  // namespace tailproof::lsp
