-- A session with the language server by the client that is part of Neovim: its own reckoning of
-- changes and places, its own application of edits.
--
--   TAILPROOF_FOLDER=FOLDER TAILPROOF_ENCODING=utf-8 nvim --headless -u NONE -i NONE -n -S lsp_neovim.lua
--
-- Prints one JSON object with what came back to standard output; lsp_test.cc says what it should be.
local folder = vim.env.TAILPROOF_FOLDER
local encoding = vim.env.TAILPROOF_ENCODING
local patience = 20000 -- milliseconds; each wait ends as soon as what it waits for is there

local function quit(result)
  io.stdout:write(vim.json.encode(result) .. "\n")
  io.stdout:flush()
  vim.cmd("qall!")
end

local function session()
  local result = {}
  vim.cmd("edit " .. vim.fn.fnameescape(folder .. "/book.md"))
  local buffer = vim.api.nvim_get_current_buf()

  local capabilities = vim.lsp.protocol.make_client_capabilities()
  capabilities.general = { positionEncodings = { encoding } }
  local told = -1 -- diagnostics that have come for the book
  local status
  local client_id = vim.lsp.start_client({
    name = "tailproof",
    cmd = { "tailproof", "lsp" },
    root_dir = folder,
    capabilities = capabilities,
    offset_encoding = encoding,
    handlers = {
      ["textDocument/publishDiagnostics"] = function(err, params, context, config)
        vim.lsp.diagnostic.on_publish_diagnostics(err, params, context, config)
        if params.uri == vim.uri_from_bufnr(buffer) then told = params.version or told end
      end,
    },
    on_exit = function(code) status = code end,
  })
  vim.lsp.buf_attach_client(buffer, client_id)
  local client = vim.lsp.get_client_by_id(client_id)
  assert(vim.wait(patience, function() return client.initialized end, 5), "no initialization")
  result.encoding = client.server_capabilities.positionEncoding

  -- Diagnostics for the text as it is now, once they are there.
  local function diagnostics()
    -- Neovim holds changes back for a while; a request would send them, and so does this.
    client.request_sync("textDocument/documentSymbol",
      { textDocument = vim.lsp.util.make_text_document_params(buffer) }, patience, buffer)
    local version = vim.lsp.util.buf_versions[buffer]
    assert(vim.wait(patience, function() return told >= version end, 5), "no diagnostics")
    local list = {}
    for _, one in ipairs(vim.diagnostic.get(buffer)) do
      table.insert(list, { code = one.code or one.user_data.lsp.code, lnum = one.lnum, col = one.col,
        end_col = one.end_col })
    end
    return list
  end

  local function find(words)
    local position = vim.fn.searchpos("\\V" .. vim.fn.escape(words, "\\"), "cw")
    assert(position[1] > 0, "not in the text: " .. words)
    return position[1] - 1, position[2] - 1
  end

  local function ask(method, words, into, more)
    local row, column = find(words)
    vim.api.nvim_win_set_cursor(0, { row + 1, column + into })
    local params = vim.lsp.util.make_position_params(0, encoding)
    local response = client.request_sync(method, vim.tbl_extend("force", params, more or {}),
      patience, buffer)
    assert(response and not response.err, method)
    return response.result
  end

  result.opened = diagnostics()
  local row, column = find("30 June")
  result.begin = { lnum = row, col = column }
  vim.api.nvim_buf_set_text(buffer, row, column, row, column + 2, { "31" })
  result.edited = diagnostics()
  vim.api.nvim_buf_set_text(buffer, row, column, row, column + 2, { "30" })
  result.restored = diagnostics()

  result.hover = ask("textDocument/hover", "GD-2103", 3)
  result.definition = ask("textDocument/definition", "GD-2103", 3)
  result.references = ask("textDocument/references", "GD-2103", 3,
    { context = { includeDeclaration = false } })
  result.symbols = client.request_sync("textDocument/documentSymbol",
    { textDocument = vim.lsp.util.make_text_document_params(buffer) }, patience, buffer).result

  find("GD-3014")
  local range = vim.lsp.util.make_range_params(0, encoding)
  range.context = { diagnostics = {} }
  local actions = client.request_sync("textDocument/codeAction", range, patience, buffer).result
  result.actions = {}
  for _, action in ipairs(actions) do
    table.insert(result.actions, action.title)
    if not result.acted and vim.startswith(action.title, "read ") then
      vim.lsp.util.apply_workspace_edit(action.edit, encoding)
      result.acted = diagnostics()
    end
  end
  result.text = table.concat(vim.api.nvim_buf_get_lines(buffer, 0, -1, false), "\n") .. "\n"

  client.stop()
  assert(vim.wait(patience, function() return status ~= nil end, 5), "the server does not end")
  result.status = status
  return result
end

local ok, result = pcall(session)
quit(ok and result or { failed = tostring(result) })
