// Blocks of Markdown texts as the npm package commonmark (the reference implementation) sees them.
// Standard input: a JSON array of texts. Standard output, tab-separated: number of the text, kind
// (paragraph or heading), first line, last line, the words of the block folded to single spaces.
// With --examples: the examples of the CommonMark specification (npm package commonmark-spec) as a
// JSON array, instead.
import { readFileSync } from "node:fs";

if (process.argv.includes("--examples")) {
  const spec = await import("commonmark-spec");
  const tests = (spec.default ?? spec).tests;
  console.log(JSON.stringify(tests.map((test) => test.markdown.replaceAll("→", "\t"))));
} else {
  const commonmark = await import("commonmark");
  const texts = JSON.parse(readFileSync(0, "utf8"));
  texts.forEach((text, number) => {
    const walker = new commonmark.Parser().parse(text).walker();
    let event;
    while ((event = walker.next())) {
      const { node, entering } = event;
      if (!entering || (node.type !== "paragraph" && node.type !== "heading")) continue;
      let words = "";
      let images = 0;
      const inner = node.walker();
      let step;
      while ((step = inner.next())) {
        const kind = step.node.type;
        if (kind === "image") images += step.entering ? 1 : -1;
        if (images === 0 && (kind === "text" || kind === "code")) words += step.node.literal;
        if (kind === "softbreak" || kind === "linebreak") words += " ";
      }
      words = words.replace(/[\s\u00a0]+/gu, " ").trim();
      const [[first], [last]] = node.sourcepos;
      console.log([number, node.type, first, last, words].join("\t"));
    }
  });
}
