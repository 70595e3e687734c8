// An in-memory PouchDB server over HTTP, with an empty page and PouchDB's own build for the browser.

import { mkdtempSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";

const require = createRequire(import.meta.url);
const express = require("express");
const pouch = require("express-pouchdb");
const PouchDB = require("pouchdb-core").plugin(require("pouchdb-adapter-memory"));

process.chdir(mkdtempSync(join(tmpdir(), "slipbook-rival-")));
const app = express();
app.get("/page", (_, answer) => answer.type("html").send('<!doctype html><title>Empty</title><script src="/pouchdb.js"></script>'));
app.get("/pouchdb.js", (_, answer) => answer.sendFile(require.resolve("pouchdb/dist/pouchdb.min.js")));
app.use("/db", pouch(PouchDB.defaults({ adapter: "memory" }), { mode: "minimumForPouchDB", inMemoryConfig: true, logPath: join(process.cwd(), "log") }));
const listening = app.listen(0, "127.0.0.1", () => console.log(`http://127.0.0.1:${listening.address().port} ${process.pid}`));
