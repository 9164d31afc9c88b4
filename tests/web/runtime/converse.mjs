// Puts a list of requests to the packed engine in the browser's own Python, under Node, and writes the list of replies.
// Usage: node converse.mjs PYODIDE_FOLDER SITE_PYTHON_FOLDER REPLIES_FILE < requests.json

import { readFileSync, writeFileSync } from "node:fs";
import { startEngine } from "./start-engine.mjs";

const [pyodideFolder, siteFolder, repliesFile] = process.argv.slice(2);
const requests = JSON.parse(readFileSync(0, "utf8"));
const handle = await startEngine(pyodideFolder, siteFolder);
writeFileSync(repliesFile, JSON.stringify(requests.map((request) => handle(request))));
process.exit(0);
