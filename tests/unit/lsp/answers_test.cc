// What the server answers about the demo's manuscripts, in both encodings.
#include <algorithm>

#include "talk.h"

using namespace tailproof::lsp;

namespace {

const std::string kDemo = TAILPROOF_TOP "/demo_manuscripts";
const std::string kChain = kDemo + "/book/02-the-chain.md";
const std::string kChequers = kDemo + "/book/01-chequers-and-boss.xml";
const std::string kBanks = kDemo + "/book/03-the-banks.txt";
const std::string kPlates = kDemo + "/book/plates.csv";
const std::string kNew = kDemo + "/book/99-new.md";  // only ever open, never written

constexpr PositionEncoding kEncodings[] = {PositionEncoding::kUtf8, PositionEncoding::kUtf16,
                                           PositionEncoding::kUtf32};

std::vector<std::string> words_at(const Json& locations) {
  std::vector<std::string> words;
  for (const Json& location : locations) {
    const std::string path = path_of_uri(location["uri"].get<std::string>()).value_or("");
    words.push_back(path.substr(path.rfind('/') + 1) + ":" +
                    std::to_string(location["range"]["start"]["line"].get<int>() + 1));
  }
  return words;
}

/// The text after an edit of one document, or of the table beside it.
std::string edited(const std::string& text, const Json& edit) {
  Document document;
  document.set_text(text);
  REQUIRE(document.apply(Json{{"range", edit["range"]}, {"text", edit["newText"]}},
                         PositionEncoding::kUtf16));
  return document.text;
}

Json action_named(const Json& actions, const std::string& words) {
  for (const Json& action : actions) {
    if (action["title"].get<std::string>().find(words) != std::string::npos) return action;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("diagnostics are the queries of a check, in every file of the workspace") {
  Talk talk;
  talk.start(kDemo + "/book");
  talk.open(kChain);
  const Json chain = talk.diagnostics(kChain);
  CHECK(of_check(chain, "rank-disagrees").size() == 1);
  CHECK(of_check(chain, "unit-disagrees").size() == 2);
  CHECK(of_check(talk.diagnostics(kChequers), "conversion-wrong").size() == 1);
  CHECK(of_check(talk.diagnostics(kPlates), "person-not-living").size() == 1);
  const Json rank = of_check(chain, "rank-disagrees").front();
  CHECK(rank["source"] == "tailproof");
  CHECK(rank["severity"] == 1);
  CHECK(rank["range"]["start"]["line"] == 54);
  const Json& related = rank["relatedInformation"];
  REQUIRE_FALSE(related.empty());
  CHECK(related[0]["location"]["uri"] == uri_of_path(kDemo + "/ledger/service.csv"));
}

TEST_CASE("an edit is answered by new diagnostics, with places after text beyond ASCII") {
  const std::string text =
      "# Caf\xC3\xA9 \xF0\x9F\x9B\xA9\n\n\xC3\x89t\xC3\xA9 \xF0\x9F\x9B\xA9\xF0\x9F\x9B\xA9: a "
      "parade "
      "on 30 June 1943.\n";
  for (const PositionEncoding encoding : kEncodings) {
    INFO(to_word(encoding));
    Talk talk;
    talk.start(kDemo + "/book", std::string(to_word(encoding)));
    talk.open(kNew, text);
    CHECK(talk.diagnostics(kNew).empty());
    Place begin = place_in(text, "30 June", encoding);
    const Place end{begin.line, begin.character + 2};
    talk.change(kNew, 2, Json::array({Json{{"range", range_json(begin, end)}, {"text", "31"}}}));
    const Json found = of_check(talk.diagnostics(kNew), "date-impossible");
    REQUIRE(found.size() == 1);
    CHECK(found[0]["range"]["start"] == position_json(begin));
    talk.change(kNew, 3, Json::array({Json{{"range", range_json(begin, end)}, {"text", "30"}}}));
    CHECK(talk.diagnostics(kNew).empty());
  }
}

TEST_CASE("hover on a serial is its history, on a date the days that it means") {
  const std::string text = "\xC3\x89t\xC3\xA9 \xF0\x9F\x9B\xA9: GD-2103 in mid-June 1942.\n";
  for (const PositionEncoding encoding : kEncodings) {
    INFO(to_word(encoding));
    Talk talk;
    talk.start(kDemo + "/book", std::string(to_word(encoding)));
    talk.open(kNew, text);
    const Json serial = talk.at("hover", kNew, place_in(text, "GD-2103", encoding, 3));
    REQUIRE(serial.is_object());
    const auto words = serial["contents"]["value"].get<std::string>();
    CHECK(serial["contents"]["kind"] == "markdown");
    CHECK(words.starts_with("**GD-2103**"));
    CHECK(words.find("airframes.csv:") != std::string::npos);
    CHECK(words.find("02-the-chain.md:") != std::string::npos);
    CHECK(serial["range"]["start"] == position_json(place_in(text, "GD-2103", encoding)));
    const Json date = talk.at("hover", kNew, place_in(text, "June", encoding));
    REQUIRE(date.is_object());
    CHECK(date["contents"]["value"].get<std::string>().starts_with("**11 to 20 June 1942**"));
    CHECK(talk.at("hover", kNew, {0, 0}).is_null());
  }
}

TEST_CASE("the definition is the evidence: its table and line") {
  Talk talk;
  talk.start(kDemo + "/book");
  talk.open(kChain);
  const std::string text = Talk::file_text(kChain);
  const Json serial =
      talk.at("definition", kChain, place_in(text, "GD-2106 of No. 3", PositionEncoding::kUtf16));
  REQUIRE_FALSE(serial.empty());
  CHECK(words_at(serial).front().starts_with("airframes.csv:"));
  // On words that a query is about, the rows that it quotes come first.
  const Json rank = of_check(talk.diagnostics(kChain), "rank-disagrees").front();
  const Json rows = talk.at("definition", kChain, *place_of(rank["range"]["start"]));
  REQUIRE_FALSE(rows.empty());
  CHECK(rows[0]["uri"] == uri_of_path(kDemo + "/ledger/service.csv"));
  CHECK(rows[0]["range"]["start"] == rank["relatedInformation"][0]["location"]["range"]["start"]);
}

TEST_CASE("hover and definition know every kind of claim") {
  const std::string text =
      "# One\n\n![GD-2103](a.jpg)\n*Fig. 1. Major Corwin Hasledine, Beacon Cross, with GD-2103, a "
      "Sickle Mk II of 3 Air Park, at Ravel Strip on 19 June 1942, with the plain disc on its "
      "fuselage (AGP 1003). It was lost on 7 November.*\n";
  Talk talk;
  talk.start(kDemo + "/book");
  talk.open(kNew, text);
  struct Expected {
    const char* words;
    const char* hover;
    const char* table;
  };
  constexpr Expected kAll[] = {
      {"Major", "rank **Major**, of Corwin Hasledine", "service.csv"},
      {"Corwin", "person **Corwin Hasledine**", "people.csv"},
      {"Beacon Cross", "award **Beacon Cross**", "awards.csv"},
      {"Sickle", "type **Sickle", "airframes.csv"},
      {"3 Air Park", "unit **3 Air Park**", "histories.csv"},
      {"Ravel Strip", "place **Ravel Strip**", "histories.csv"},
      {"plain disc", "marking **plain disc** on fuselage, of GD-2103", "markings.csv"},
      {"AGP 1003", "reference **AGP 1003**", "photographs.csv"},
      {"was lost", "event **lost**, of GD-2103", "histories.csv"},
  };
  for (const Expected& expected : kAll) {
    INFO(expected.words);
    const Place place = place_in(text, expected.words, PositionEncoding::kUtf16, 1);
    const Json hover = talk.at("hover", kNew, place);
    REQUIRE(hover.is_object());
    const auto told = hover["contents"]["value"].get<std::string>();
    INFO(told);
    CHECK(told.starts_with(expected.hover));
    const auto tables = words_at(talk.at("definition", kNew, place));
    CHECK(std::any_of(tables.begin(), tables.end(),
                      [&](const std::string& table) { return table.starts_with(expected.table); }));
  }
  // The date of the picture has what brackets it.
  const Json date = talk.at("hover", kNew, place_in(text, "19 June", PositionEncoding::kUtf16));
  REQUIRE(date.is_object());
  const auto told = date["contents"]["value"].get<std::string>();
  CHECK(told.starts_with("**19 June 1942**"));
  CHECK(told.find("Fig. 1 taken") != std::string::npos);
}

TEST_CASE("references of an airframe are found in every manuscript, under all its names") {
  Talk talk;
  talk.start(kDemo + "/book");
  talk.open(kChain);
  const std::string text = Talk::file_text(kChain);
  const Json places =
      talk.at("references", kChain, place_in(text, "GD-2103 at", PositionEncoding::kUtf16));
  const std::vector<std::string> words = words_at(places);
  for (const char* named : {"GD-2103 at", "GD-2103 being"}) {
    const Place place = place_in(text, named, PositionEncoding::kUtf16);
    const std::string line = "02-the-chain.md:" + std::to_string(place.line + 1);
    CHECK(std::count(words.begin(), words.end(), line) == 1);
  }
  const Json with_row = talk.request(
      "textDocument/references",
      Json{{"textDocument", Json{{"uri", uri_of_path(kChain)}}},
           {"position", position_json(place_in(text, "GD-2103 at", PositionEncoding::kUtf16))},
           {"context", Json{{"includeDeclaration", true}}}});
  CHECK(with_row.size() == places.size() + 1);
}

TEST_CASE("symbols are the figures") {
  for (const std::string& path : {kChain, kChequers, kBanks, kPlates}) {
    INFO(path);
    Talk talk;
    talk.start(kDemo + "/book");
    talk.open(path);
    const Json symbols = talk.request("textDocument/documentSymbol",
                                      Json{{"textDocument", Json{{"uri", uri_of_path(path)}}}});
    REQUIRE(symbols.size() > 3);
    for (const Json& symbol : symbols) {
      CHECK_FALSE(symbol["name"].get<std::string>().empty());
      const auto begin = *place_of(symbol["range"]["start"]);
      const auto inner = *place_of(symbol["selectionRange"]["start"]);
      CHECK(begin.line <= inner.line);
    }
  }
}

TEST_CASE("a suggestion that is a replacement is offered as an edit") {
  Talk talk;
  talk.start(kDemo + "/book");
  const std::string text = "Caf\xC3\xA9 \xF0\x9F\x9B\xA9: GD-2103, a bar 20 in (60 cm) wide.\n";
  talk.open(kNew, text);
  const Json found = of_check(talk.diagnostics(kNew), "conversion-wrong");
  REQUIRE(found.size() == 1);
  const Json actions = talk.actions(kNew, found[0]["range"]);
  REQUIRE_FALSE(actions.empty());
  for (const Json& action : actions) {
    CHECK(action["kind"] == "quickfix");
    CHECK(action["diagnostics"][0] == found[0]);
    const Json& change = action["edit"]["documentChanges"].back();
    CHECK(change["textDocument"].contains("version"));
  }
}

TEST_CASE("a stet is written in the form of the file and is then enough") {
  struct Case {
    std::string path, check, form;
  };
  for (const Case& one : {Case{kChain, "rank-disagrees", "<!-- stet rank-disagrees: "},
                          Case{kChequers, "conversion-wrong", "<?stet conversion-wrong: "},
                          Case{kBanks, "type-disagrees", "[stet type-disagrees: "}}) {
    INFO(one.path);
    Talk talk;
    talk.start(kDemo + "/book");
    const std::string text = Talk::file_text(one.path);
    talk.open(one.path, text);
    const Json before = talk.diagnostics(one.path);
    REQUIRE(of_check(before, one.check).size() == 1);
    const Json action =
        action_named(talk.actions(one.path, of_check(before, one.check)[0]["range"]), "stand here");
    REQUIRE(action.is_object());
    const Json edit = action["edit"]["documentChanges"][0]["edits"][0];
    CHECK(edit["newText"].get<std::string>().find(one.form) != std::string::npos);
    talk.change(one.path, 2,
                Json::array({Json{{"range", edit["range"]}, {"text", edit["newText"]}}}));
    const Json after = talk.diagnostics(one.path);
    CHECK(of_check(after, one.check).empty());
    // The place reminds of the reason; nothing else has changed.
    REQUIRE(of_check(after, "stet").size() == 1);
    CHECK(after.size() == before.size());
  }
}

TEST_CASE("a stet of every query of the demo covers it") {
  for (const std::string& path : {kChain, kChequers, kBanks}) {
    Talk talk;
    talk.start(kDemo + "/book");
    const std::string text = Talk::file_text(path);
    talk.open(path, text);
    const Json before = talk.diagnostics(path);
    int version = 1;
    for (const Json& diagnostic : before) {
      const auto check = diagnostic["code"].get<std::string>();
      INFO(path << ": " << diagnostic.dump());
      const Json actions = talk.actions(path, diagnostic["range"]);
      const Json action = action_named(actions, "let " + check + " stand here");
      REQUIRE(action.is_object());
      const Json edit = action["edit"]["documentChanges"][0]["edits"][0];
      talk.change(path, ++version, Json::array({Json{{"text", edited(text, edit)}}}));
      const Json after = talk.diagnostics(path);
      CHECK(of_check(after, check).size() + 1 == of_check(before, check).size());
      talk.change(path, ++version, Json::array({Json{{"text", text}}}));
    }
  }
}

TEST_CASE("of a caption list the stet goes into stets.csv") {
  Talk talk;
  talk.start(kDemo + "/book");
  talk.open(kPlates);
  const std::string table = kDemo + "/book/stets.csv";
  talk.open(table);
  const Json found = of_check(talk.diagnostics(kPlates), "person-not-living");
  REQUIRE(found.size() == 1);
  const Json actions = talk.actions(kPlates, found[0]["range"]);
  CHECK(action_named(actions, "stand here").is_null());
  const Json action = action_named(actions, "stand in stets.csv");
  REQUIRE(action.is_object());
  const Json& change = action["edit"]["documentChanges"][0];
  CHECK(change["textDocument"]["uri"] == uri_of_path(table));
  const std::string rows = edited(Talk::file_text(table), change["edits"][0]);
  talk.change(table, 2, Json::array({Json{{"text", rows}}}));
  CHECK(of_check(talk.diagnostics(kPlates), "person-not-living").empty());
  REQUIRE(of_check(talk.diagnostics(table), "stet").size() == 1);
}

TEST_CASE("a manuscript without a ledger is checked alone, and the user is told") {
  Talk talk;
  talk.start("/no-such-folder");
  talk.open("/no-such-folder/one.md", "A parade on 31 June 1943.\n");
  CHECK(of_check(talk.diagnostics("/no-such-folder/one.md"), "date-impossible").size() == 1);
  const auto is_notice = [](const Json& message) {
    return member(message, "method") == "window/logMessage" &&
           message["params"]["message"].get<std::string>().find("no ledger") != std::string::npos;
  };
  CHECK(std::count_if(talk.sent().begin(), talk.sent().end(), is_notice) == 1);
}

TEST_CASE("a ledger that is set, and cannot be read, is told at its settings") {
  Talk talk;
  talk.start(kDemo + "/book", "utf-16", Json{{"ledger", "../no-ledger"}});
  talk.open(kNew, "A parade on 31 June 1943.\n");
  const Json told = talk.diagnostics(kDemo + "/no-ledger");
  REQUIRE(told.size() == 1);
  CHECK(told[0]["code"] == "unread");
  Talk other;
  other.start(kDemo + "/book", "utf-16", Json{{"ledger", "../ledger"}});
  other.open(kChain);
  CHECK(of_check(other.diagnostics(kChain), "rank-disagrees").size() == 1);
}

TEST_CASE("closing the last manuscript takes the diagnostics back") {
  Talk talk;
  talk.start(kDemo + "/book");
  talk.open(kChain);
  CHECK_FALSE(talk.diagnostics(kChequers).empty());
  talk.notify("textDocument/didClose", Json{{"textDocument", Json{{"uri", uri_of_path(kChain)}}}});
  CHECK(talk.diagnostics(kChequers).empty());
  CHECK(talk.diagnostics(kChain).empty());
}

TEST_CASE("tables of a ledger are no manuscripts") {
  Talk talk;
  talk.start(kDemo);
  talk.open(kDemo + "/ledger/airframes.csv");
  CHECK(talk.diagnostics(kDemo + "/ledger/airframes.csv").is_null());
  CHECK(talk.at("hover", kDemo + "/ledger/airframes.csv", {1, 1}).is_null());
}
