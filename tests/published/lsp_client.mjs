// A session with the language server by the npm packages vscode-languageserver-protocol and
// vscode-jsonrpc, which are the protocol's reference implementation for clients.
//
//   node lsp_client.mjs FOLDER ENCODING     FOLDER holds book.md and ledger/
//
// Prints one JSON object with what came back; lsp_test.cc says what it should be.
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import * as protocol from "vscode-languageserver-protocol/node";

const [folder, encoding] = process.argv.slice(2);
const uri = pathToFileURL(`${folder}/book.md`).href;
let text = readFileSync(`${folder}/book.md`, "utf8");
let version = 1;

const server = spawn("tailproof", ["lsp", "--stdio"], { stdio: ["pipe", "pipe", "inherit"] });
const ended = new Promise((resolve) => server.on("exit", resolve));
const connection = protocol.createProtocolConnection(
  new protocol.StreamMessageReader(server.stdout),
  new protocol.StreamMessageWriter(server.stdin),
);

let waiting = null;
connection.onNotification(protocol.PublishDiagnosticsNotification.type, (params) => {
  if (params.uri === uri && waiting && params.version === waiting.version) {
    waiting.resolve(params.diagnostics);
    waiting = null;
  }
});
connection.onRequest(protocol.ConfigurationRequest.type, (params) => params.items.map(() => null));
connection.onRequest(protocol.RegistrationRequest.type, () => null);
connection.listen();

const diagnosticsOf = (wanted) =>
  new Promise((resolve) => (waiting = { version: wanted, resolve }));

function unitsOf(words) {
  return encoding === "utf-8" ? Buffer.byteLength(words) : words.length;
}

function placeOf(words, into = 0) {
  const at = text.indexOf(words) + into;
  const lines = text.slice(0, at).split("\n");
  return { line: lines.length - 1, character: unitsOf(lines.at(-1)) };
}

function offsetOf({ line, character }) {
  const lines = text.split("\n");
  let at = 0;
  while (unitsOf(lines[line].slice(0, at)) < character) ++at;
  return lines.slice(0, line).join("\n").length + (line > 0 ? 1 : 0) + at;
}

async function edit(range, newText) {
  text = text.slice(0, offsetOf(range.start)) + newText + text.slice(offsetOf(range.end));
  const told = diagnosticsOf(++version);
  connection.sendNotification(protocol.DidChangeTextDocumentNotification.type, {
    textDocument: { uri, version },
    contentChanges: [{ range, text: newText }],
  });
  return told;
}

const textDocument = { uri };
const result = {};
const began = await connection.sendRequest(protocol.InitializeRequest.type, {
  processId: process.pid,
  rootUri: pathToFileURL(folder).href,
  workspaceFolders: [{ uri: pathToFileURL(folder).href, name: "book" }],
  capabilities: {
    general: { positionEncodings: [encoding] },
    workspace: {
      configuration: true,
      workspaceEdit: { documentChanges: true, resourceOperations: ["create"] },
      didChangeWatchedFiles: { dynamicRegistration: true },
    },
    textDocument: {
      hover: { contentFormat: ["markdown"] },
      publishDiagnostics: { relatedInformation: true, versionSupport: true },
      codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: ["quickfix"] } } },
      documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    },
  },
});
result.encoding = began.capabilities.positionEncoding;
connection.sendNotification(protocol.InitializedNotification.type, {});

const first = diagnosticsOf(1);
connection.sendNotification(protocol.DidOpenTextDocumentNotification.type, {
  textDocument: { uri, languageId: "markdown", version, text },
});
result.opened = await first;

const begin = placeOf("30 June");
const day = { start: begin, end: { line: begin.line, character: begin.character + 2 } };
result.edited = await edit(day, "31");
result.begin = begin;
result.restored = await edit(day, "30");

const serial = placeOf("GD-2103", 3);
result.hover = await connection.sendRequest(protocol.HoverRequest.type, {
  textDocument,
  position: serial,
});
result.definition = await connection.sendRequest(protocol.DefinitionRequest.type, {
  textDocument,
  position: serial,
});
result.references = await connection.sendRequest(protocol.ReferencesRequest.type, {
  textDocument,
  position: serial,
  context: { includeDeclaration: false },
});
result.symbols = await connection.sendRequest(protocol.DocumentSymbolRequest.type, {
  textDocument,
});

const wrong = result.restored.find((diagnostic) => diagnostic.code === "serial-unknown");
const actions = await connection.sendRequest(protocol.CodeActionRequest.type, {
  textDocument,
  range: wrong.range,
  context: { diagnostics: [wrong] },
});
result.actions = actions.map((action) => action.title);
const read = actions.find((action) => action.title.startsWith("read "));
const change = read.edit.documentChanges[0];
result.acted = await edit(change.edits[0].range, change.edits[0].newText);
result.text = text;

// Two requests at once, of which one is taken back: one answer each.
const source = new protocol.CancellationTokenSource();
const cancelled = connection
  .sendRequest(protocol.HoverRequest.type, { textDocument, position: serial }, source.token)
  .then(
    () => "answered",
    (error) => `error ${error.code}`,
  );
source.cancel();
result.cancelled = await cancelled;
result.unknown = await connection.sendRequest("textDocument/rename", {}).catch((e) => e.code);

await connection.sendRequest(protocol.ShutdownRequest.type);
await connection.sendNotification(protocol.ExitNotification.type);
result.status = await ended;
console.log(JSON.stringify(result));
