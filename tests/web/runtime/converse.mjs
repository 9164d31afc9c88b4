// Puts a list of requests to the packed engine in the browser's own Python, under Node, and writes the list of replies.
// Usage: node converse.mjs PYODIDE_FOLDER SITE_PYTHON_FOLDER REPLIES_FILE < requests.json

import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [pyodideFolder, siteFolder, repliesFile] = process.argv.slice(2);
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
writeFileSync(repliesFile, JSON.stringify(requests.map((request) => handle(request))));
process.exit(0);
