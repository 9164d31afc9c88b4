// The packed engine in the browser's own Python, under Node: what asks it for replies or for times starts it here.

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

/** The door of the engine: one JSON request in, one JSON reply out. */
export async function startEngine(pyodideFolder, siteFolder) {
  const { loadPyodide } = await import(pathToFileURL(join(pyodideFolder, "pyodide.mjs")).href);
  const python = await loadPyodide({
    indexURL: pyodideFolder,
    packageBaseUrl: pyodideFolder,
    stdLibURL: join(siteFolder, "python.zip"),
    lockFileContents: JSON.parse(readFileSync(join(siteFolder, "about.json"), "utf8")).lock,
  });
  python.FS.writeFile("/lib/engine.zip", readFileSync(join(siteFolder, "engine.zip")));
  python.runPython('import sys; sys.path.insert(0, "/lib/engine.zip"); import packed_start');
  return python.runPython("from steelyard.bridge import handle; handle");
}
