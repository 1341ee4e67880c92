// The query sheet's filters, keys and decisions. Text is only ever put in as text.
"use strict";
(() => {
  const data = JSON.parse(document.getElementById("sheet-data").textContent);
  const sheet = document.getElementById("sheet");
  const articles = data.queries.map((query, i) => document.getElementById(`q${i + 1}`));
  const entries = data.entries.map((entry, i) => document.getElementById(`e${i}`));

  // Decisions and settings live in the browser under a name made of the manuscripts.
  const storeName = `tailproof-sheet:${data.title}:${data.manuscripts.join("|")}`;
  let memoryOnly = false;
  const kept = { decisions: {}, by: "", keys: true };
  try {
    Object.assign(kept, JSON.parse(localStorage.getItem(storeName) ?? "{}"));
  } catch {
    memoryOnly = true;
  }
  const keep = () => {
    try {
      localStorage.setItem(storeName, JSON.stringify(kept));
    } catch {
      memoryOnly = true;
    }
  };

  const make = (name, attributes = {}, ...children) => {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
      if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
      else if (value === true) element.setAttribute(key, "");
      else if (value !== false) element.setAttribute(key, value);
    }
    element.append(...children);
    return element;
  };

  // --- The desk: filters, name, saving.

  const filters = {};
  const option = (value, text) => make("option", { value }, text);
  const addFilter = (line, key, title, values) => {
    const select = make("select", { id: `filter-${key}`, onchange: refresh }, option("", "all"));
    for (const [value, text] of values) select.append(option(value, text));
    filters[key] = select;
    line.append(make("label", {}, title, select));
  };
  const named = (list) =>
    list
      .map((text, i) => [String(i), text])
      .sort((a, b) => a[1].localeCompare(b[1], undefined, { numeric: true }));
  const used = (key) => [...new Set(data.queries.map((query) => query[key]))].sort();

  const status = make("p", { role: "status", class: "count" });
  const keeping = make("p", { class: "keeping" });
  const withPlain = make("input", { type: "checkbox", id: "with-plain", checked: true, onchange: refresh });
  const keysBox = make("input", {
    type: "checkbox",
    id: "single-keys",
    onchange: () => {
      kept.keys = keysBox.checked;
      keep();
    },
  });
  keysBox.checked = kept.keys;
  const byBox = make("input", {
    type: "text",
    id: "decided-by",
    autocomplete: "name",
    oninput: () => {
      kept.by = byBox.value;
      keep();
    },
  });
  byBox.value = kept.by;

  const helpDialog = make(
    "dialog",
    { "aria-labelledby": "keys-title" },
    make("h2", { id: "keys-title" }, "Keys"),
    make(
      "dl",
      {},
      ...[
        ["j, k", "next and previous query that is shown"],
        ["a", "accept: the text will be changed"],
        ["s", "stet: the text stands, with a reason"],
        ["q", "ask: a question to the author"],
        ["x", "take the decision back"],
        ["f", "to the filters"],
        ["?", "this list"],
      ].flatMap(([key, says]) => [make("dt", {}, key), make("dd", {}, says)]),
    ),
    make("p", {}, "They can be switched off above the sheet. Escape leaves a field."),
    make("button", { type: "button", onclick: () => helpDialog.close() }, "Close"),
  );

  const filterLine = make("div", { class: "line" });
  const workLine = make("div", { class: "line" });
  const desk = make("form", { class: "desk", "aria-label": "Filters and decisions" }, filterLine, workLine);
  desk.addEventListener("submit", (event) => event.preventDefault());
  addFilter(filterLine, "check", "Check", used("check").map((id) => [id, id]));
  addFilter(filterLine, "level", "Level", ["error", "warning", "note"].map((word) => [word, word]));
  addFilter(filterLine, "chapter", "Chapter", data.chapters.map((text, i) => [String(i), text]));
  addFilter(filterLine, "airframe", "Airframe", named(data.airframes));
  addFilter(filterLine, "person", "Person", named(data.people));
  addFilter(filterLine, "decision", "Decision", [
    ["none", "undecided"],
    ["accept", "accepted"],
    ["stet", "stet"],
    ["ask", "ask"],
    ["stood", "let stand before"],
  ]);
  addFilter(filterLine, "by", "Answered by", []);
  filterLine.append(
    make("button", { type: "button", id: "clear-filters", onclick: clearFilters }, "Clear"),
  );
  workLine.append(
    make("label", { class: "box" }, withPlain, "captions without a query"),
    make("label", { class: "box" }, keysBox, "single-key commands"),
    make("button", { type: "button", id: "show-keys", onclick: () => helpDialog.showModal() }, "Keys"),
    make("label", { class: "box" }, "Decided by", byBox),
  );
  data.folders.forEach((folder, i) => {
    const where = data.folders.length > 1 ? ` for ${folder.path || "this folder"}` : "";
    const click = () => save("stets.csv", stetTable(i));
    workLine.append(
      make("button", { type: "button", class: "save-stets", onclick: click }, `Save stets.csv${where}`),
    );
  });
  workLine.append(
    make(
      "button",
      { type: "button", id: "save-decisions", onclick: () => save("decisions.csv", decisionTable()) },
      "Save all decisions",
    ),
    status,
    keeping,
  );
  sheet.before(desk);
  document.body.append(helpDialog);

  function clearFilters() {
    for (const select of Object.values(filters)) select.value = "";
    refresh();
  }

  // --- What is shown.

  const decisionOf = (i) => kept.decisions[data.queries[i].id];
  // Whoever gave no name then goes by the one in the box now.
  const answeredBy = (decision) => decision.by || kept.by.trim();

  function listThoseAnswering() {
    const names = new Set(data.queries.map((query) => kept.decisions[query.id]).filter(Boolean).map(answeredBy));
    const listed = new Set(Array.from(filters.by.options, (entry) => entry.value));
    for (const name of [...names].sort()) {
      if (name !== "" && !listed.has(name)) filters.by.append(option(name, name));
    }
  }

  const matches = (key, list) => filters[key].value === "" || list.includes(Number(filters[key].value));

  function isShown(i) {
    const query = data.queries[i];
    const wanted = filters.decision.value;
    const decided = decisionOf(i);
    const decision = decided?.what ?? (query.stood ? "stood" : "none");
    const by = filters.by.value;
    return (
      (filters.check.value === "" || query.check === filters.check.value) &&
      (filters.level.value === "" || query.level === filters.level.value) &&
      matches("chapter", [data.entries[query.entry].chapter]) &&
      matches("airframe", query.airframes) &&
      matches("person", query.people) &&
      (wanted === "" || wanted === decision) &&
      (by === "" || (decided && answeredBy(decided) === by))
    );
  }

  function refresh() {
    listThoseAnswering();
    let shown = 0;
    articles.forEach((article, i) => {
      article.hidden = !isShown(i);
      if (!article.hidden) shown += 1;
    });
    const ofQueries = ["check", "level", "decision", "by"].some((key) => filters[key].value !== "");
    data.entries.forEach((entry, i) => {
      const isHeading = entries[i].classList.contains("heading");
      const hasQuery = entry.queries.some((number) => !articles[number].hidden);
      const fits =
        matches("chapter", [entry.chapter]) &&
        (isHeading || (matches("airframe", entry.airframes) && matches("person", entry.people)));
      entries[i].hidden = !(hasQuery || (fits && !ofQueries && (isHeading || withPlain.checked)));
    });
    const decided = data.queries.filter((query) => kept.decisions[query.id]).length;
    status.textContent = `${shown} of ${data.queries.length} queries shown, ${decided} decided`;
    keeping.textContent = memoryOnly
      ? "This browser keeps nothing for this page: save before you close it."
      : "";
  }

  // --- Decisions.

  const words = { accept: "accept", stet: "stet", ask: "ask" };
  const controls = articles.map((article, i) => {
    const buttons = {};
    const reason = make("input", {
      type: "text",
      id: `reason-${i + 1}`,
      oninput: () => {
        const decision = decisionOf(i);
        if (decision) decision.why = reason.value;
        keep();
        show(i);
      },
    });
    const reasonName = make("span", {});
    const reasonLabel = make("label", { for: reason.id }, reasonName, reason);
    const fault = make("span", { class: "fault", id: `fault-${i + 1}` });
    reason.setAttribute("aria-describedby", fault.id);
    const box = make("div", {
      class: "decision",
      role: "group",
      "aria-label": `Decision on query ${i + 1}`,
    });
    for (const what of Object.keys(words)) {
      buttons[what] = make(
        "button",
        { type: "button", "aria-pressed": "false", "data-what": what, onclick: () => decide(i, what) },
        words[what],
      );
      box.append(buttons[what]);
    }
    box.append(reasonLabel, fault);
    const decided = make("p", { class: "decided" });
    article.append(box, decided);
    return { buttons, reason, reasonLabel, reasonName, fault, decided };
  });

  function today() {
    const now = new Date();
    const two = (number) => String(number).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }

  function decide(i, what) {
    const id = data.queries[i].id;
    const before = kept.decisions[id];
    if (before?.what === what || what === "") delete kept.decisions[id];
    else kept.decisions[id] = { what, why: before?.why ?? "", by: kept.by.trim(), date: today() };
    keep();
    show(i);
    refresh();
    if (kept.decisions[id] && what !== "accept" && !articles[i].hidden) controls[i].reason.focus();
  }

  function show(i) {
    const decision = decisionOf(i);
    const { buttons, reason, reasonLabel, reasonName, fault, decided } = controls[i];
    for (const [what, button] of Object.entries(buttons)) {
      button.setAttribute("aria-pressed", String(decision?.what === what));
    }
    reasonLabel.hidden = !decision || decision.what === "accept";
    reasonName.textContent = decision?.what === "ask" ? "Question" : "Reason (required)";
    if (decision && reason.value !== decision.why) reason.value = decision.why;
    const lacks = decision?.what === "stet" && decision.why.trim() === "";
    reason.setAttribute("aria-invalid", String(lacks));
    const also = decision?.what === "stet" ? alsoCovered(i) : [];
    fault.textContent = lacks
      ? "a stet without a reason is not saved"
      : also.length > 0
        ? `this stet also covers ${also.map((n) => `query ${n + 1}`).join(", ")}`
        : "";
    decided.textContent = "";
    if (decision) {
      const head = { accept: "Accepted", stet: "Stet", ask: "Ask" }[decision.what];
      const why = decision.what === "accept" ? "" : decision.why.trim();
      decided.append(make("b", {}, head), why ? `: ${why}` : "");
    }
  }

  // A row of stets.csv names file, figure and subject: queries of the same check that share them
  // stand with it.
  function alsoCovered(i) {
    const one = data.queries[i];
    return data.queries.flatMap((other, n) => {
      const same =
        n !== i &&
        !other.stood &&
        other.check === one.check &&
        other.folder === one.folder &&
        other.file === one.file &&
        (one.figure === "" || other.figure === one.figure) &&
        (one.subject === "" || other.subject === one.subject);
      return same ? [n] : [];
    });
  }

  // --- Saving, as RFC 4180 has it.

  const field = (text) => (/[",\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const csv = (rows) => rows.map((row) => row.map(field).join(",") + "\r\n").join("");

  // The rows that were there, then a row for each stet with a reason.
  function stetTable(folder) {
    const columns = ["file", "figure", "subject", "check", "reason", "by", "date"];
    const [oldHead = [], ...old] = data.folders[folder].stets;
    const head = oldHead.map((name) => name.trim());
    for (const name of columns) if (!head.includes(name)) head.push(name);
    const rows = old.map((row) => head.map((name, i) => row[i] ?? ""));
    data.queries.forEach((query, i) => {
      const decision = decisionOf(i);
      if (query.folder !== folder || decision?.what !== "stet" || decision.why.trim() === "") return;
      const row = {
        file: query.file,
        figure: query.figure,
        subject: query.subject,
        check: query.check,
        reason: decision.why.trim(),
        by: answeredBy(decision),
        date: decision.date,
      };
      rows.push(head.map((name) => row[name] ?? ""));
    });
    return [head, ...rows];
  }

  function decisionTable() {
    const rows = [
      ["query", "file", "line", "figure", "subject", "check", "level", "message", "decision", "reason", "by", "date"],
    ];
    data.queries.forEach((query, i) => {
      const decision = decisionOf(i);
      if (!decision) return;
      rows.push([
        String(i + 1),
        query.file,
        String(query.line),
        query.figure,
        query.subject,
        query.check,
        query.level,
        query.message,
        decision.what,
        decision.why.trim(),
        answeredBy(decision),
        decision.date,
      ]);
    });
    return rows;
  }

  function save(name, rows) {
    const url = URL.createObjectURL(new Blob([csv(rows)], { type: "text/csv;charset=utf-8" }));
    make("a", { href: url, download: name }).click();
    setTimeout(() => URL.revokeObjectURL(url), 10000);
  }

  // --- Keys.

  const currentQuery = () => articles.indexOf(document.activeElement?.closest?.(".query"));

  function step(by) {
    const shown = articles.map((article, i) => i).filter((i) => !articles[i].hidden);
    if (shown.length === 0) return;
    const at = shown.indexOf(currentQuery());
    const next = at < 0 ? (by > 0 ? 0 : shown.length - 1) : at + by;
    const article = articles[shown[Math.min(Math.max(next, 0), shown.length - 1)]];
    article.focus({ preventScroll: true });
    article.scrollIntoView({ block: "nearest" });
  }

  const keys = {
    j: () => step(1),
    k: () => step(-1),
    a: () => decideHere("accept"),
    s: () => decideHere("stet"),
    q: () => decideHere("ask"),
    x: () => decideHere(""),
    f: () => filters.check.focus(),
    "?": () => helpDialog.showModal(),
  };

  function decideHere(what) {
    const i = currentQuery();
    if (i >= 0) decide(i, what);
  }

  document.addEventListener("keydown", (event) => {
    const inField = event.target.closest("input[type=text], select, textarea, dialog");
    if (event.key === "Escape" && event.target.matches("input[type=text], select")) {
      const article = event.target.closest(".query");
      if (article) article.focus();
      else event.target.blur();
      return;
    }
    if (inField || !kept.keys || event.ctrlKey || event.altKey || event.metaKey) return;
    const action = keys[event.key];
    if (!action) return;
    event.preventDefault();
    action();
  });

  // A number in the text leads to its query, even where a filter hides it.
  sheet.addEventListener("click", (event) => {
    const ref = event.target.closest("a.ref");
    if (!ref) return;
    event.preventDefault();
    const article = document.getElementById(ref.getAttribute("href").slice(1));
    if (article.hidden) clearFilters();
    article.focus();
  });

  // A drawing that is wider than its place can be reached, so that it can be moved.
  const drawings = [...document.querySelectorAll("figure.time")];
  const reachDrawings = () => {
    const wide = drawings.map((drawing) => drawing.scrollWidth > drawing.clientWidth);
    drawings.forEach((drawing, i) => {
      if (wide[i]) drawing.tabIndex = 0;
      else drawing.removeAttribute("tabindex");
    });
  };
  window.addEventListener("resize", reachDrawings);

  articles.forEach((article, i) => show(i));
  refresh();
  reachDrawings();
})();
