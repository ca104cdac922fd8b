/**
 * Call one function of the tablet's code with many argument lists.
 * In, on stdin: {module, function, cases: [[argument, ...], ...], say?}; out: the
 * results as one JSON list, {threw: message} for a call that threw.
 * `module` is a path under static/js, or starts with "./": beside this file.
 */
import { readFileSync } from "node:fs";

const asked = JSON.parse(readFileSync(0, "utf8"));
const code = new URL("../../static/js/", import.meta.url);
if (asked.say) {
  const { setWords } = await import(new URL("form/say.js", code).href);
  setWords(asked.say);
}
const base = asked.module.startsWith("./") ? import.meta.url : code;
const module = await import(new URL(asked.module, base).href);
const call = module[asked.function];
if (typeof call !== "function") throw new Error(`${asked.module} exports no function ${asked.function}`);

const results = [];
for (const given of asked.cases) {
  try {
    results.push((await call(...given)) ?? null);
  } catch (error) {
    results.push({ threw: String(error.message) });
  }
}
process.stdout.write(JSON.stringify(results));
