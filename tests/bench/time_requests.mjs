// Times each of a list of requests in the browser's own Python, under Node, and writes [[ms, bytes], ...].
// Usage: node time_requests.mjs PYODIDE_FOLDER SITE_PYTHON_FOLDER TIMES_FILE < requests.json

import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [pyodideFolder, siteFolder, timesFile] = process.argv.slice(2);
const requests = JSON.parse(readFileSync(0, "utf8"));
const { loadPyodide } = await import(pathToFileURL(join(pyodideFolder, "pyodide.mjs")).href);
const python = await loadPyodide({
  indexURL: pyodideFolder,
  packageBaseUrl: pyodideFolder,
  stdLibURL: join(siteFolder, "python.zip"),
  lockFileContents: JSON.parse(readFileSync(join(siteFolder, "about.json"), "utf8")).lock,
});
python.FS.writeFile("/lib/engine.zip", readFileSync(join(siteFolder, "engine.zip")));
python.runPython('import sys; sys.path.insert(0, "/lib/engine.zip"); import packed_start');
const handle = python.runPython("from steelyard.bridge import handle; handle");
const times = requests.map((request) => {
  const start = performance.now();
  const reply = handle(request);
  return [performance.now() - start, Buffer.byteLength(reply)];
});
writeFileSync(timesFile, JSON.stringify(times));
process.exit(0);
