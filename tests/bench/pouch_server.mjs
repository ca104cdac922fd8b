// A document database's server on a disk: pouch_server.mjs MODULES PORT DATA
import { createRequire } from "node:module";
import { join } from "node:path";
import process from "node:process";

const [modules, port, data] = process.argv.slice(2);
const require = createRequire(join(modules, "package.json"));
const express = require("express");
const expressPouch = require("express-pouchdb");
const PouchDB = require("pouchdb").defaults({ prefix: `${data}/` });

const app = express();
app.use("/", expressPouch(PouchDB, { mode: "minimumForPouchDB", inMemoryConfig: true }));
app.listen(Number(port), "127.0.0.1", () => console.log("listening"));
