// Import each module of static/js but pages/ where no browser is, and tell on stdout what
// it touched while loading: [[module, global], ...]. A module that throws is told too.
import { readdirSync } from "node:fs";

const root = new URL("../../static/js/", import.meta.url);
const GLOBALS = [
  "document", "window", "navigator", "indexedDB", "localStorage", "sessionStorage", "fetch", "caches",
  "location", "addEventListener", "setInterval", "setTimeout",
];
const told = [];
let loading = "";

const files = readdirSync(root, { recursive: true })
  .map((name) => name.replaceAll("\\", "/"))
  .filter((name) => name.endsWith(".js") && !name.startsWith("pages/"))
  .sort();
for (const name of GLOBALS) {
  const before = globalThis[name];
  Object.defineProperty(globalThis, name, {
    configurable: true,
    get() {
      if (loading) told.push([loading, name]);
      return before;
    },
  });
}
for (const file of files) {
  loading = file;
  try {
    await import(new URL(file, root).href);
  } catch (error) {
    told.push([file, String(error)]);
  }
  loading = "";
}
process.stdout.write(JSON.stringify({ files, told }));
