// The query sheet in a real browser: Chromium (Debian's package) through the npm package
// playwright-core, accessibility by the npm package axe-core.
// usage: node sheet.mjs demo SHEET FOLDER      works through the sheet of the demo; saves into FOLDER
//        node sheet.mjs hostile SHEET          a manuscript full of markup and controls stays inert
// Prints what does not hold; exit status 1 then.
import { createRequire } from "node:module";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const require = createRequire(import.meta.url);
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const [what, sheet, folder] = process.argv.slice(2);
const url = pathToFileURL(sheet).href;

let faults = 0;
let held = 0;
const check = (holds, words, more = "") => {
  if (holds) held += 1;
  else {
    faults += 1;
    console.log(`not so: ${words} ${more}`);
  }
};
const equal = (is, ought, words) =>
  check(is === ought, words, `(${JSON.stringify(is)}, not ${JSON.stringify(ought)})`);

const executablePath = execFileSync("sh", ["-c", "command -v chromium || command -v chromium-browser"])
  .toString()
  .trim();
const browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });

// A page whose every complaint, request and dialog is a fault.
async function open(context) {
  const page = await context.newPage();
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) check(false, "the console is quiet", message.text());
  });
  page.on("pageerror", (error) => check(false, "the script runs without an error", error.message));
  page.on("dialog", (dialog) => {
    check(false, "no dialog opens", dialog.message());
    dialog.dismiss();
  });
  page.on("request", (request) => {
    const isOwn = request.url().split("#")[0] === url || request.url().startsWith("blob:");
    check(isOwn, "nothing is fetched", request.url());
  });
  await page.goto(url);
  return page;
}

const focused = (page) => page.evaluate(() => document.activeElement.closest(".query")?.id ?? "");
const shown = (page) => page.locator(".query:visible").count();

async function accessible(page, words) {
  await page.evaluate(axe);
  const result = await page.evaluate(() =>
    window.axe.run({
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    }),
  );
  check(result.passes.length > 10, `axe looked at the page, ${words}`);
  for (const violation of result.violations) {
    const where = violation.nodes.slice(0, 3).map((node) => node.html.slice(0, 120));
    check(false, `accessible, ${words}: ${violation.id}`, `${violation.help}: ${where.join(" | ")}`);
  }
}

