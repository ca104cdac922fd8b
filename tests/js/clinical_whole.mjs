/**
 * Run the tablet's computation over calls that come line by line, while they are written.
 * In, on stdin, one JSON a line: [function, input, policy], or what later lines need:
 * ["policies", ...], ["words", ...], ["whole", ...]. Out: the result of each call, a line.
 */
import { createWriteStream } from "node:fs";
import { createInterface } from "node:readline";
import { run } from "./clinical.mjs";

let words = {};
let whole = [];

const told = (name, given, policy) => run(name, given.remark ? { words, ...given } : given, policy) ?? null;

/** Call one function, or with "whole_record" all that read a record. */
function called(name, given, policy) {
  try {
    if (name !== "whole_record") return told(name, given, policy);
    return Object.fromEntries(whole.map((one) => [one, told(one, given, policy)]));
  } catch (error) {
    return { threw: String(error.message) };
  }
}

const out = createWriteStream(process.argv[2]);
for await (const line of createInterface({ input: process.stdin })) {
  const [name, given, policy] = JSON.parse(line);
  if (name === "policies") run(name, given, policy);
  else if (name === "words") words = given;
  else if (name === "whole") whole = given;
  else out.write(`${JSON.stringify(called(name, given, policy))}\n`);
}
out.end();
