// Times each of a list of requests in the browser's own Python, under Node, and writes [[ms, bytes], ...].
// Usage: node time_requests.mjs PYODIDE_FOLDER SITE_PYTHON_FOLDER TIMES_FILE < requests.json

import { readFileSync, writeFileSync } from "node:fs";
import { startEngine } from "../web/runtime/start-engine.mjs";

const [pyodideFolder, siteFolder, timesFile] = process.argv.slice(2);
const requests = JSON.parse(readFileSync(0, "utf8"));
const handle = await startEngine(pyodideFolder, siteFolder);
const times = requests.map((request) => {
  const start = performance.now();
  const reply = handle(request);
  return [performance.now() - start, Buffer.byteLength(reply)];
});
writeFileSync(timesFile, JSON.stringify(times));
process.exit(0);
