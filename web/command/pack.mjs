// Runs pack.py in the browser's own Python under Node, then starts that Python again from what was packed and imports
// the whole engine, so that a module left out stops the build and not a reader.
// Usage: node pack.mjs PYODIDE_FOLDER ENGINE_FOLDER SCENARIOS_FOLDER PACK_SCRIPT START_SCRIPT OUT_FOLDER

import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

// Node would print the line of code that failed, which in Pyodide is all of its code.
process.on("uncaughtException", (error) => {
  console.error(error?.message ?? error);
  process.exit(1);
});

const [pyodideFolder, engineFolder, scenariosFolder, packScript, startScript, outFolder] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(join(pyodideFolder, "pyodide.mjs")).href);

const options = () => ({
  indexURL: pyodideFolder,
  packageBaseUrl: pyodideFolder,
  env: { PYTHONHASHSEED: "0", HOME: "/home/pyodide" },
  lockFileContents: readEmptyLock(),
});

/** The shipped lock file without its packages: the runtime only checks the versions in it. */
function readEmptyLock() {
  const lock = JSON.parse(readFileSync(join(pyodideFolder, "pyodide-lock.json"), "utf8"));
  return { info: lock.info, packages: {} };
}

/** Copies a folder of this machine into Python's file system, skipping compiled leftovers. */
function copyIn(fs, from, to) {
  fs.mkdirTree(to);
  for (const name of readdirSync(from).sort()) {
    if (name === "__pycache__" || name.endsWith(".egg-info")) continue;
    const path = join(from, name);
    if (statSync(path).isDirectory()) copyIn(fs, path, `${to}/${name}`);
    else fs.writeFile(`${to}/${name}`, readFileSync(path));
  }
}

const python = await loadPyodide(options());
copyIn(python.FS, engineFolder, "/build/engine");
python.FS.mkdirTree("/build/engine/steelyard/scenarios");
for (const name of readdirSync(scenariosFolder).filter((name) => name.endsWith(".json")).sort()) {
  python.FS.writeFile(`/build/engine/steelyard/scenarios/${name}`, readFileSync(join(scenariosFolder, name)));
}
python.FS.mkdirTree("/build/out");
python.runPython(readFileSync(packScript, "utf8"));
const [libraryCount, engineCount] = python.globals.get("pack")("/build/engine", "/build/out", readFileSync(startScript, "utf8")).toJs();
mkdirSync(outFolder, { recursive: true });
for (const name of ["python.zip", "engine.zip"]) writeFileSync(join(outFolder, name), python.FS.readFile(`/build/out/${name}`));
const bytes = Object.fromEntries(readdirSync(outFolder).map((name) => [name, statSync(join(outFolder, name)).size]));
writeFileSync(join(outFolder, "about.json"), JSON.stringify({ lock: readEmptyLock(), bytes }));

const again = await loadPyodide({ ...options(), stdLibURL: join(outFolder, "python.zip") });
again.FS.writeFile("/lib/engine.zip", readFileSync(join(outFolder, "engine.zip")));
again.runPython(`
import sys, importlib
sys.path.insert(0, "/lib/engine.zip")
import packed_start
from zipimport import zipimporter
for name in sorted(zipimporter("/lib/engine.zip")._get_files()):
    if name.endswith(".pyc"):
        importlib.import_module(name.removesuffix(".pyc").removesuffix("/__init__").replace("/", "."))
`);
console.log(`${libraryCount} modules of the standard library and ${engineCount} files of the engine`);
process.exit(0);
