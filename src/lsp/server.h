// The language server: takes messages one after the other, answers requests, and tells what it
// finds.
//
// Contract: every request gets exactly one response, in the order of the requests; nothing that a
// client sends ends the program but `exit`. Diagnostics are told by settle(), which the loop calls
// whenever no message waits: so a burst of edits is checked once, and nobody waits for a clock.
// Threads: one.
// See: the Language Server Protocol 3.17; editors.md for users.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <variant>

#include "lsp/inbox.h"
#include "lsp/view.h"
#include "lsp/workspace.h"

namespace tailproof::lsp {

class Server {
 public:
  using Send = std::function<void(const Json& message)>;

  /// `settings` come from the command line.
  Server(Settings settings, Send send);

  void handle(const Incoming& incoming);
  /// Nothing waits: tells the diagnostics that have changed.
  void settle();

  /// After `exit`: 0 when `shutdown` came before it, else 1.
  [[nodiscard]] bool is_over() const { return is_over_; }
  [[nodiscard]] int exit_status() const { return state_ == State::kShutDown ? 0 : 1; }

 private:
  enum class State { kNew, kRunning, kShutDown };
  using Answer = std::variant<Json, Fault>;
  struct RequestRow {
    std::string_view method;
    Answer (Server::*answer)(const Json& params);
  };
  struct NotificationRow {
    std::string_view method;
    void (Server::*take)(const Json& params);
  };
  static const RequestRow kRequests[];
  static const NotificationRow kNotifications[];
  struct At {
    const Collection* collection = nullptr;  // none: the file is no manuscript
    const Document* document = nullptr;
    FileId file = 0;
  };

  void dispatch(const Incoming& incoming);
  void request(const Json& id, const std::string& method, const Json& params);
  void notification(const std::string& method, const Json& params);
  void response(const Json& id, const Json& message);
  void reply(const Json& id, Answer answer);
  void ask(const std::string& id, const std::string& method, Json params);
  void tell(const std::string& method, Json params);
  void tell_faults(const std::vector<std::string>& faults);
  void log(const std::string& words);

  Answer initialize(const Json& params);
  Answer shut_down(const Json& params);
  Answer hover(const Json& params);
  Answer definition(const Json& params);
  Answer references(const Json& params);
  Answer actions(const Json& params);
  Answer symbols(const Json& params);
  [[nodiscard]] std::variant<At, Fault> document_of(const Json& params);
  template <typename Make>
  Answer at_position(const Json& params, const Make& make);

  void initialized(const Json& params);
  void opened(const Json& params);
  void changed(const Json& params);
  void closed(const Json& params);
  void saved(const Json& params);
  void files_changed(const Json& params);
  void folders_changed(const Json& params);
  void configuration_changed(const Json& params);

  void ask_for_configuration();
  void apply_configuration(const Json& settings);
  void publish(const std::string& path, Json diagnostics);
  void tell_general_complaints();

  /// What was told last of a file.
  struct Published {
    Json diagnostics = Json::array();
    std::optional<std::int64_t> version;
  };

  Settings settings_;  // without the client's configuration
  Send send_;
  State state_ = State::kNew;
  bool is_over_ = false;
  bool is_unsettled_ = false;
  bool awaits_configuration_ = false;
  Client client_;
  Workspace workspace_;
  std::map<std::string, Published> published_;  // by path
  std::vector<std::string> logged_;
};

}  // namespace tailproof::lsp