async function demo() {
  const context = await browser.newContext({ acceptDownloads: true, viewport: { width: 1280, height: 900 } });
  let page = await open(context);
  const all = await shown(page);
  check(all > 40, "the sheet shows the queries", String(all));

  // Every query has its number in the text, or stands in no text; and each number leads back.
  const loose = await page.evaluate(() =>
    [...document.querySelectorAll(".query")]
      .filter((query) => !document.querySelector(`a.ref[href="#${query.id}"]`))
      .map((query) => query.querySelector(".check").textContent),
  );
  check(loose.every((check) => check === "stet-unused"), "every query has its number in the text", loose.join());
  await page.locator("a.ref").nth(3).click();
  equal(await focused(page), await page.locator("a.ref").nth(3).evaluate((a) => a.hash.slice(1)), "a number leads to its query");

  // Filters: alone, together, and cleared.
  await page.selectOption("#filter-check", "rank-disagrees");
  const ranks = await shown(page);
  check(ranks > 0 && ranks < all, "the filter by check narrows", String(ranks));
  equal(await page.locator(".query:visible .check").evaluateAll((list) => list.every((a) => a.textContent === "rank-disagrees")), true, "only that check is left");
  await page.selectOption("#filter-level", "note");
  equal(await shown(page), 0, "filters work together");
  await page.click("#clear-filters");
  equal(await shown(page), all, "cleared, all are back");
  for (const name of ["chapter", "airframe", "person"]) {
    const labels = await page.locator(`#filter-${name} option`).allTextContents();
    check(labels.length > 3, `there is a choice of ${name}`);
    let total = 0;
    for (const label of labels.slice(1)) {
      await page.selectOption(`#filter-${name}`, { label });
      total += await shown(page);
    }
    check(total > 0, `the filter by ${name} finds queries`);
    if (name === "chapter") equal(total, all, "each query is in one chapter");
    await page.click("#clear-filters");
  }
  await page.uncheck("#with-plain");
  equal(await page.locator(".entry.plain:visible").count(), 0, "captions without a query can be left out");
  await page.check("#with-plain");

  // Keys: through the queries and back, and off.
  await page.evaluate(() => document.activeElement.blur());
  await page.keyboard.press("j");
  equal(await focused(page), "q1", "j goes to the first query");
  await page.keyboard.press("j");
  await page.keyboard.press("j");
  await page.keyboard.press("k");
  equal(await focused(page), "q2", "j and k go on and back");
  const inSight = await page.locator("#q2").evaluate((query) => {
    const box = query.getBoundingClientRect();
    const desk = document.querySelector(".desk").getBoundingClientRect();
    return box.top >= desk.bottom && box.top < innerHeight;
  });
  check(inSight, "the query in focus is in sight, not under the desk");
  await page.keyboard.press("?");
  check(await page.locator("dialog").isVisible(), "the list of keys opens");
  await page.keyboard.press("Escape");
  await page.uncheck("#single-keys");
  await page.evaluate(() => document.activeElement.blur());
  await page.keyboard.press("j");
  equal(await focused(page), "", "single keys can be switched off");
  await page.check("#single-keys");

  // Decisions, by key and by button; a stet without a reason is told.
  await page.fill("#decided-by", 'R. "Ruth" Callowhill');
  await page.locator("#q1").focus();
  await page.keyboard.press("a");
  await page.keyboard.press("j");
  await page.keyboard.press("s");
  equal(await page.locator("#reason-2").getAttribute("aria-invalid"), "true", "a stet asks for its reason");
  await page.keyboard.type('the maker\'s drawing, sheet 4, has it so; "keep", said the owner');
  equal(await page.locator("#reason-2").getAttribute("aria-invalid"), "false", "with a reason it is whole");
  await page.keyboard.press("Escape");
  equal(await focused(page), "q2", "Escape leads back to the query");
  await page.locator("#q3 button[data-what=ask]").click();
  await page.keyboard.type("Which of the two?");
  await page.locator("#q5 button[data-what=stet]").click();
  await page.keyboard.type("acting rank");
  await page.locator("#q7 button[data-what=stet]").click();
  await page.selectOption("#filter-decision", "stet");
  equal(await shown(page), 3, "the filter by decision");
  await page.click("#clear-filters");
  await page.selectOption("#filter-by", 'R. "Ruth" Callowhill');
  equal(await shown(page), 5, "the filter by the person answering");
  await page.click("#clear-filters");

  // They are still there when the page is opened again.
  await page.close();
  page = await open(context);
  equal(await page.locator("#reason-3").inputValue(), "Which of the two?", "decisions are kept");
  equal(await page.locator("#q1 button[data-what=accept]").getAttribute("aria-pressed"), "true", "and shown");

  const save = async (button, name) => {
    const [download] = await Promise.all([page.waitForEvent("download"), page.click(button)]);
    equal(download.suggestedFilename(), name, "the file has its name");
    await download.saveAs(join(folder, name));
  };
  await save(".save-stets", "stets.csv");
  await save("#save-decisions", "decisions.csv");

  await accessible(page, "light");
  await page.emulateMedia({ colorScheme: "dark" });
  await accessible(page, "dark");
  await page.setViewportSize({ width: 420, height: 800 });
  await accessible(page, "narrow");
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  check(wide <= 0, "a narrow page does not run over its side", String(wide));

  await page.emulateMedia({ media: "print", colorScheme: "dark" });
  equal(await page.locator(".desk").isVisible(), false, "the desk is not printed");
  equal(await page.locator(".decision").first().isVisible(), false, "nor are buttons");
  equal(await page.locator("#q3 .decided").innerText(), "Ask: Which of the two?", "decisions are printed");
  equal(await page.evaluate(() => getComputedStyle(document.body).backgroundColor), "rgb(255, 255, 255)", "print is on white");
  await page.pdf({ path: join(folder, "sheet.pdf"), preferCSSPageSize: true });

  // Without the script it is a page to read.
  const bare = await browser.newContext({ javaScriptEnabled: false });
  const still = await open(bare);
  equal(await shown(still), all, "without a script every query is shown");
}

async function hostile() {
  const context = await browser.newContext();
  const page = await open(context);
  check((await shown(page)) >= 2, "the queries are shown");
  equal(await page.evaluate(() => window.caught ?? 0), 0, "nothing of the manuscript has run");
  equal(await page.evaluate(() => document.scripts.length), 2, "there is no other script");
  equal(await page.locator("main img, main iframe, main form, main object, main base, main svg script").count(), 0, "nor markup of the manuscript's");
  const hrefs = await page.locator("a").evaluateAll((list) => list.map((a) => a.getAttribute("href")));
  check(hrefs.every((href) => href.startsWith("#")), "every link leads into the page", hrefs.join());
  const text = await page.evaluate(() => document.documentElement.outerHTML);
  check(!/[\u202a-\u202e\u2066-\u2069\u200e\u200f\u061c\u0007]/u.test(text), "no control turns the text");
  check(text.includes("[U+202E]"), "it is shown by its number");
  const words = await page.locator("main").innerText();
  check(words.includes("<script>window.caught"), "markup is shown as text");
  // Through the parts that the script writes.
  const options = await page.locator("select option").allTextContents();
  check(options.some((option) => option.includes("<b>")), "names in the filters are text", options.join());
  await page.locator("#q1").focus();
  await page.keyboard.press("s");
  await page.keyboard.type("<img src=x onerror=window.caught=1>");
  await page.emulateMedia({ media: "print" });
  check((await page.locator("#q1 .decided").innerText()).includes("<img src=x"), "reasons are text");
  equal(await page.evaluate(() => window.caught ?? 0), 0, "and nothing has run");
}

await (what === "demo" ? demo() : hostile());
await browser.close();
console.log(`${held} held, ${faults} did not`);
process.exit(faults === 0 ? 0 : 1);
