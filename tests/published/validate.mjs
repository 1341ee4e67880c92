// usage: node validate.mjs SCHEMA FILE...      JSON files against a JSON Schema, by the npm package ajv.
// SCHEMA is a file, or "sarif" for the OASIS schema of SARIF 2.1.0 as the npm package
// @microsoft/jest-sarif carries it. Prints each fault with its place; exit status 1 when there is one.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";

const require = createRequire(import.meta.url);
const [name, ...files] = process.argv.slice(2);
const read = (path) => JSON.parse(readFileSync(path, "utf8"));
const schema =
  name === "sarif"
    ? read(require.resolve("@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json"))
    : read(name);
const isOld = schema.$schema?.includes("draft-04");
const load = (module) => require(module).default ?? require(module);
const Ajv = load(isOld ? "ajv-draft-04" : "ajv/dist/2020.js");
const ajv = new Ajv({ allErrors: true, strict: !isOld, unicodeRegExp: !isOld });
load("ajv-formats")(ajv);
const validate = ajv.compile(schema);

let bad = files.length === 0;
for (const file of files) {
  if (validate(read(file))) continue;
  bad = true;
  for (const fault of validate.errors) {
    console.log(`${file}: ${fault.instancePath || "/"} ${fault.message}`);
  }
}
process.exit(bad ? 1 : 0);
