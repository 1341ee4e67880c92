#include "lsp/server.h"

#include <algorithm>
#include <exception>
#include <utility>

#include "lsp/answers.h"
#include "lsp/uri.h"
#include "report/report.h"

namespace tailproof::lsp {

namespace {

constexpr const char* kConfigurationId = "tailproof-configuration";
constexpr const char* kWatchesId = "tailproof-watches";
constexpr int kWarningMessage = 2, kInfoMessage = 3;  // MessageType
constexpr int kIncremental = 2;                       // TextDocumentSyncKind

bool is_id(const Json& id) { return id.is_number_integer() || id.is_string(); }

std::string normal_folder(std::string path) {
  while (path.size() > 1 && path.ends_with('/')) path.pop_back();
  return path;
}

std::vector<std::string> folders_in(const Json& list) {
  std::vector<std::string> folders;
  if (!list.is_array()) return folders;
  for (const Json& folder : list) {
    const auto uri = text_of(member(folder, "uri"));
    if (const auto path = uri ? path_of_uri(*uri) : std::nullopt) {
      folders.push_back(normal_folder(*path));
    }
  }
  return folders;
}

/// The folders of `initialize`: the newest way in which the client names them.
std::vector<std::string> first_folders(const Json& params) {
  std::vector<std::string> folders = folders_in(member(params, "workspaceFolders"));
  if (!folders.empty()) return folders;
  if (const auto uri = text_of(member(params, "rootUri"))) {
    if (const auto path = path_of_uri(*uri)) return {normal_folder(*path)};
  }
  const auto root = text_of(member(params, "rootPath"));
  return root && root->starts_with('/') ? std::vector{normal_folder(*root)}
                                        : std::vector<std::string>();
}

std::optional<std::string> path_in(const Json& params) {
  const auto uri = text_of(member_at(params, "textDocument.uri"));
  return uri ? path_of_uri(*uri) : std::nullopt;
}

Json capabilities_for(const Client& client) {
  const Json sync{{"openClose", true}, {"change", kIncremental}, {"save", true}};
  const Json folders{{"supported", true}, {"changeNotifications", true}};
  return Json{{"positionEncoding", to_word(client.encoding)},
              {"textDocumentSync", sync},
              {"hoverProvider", true},
              {"definitionProvider", true},
              {"referencesProvider", true},
              {"documentSymbolProvider", true},
              {"codeActionProvider", Json{{"codeActionKinds", Json::array({"quickfix"})}}},
              {"workspace", Json{{"workspaceFolders", folders}}}};
}

}  // namespace

const Server::RequestRow Server::kRequests[] = {
    {"initialize", &Server::initialize},
    {"shutdown", &Server::shut_down},
    {"textDocument/hover", &Server::hover},
    {"textDocument/definition", &Server::definition},
    {"textDocument/references", &Server::references},
    {"textDocument/codeAction", &Server::actions},
    {"textDocument/documentSymbol", &Server::symbols},
};

const Server::NotificationRow Server::kNotifications[] = {
    {"initialized", &Server::initialized},
    {"textDocument/didOpen", &Server::opened},
    {"textDocument/didChange", &Server::changed},
    {"textDocument/didClose", &Server::closed},
    {"textDocument/didSave", &Server::saved},
    {"workspace/didChangeWatchedFiles", &Server::files_changed},
    {"workspace/didChangeWorkspaceFolders", &Server::folders_changed},
    {"workspace/didChangeConfiguration", &Server::configuration_changed},
};

Server::Server(Settings settings, Send send)
    : settings_(std::move(settings)), send_(std::move(send)) {
  workspace_.set_settings(settings_);
}

void Server::handle(const Incoming& incoming) {
  try {
    dispatch(incoming);
  } catch (const std::exception& fault) {  // memory, or a check of somebody else's
    const Json& id = member(incoming.message, "id");
    const bool is_request = is_id(id) && member(incoming.message, "method").is_string();
    if (is_request) {
      reply(id, Fault{kInternalError, std::string("it could not be done: ") + fault.what()});
    } else {
      log(std::string("a message could not be handled: ") + fault.what());
    }
  }
}

void Server::dispatch(const Incoming& incoming) {
  if (incoming.fault.code != 0) {
    reply(nullptr, incoming.fault);
    return;
  }
  const Json& message = incoming.message;
  const Json& id = member(message, "id");
  const Json& method = member(message, "method");
  if (!method.is_string()) {
    const bool is_response = message.is_object() && (is_id(id) || id.is_null()) &&
                             (message.contains("result") || message.contains("error"));
    if (is_response) {
      response(id, message);
    } else {
      reply(is_id(id) ? id : Json(), Fault{kInvalidRequest,
                                           "a message without a method; expected "
                                           "a request, a notification or a "
                                           "response"});
    }
    return;
  }
  const auto& name = method.get_ref<const std::string&>();
  if (!message.contains("id")) {
    notification(name, member(message, "params"));
  } else if (!is_id(id)) {
    reply(nullptr, Fault{kInvalidRequest, "the id is neither a whole number nor a text"});
  } else if (incoming.is_cancelled) {
    reply(id, Fault{kRequestCancelled, "cancelled by the client"});
  } else {
    request(id, name, member(message, "params"));
  }
}

void Server::request(const Json& id, const std::string& method, const Json& params) {
  const auto row =
      std::find_if(std::begin(kRequests), std::end(kRequests),
                   [&](const RequestRow& request) { return request.method == method; });
  const bool is_first = method == "initialize";
  if (state_ == State::kNew && !is_first) {
    reply(id, Fault{kServerNotInitialized, "expected \"initialize\" first"});
  } else if (state_ == State::kShutDown || (is_first && state_ != State::kNew)) {
    reply(id, Fault{kInvalidRequest, is_first ? "already initialized" : "already shut down"});
  } else if (row == std::end(kRequests)) {
    reply(id, Fault{kMethodNotFound, "\"" + method.substr(0, 100) + "\" is not offered"});
  } else {
    awaits_configuration_ = false;
    reply(id, (this->*row->answer)(params));
  }
}

void Server::notification(const std::string& method, const Json& params) {
  if (method == "exit") {
    is_over_ = true;
    return;
  }
  if (state_ != State::kRunning) return;
  for (const NotificationRow& row : kNotifications) {
    if (row.method == method) (this->*row.take)(params);
  }
}

void Server::reply(const Json& id, Answer answer) {
  Json message{{"jsonrpc", "2.0"}, {"id", id}};
  if (const auto* fault = std::get_if<Fault>(&answer)) {
    message["error"] = Json{{"code", fault->code}, {"message", fault->message}};
  } else {
    message["result"] = std::move(std::get<Json>(answer));
  }
  send_(message);
}

void Server::ask(const std::string& id, const std::string& method, Json params) {
  send_(Json{{"jsonrpc", "2.0"}, {"id", id}, {"method", method}, {"params", std::move(params)}});
}

void Server::tell(const std::string& method, Json params) {
  send_(Json{{"jsonrpc", "2.0"}, {"method", method}, {"params", std::move(params)}});
}

void Server::log(const std::string& words) {
  if (std::find(logged_.begin(), logged_.end(), words) != logged_.end()) return;
  logged_.push_back(words);
  tell("window/logMessage", Json{{"type", kInfoMessage}, {"message", "tailproof: " + words}});
}

void Server::tell_faults(const std::vector<std::string>& faults) {
  for (const std::string& words : faults) {
    tell("window/showMessage", Json{{"type", kWarningMessage}, {"message", "tailproof: " + words}});
  }
}

// Life.

Server::Answer Server::initialize(const Json& params) {
  if (!params.is_object()) return Fault{kInvalidParams, "expected an object"};
  state_ = State::kRunning;
  client_ = client_of(params);
  workspace_.set_folders(first_folders(params));
  std::vector<std::string> faults;
  settings_ = with_json(settings_, member(params, "initializationOptions"), faults);
  workspace_.set_settings(settings_);
  tell_faults(faults);
  return Json{{"capabilities", capabilities_for(client_)},
              {"serverInfo", Json{{"name", kTool}, {"version", TAILPROOF_VERSION}}}};
}

void Server::initialized(const Json& /*params*/) {
  ask_for_configuration();
  if (!client_.registers_watches) return;
  const Json watcher{{"globPattern", "**/*.{xml,dbk,docbook,md,markdown,txt,csv,toml}"}};
  const Json options{{"watchers", Json::array({watcher})}};
  const Json registration{{"id", kWatchesId},
                          {"method", "workspace/didChangeWatchedFiles"},
                          {"registerOptions", options}};
  ask(kWatchesId, "client/registerCapability",
      Json{{"registrations", Json::array({registration})}});
}

Server::Answer Server::shut_down(const Json& /*params*/) {
  state_ = State::kShutDown;
  return Json();
}

// Settings.

void Server::ask_for_configuration() {
  if (!client_.answers_configuration) return;
  awaits_configuration_ = true;
  const Json item{{"section", "tailproof"}};
  ask(kConfigurationId, "workspace/configuration", Json{{"items", Json::array({item})}});
}

void Server::response(const Json& id, const Json& message) {
  if (id != kConfigurationId || state_ != State::kRunning) return;
  awaits_configuration_ = false;
  const Json& result = member(message, "result");
  if (result.is_array() && !result.empty()) apply_configuration(result.front());
}

void Server::apply_configuration(const Json& settings) {
  std::vector<std::string> faults;
  workspace_.set_settings(with_json(settings_, settings, faults));
  tell_faults(faults);
  is_unsettled_ = true;
}

void Server::configuration_changed(const Json& params) {
  const Json& settings = member(params, "settings");
  if (settings.is_object() && settings.contains("tailproof")) {
    apply_configuration(member(settings, "tailproof"));
  } else {
    ask_for_configuration();
  }
}

// Documents.

void Server::opened(const Json& params) {
  const std::optional<std::string> path = path_in(params);
  const Json& item = member(params, "textDocument");
  const std::optional<std::string> text = text_of(member(item, "text"));
  if (!path || !text) return;
  Document document;
  document.uri = text_of(member(item, "uri")).value_or("");
  document.path = *path;
  document.language = text_of(member(item, "languageId")).value_or("");
  const Json& version = member(item, "version");
  document.version = version.is_number_integer() ? version.get<std::int64_t>() : 0;
  document.set_text(*text);
  workspace_.open(std::move(document));
  is_unsettled_ = true;
}

void Server::changed(const Json& params) {
  const std::optional<std::string> path = path_in(params);
  Document* document = path ? workspace_.document(*path) : nullptr;
  const Json& changes = member(params, "contentChanges");
  if (document == nullptr || !changes.is_array()) return;
  for (const Json& change : changes) {
    if (!document->apply(change, client_.encoding)) {
      tell_faults(
          {"a change of " + *path + " cannot be understood; close the document and open it again"});
      break;
    }
  }
  const Json& version = member_at(params, "textDocument.version");
  if (version.is_number_integer()) document->version = version.get<std::int64_t>();
  workspace_.changed(*path);
  awaits_configuration_ = false;
  is_unsettled_ = true;
}

void Server::closed(const Json& params) {
  if (const auto path = path_in(params)) {
    workspace_.close(*path);
    is_unsettled_ = true;
  }
}

void Server::saved(const Json& params) {
  if (const auto path = path_in(params)) {
    workspace_.file_changed(*path);
    is_unsettled_ = true;
  }
}

void Server::files_changed(const Json& params) {
  const Json& changes = member(params, "changes");
  if (!changes.is_array()) return;
  for (const Json& change : changes) {
    const auto uri = text_of(member(change, "uri"));
    if (const auto path = uri ? path_of_uri(*uri) : std::nullopt) workspace_.file_changed(*path);
  }
  is_unsettled_ = true;
}

void Server::folders_changed(const Json& params) {
  std::vector<std::string> folders = workspace_.folders();
  const std::vector<std::string> removed = folders_in(member_at(params, "event.removed"));
  std::erase_if(folders, [&](const std::string& folder) {
    return std::find(removed.begin(), removed.end(), folder) != removed.end();
  });
  for (std::string& folder : folders_in(member_at(params, "event.added"))) {
    folders.push_back(std::move(folder));
  }
  workspace_.set_folders(std::move(folders));
  is_unsettled_ = true;
}

// Answers.

std::variant<Server::At, Fault> Server::document_of(const Json& params) {
  const auto uri = text_of(member_at(params, "textDocument.uri"));
  if (!uri) return Fault{kInvalidParams, "expected textDocument.uri"};
  const auto path = path_of_uri(*uri);
  At at;
  at.document = path ? workspace_.document(*path) : nullptr;
  if (at.document == nullptr) return at;
  at.collection = workspace_.collection_of(*path);
  const auto file =
      at.collection == nullptr ? std::nullopt : at.collection->run().sources.find(*path);
  at.file = file.value_or(0);
  if (!file) at.collection = nullptr;
  return at;
}

/// What `make` gives for the view, the file and the offset of the request; null where there is no
/// manuscript.
template <typename Make>
Server::Answer Server::at_position(const Json& params, const Make& make) {
  const std::optional<Place> place = lsp::place_of(member(params, "position"));
  if (!place) return Fault{kInvalidParams, "expected position with line and character"};
  const std::variant<At, Fault> found = document_of(params);
  if (const auto* fault = std::get_if<Fault>(&found)) return *fault;
  const At& at = std::get<At>(found);
  if (at.collection == nullptr) return Json();
  const View view(*at.collection, workspace_.documents(), client_);
  return make(view, at.file, view.lines(at.file).offset_of(*place));
}

Server::Answer Server::hover(const Json& params) { return at_position(params, hover_at); }

Server::Answer Server::definition(const Json& params) { return at_position(params, evidence_at); }

Server::Answer Server::references(const Json& params) {
  const bool with_row = is_true(member_at(params, "context.includeDeclaration"));
  return at_position(params, [&](const View& view, FileId file, std::uint32_t offset) {
    return references_at(view, file, offset, with_row);
  });
}

Server::Answer Server::actions(const Json& params) {
  const std::optional<Place> begin = lsp::place_of(member_at(params, "range.start"));
  const std::optional<Place> end = lsp::place_of(member_at(params, "range.end"));
  if (!begin || !end) return Fault{kInvalidParams, "expected range with start and end"};
  const std::variant<At, Fault> found = document_of(params);
  if (const auto* fault = std::get_if<Fault>(&found)) return *fault;
  const At& at = std::get<At>(found);
  if (at.collection == nullptr || !client_.takes_action_literals) return Json::array();
  const Json& only = member_at(params, "context.only");
  const auto is_wanted = [](const Json& kind) { return kind == "quickfix" || kind == ""; };
  if (only.is_array() && std::none_of(only.begin(), only.end(), is_wanted)) return Json::array();
  const View view(*at.collection, workspace_.documents(), client_);
  const Lines lines = view.lines(at.file);
  return actions_at(view, at.file, lines.offset_of(*begin), lines.offset_of(*end));
}

Server::Answer Server::symbols(const Json& params) {
  const std::variant<At, Fault> found = document_of(params);
  if (const auto* fault = std::get_if<Fault>(&found)) return *fault;
  const At& at = std::get<At>(found);
  if (at.collection == nullptr) return Json::array();
  return figures_of(View(*at.collection, workspace_.documents(), client_), at.file);
}

// Diagnostics.

void Server::settle() {
  if (state_ != State::kRunning || !is_unsettled_ || awaits_configuration_) return;
  is_unsettled_ = false;
  try {
    workspace_.refresh();
    std::map<std::string, Json> all;
    for (const Collection* collection : workspace_.collections()) {
      all.merge(diagnostics_of(View(*collection, workspace_.documents(), client_)));
    }
    for (const auto& [path, published] : published_) all.try_emplace(path, Json::array());
    for (auto& [path, diagnostics] : all) publish(path, std::move(diagnostics));
    tell_general_complaints();
  } catch (const std::exception& fault) {
    log(std::string("the manuscripts could not be checked: ") + fault.what());
  }
}

void Server::publish(const std::string& path, Json diagnostics) {
  const Document* document = workspace_.document(path);
  const auto version = document == nullptr ? std::nullopt : std::optional(document->version);
  const auto found = published_.find(path);
  const bool is_known = found != published_.end();
  const bool is_same = is_known ? found->second.diagnostics == diagnostics
                                : diagnostics.empty() && document == nullptr;
  if (is_same && (!is_known || found->second.version == version)) return;
  // Of a file that has nothing left and is not open there is nothing to remember.
  if (document == nullptr && diagnostics.empty()) {
    published_.erase(path);
  } else {
    published_.insert_or_assign(path, Published{diagnostics, version});
  }
  Json params{{"uri", document != nullptr ? document->uri : uri_of_path(path)},
              {"diagnostics", std::move(diagnostics)}};
  if (version) params["version"] = *version;
  tell("textDocument/publishDiagnostics", std::move(params));
}

/// What is wrong, but with no file that the editor could show.
void Server::tell_general_complaints() {
  for (const std::string& words : workspace_.take_notices()) log(words);
  for (const Collection* collection : workspace_.collections()) {
    for (const Complaint& complaint : collection->run().complaints) {
      if (!complaint.file.starts_with('/')) log(to_line(complaint));
    }
  }
}

}  // namespace tailproof::lsp
