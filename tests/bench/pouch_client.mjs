// Replicate documents and say how long it took: pouch_client.mjs MODULES URL DOCUMENTS.json BATCH
// The source is in memory and filled before the clock starts.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import process from "node:process";

const [modules, url, file, batch] = process.argv.slice(2);
const require = createRequire(join(modules, "package.json"));
const PouchDB = require("pouchdb");
PouchDB.plugin(require("pouchdb-adapter-memory"));

const documents = JSON.parse(readFileSync(file, "utf8"));
const remote = new PouchDB(url);
await remote.info();
const local = new PouchDB("source", { adapter: "memory" });
for (let start = 0; start < documents.length; start += 500) {
  await local.bulkDocs(documents.slice(start, start + 500));
}
const cpuBefore = process.cpuUsage();
const began = performance.now();
const result = await local.replicate.to(remote, { batch_size: Number(batch) });
const seconds = (performance.now() - began) / 1000;
const { user, system } = process.cpuUsage(cpuBefore);
const { doc_count } = await remote.info();
if (!result.ok || doc_count !== documents.length) throw new Error(JSON.stringify({ result, doc_count }));
console.log(JSON.stringify({ seconds, cpu_s: (user + system) / 1e6 }));
process.exit(0);
