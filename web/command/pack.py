"""Runs inside the browser's own Python (under Node) at build time: finds the modules the engine loads, compiles them.

`pack` leaves `python.zip`, the part of the standard library that is needed, and `engine.zip`, both of unchecked
hash-pycs, which this very interpreter loads without compiling.
"""

import ast
import builtins
import dataclasses
import importlib
import importlib.machinery
import importlib.util
import marshal
import sys
import traceback
import zipfile
from pathlib import Path

# Read only by the door for the command line, or through a package the browser does not have.
NOT_IN_THE_BROWSER = {
    *("steelyard.cli", "steelyard.__main__", "steelyard.picture.svg", "steelyard.statics.equations"),
    *("steelyard.report", "steelyard.report.answer", "steelyard.report.explain", "steelyard.report.limits"),
    *("steelyard.report.reaches", "steelyard.report.table", "steelyard.report.whole"),
    "steelyard.statics.whole_equations",
}
# Loaded by the interpreter itself when text is decoded or an error is shown, not by an import in any source.
ALWAYS = ("encodings.ascii", "encodings.latin_1", "encodings.utf_8", "linecache", "traceback", "tokenize", "warnings")
# Loaded only when a file inside a zipped package is read, which here, where the engine is a folder, never happens.
READING_FROM_A_ZIP = (
    *("importlib.readers", "importlib.resources._adapters", "importlib.resources.readers"),
    *("zipfile._path", "encodings.cp437"),
)
# The runtime's own modules hand their docstrings on to objects that are not made in Python.
DOCUMENTED = ("/lib/python314.zip/_pyodide", "/lib/python314.zip/pyodide")
EPOCH = (1980, 1, 1, 0, 0, 0)


def engine_modules(folder):
    """Every module of the engine that runs in the browser, by dotted name."""
    for file in sorted(folder.rglob("*.py")):
        parts = file.relative_to(folder).with_suffix("").parts
        name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        if name not in NOT_IN_THE_BROWSER:
            yield name, file


def imported_names(file):
    """Names of standard modules that a source imports anywhere, in functions too."""
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            names = [node.module]
        else:
            continue
        yield from (name for name in names if name.split(".")[0] in sys.stdlib_module_names)


def write_zip(path, files):
    """A deflated zip that depends on nothing but its content."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, data in sorted(files.items()):
            archive.writestr(zipfile.ZipInfo(name, EPOCH), data, zipfile.ZIP_DEFLATED, 9)


def drop_docstrings(tree):
    """Take the docstrings of modules and functions away: a sixth of all bytes. Those of classes stay, because
    `dataclasses` writes one itself, slowly, for a class that has none."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.FunctionDef | ast.AsyncFunctionDef) and ast.get_docstring(node, False):
            node.body = node.body[1:] or [ast.copy_location(ast.Pass(), node.body[0])]


def compiled(source, shown_as):
    """A source, without what is written for readers, as the bytes of a .pyc whose source is never looked for."""
    tree = ast.parse(source, shown_as)
    if not shown_as.startswith(DOCUMENTED):
        drop_docstrings(tree)
    code = compile(tree, shown_as, "exec", dont_inherit=True, optimize=0)
    return importlib._bootstrap_external._code_to_hash_pyc(code, importlib.util.source_hash(source), False)


def record_dataclass_texts():
    """The set that from now on receives every source text that `dataclasses` writes and runs."""
    texts = set()

    def execute(text, *namespaces):
        texts.add(text)
        builtins.exec(text, *namespaces)

    dataclasses.exec = execute
    return texts


def pack(engine_folder, out_folder, start_source):
    """Compile and zip; return how many modules of the library and files of the engine were packed."""
    started_with = set(sys.modules)
    texts = record_dataclass_texts()
    engine = Path(engine_folder)
    sys.path.insert(0, engine_folder)
    files = dict(engine_modules(engine))
    for name, file in files.items():
        importlib.import_module(name)
        for standard in imported_names(file):
            importlib.import_module(standard)
    for name in ALWAYS + READING_FROM_A_ZIP:
        importlib.import_module(name)
    try:
        raise ValueError("so that all that shows an error is loaded")
    except ValueError as error:
        "".join(traceback.format_exception(error))

    archive_path = next(path for path in sys.path if path.endswith(".zip"))
    with zipfile.ZipFile(archive_path) as archive:
        available = set(archive.namelist())
        library = {}
        for name in sorted(started_with | set(sys.modules)):
            if importlib.machinery.FrozenImporter.find_spec(name):
                continue  # it is in the interpreter itself
            stem = name.replace(".", "/")
            for source_name in (f"{stem}/__init__.py", f"{stem}.py"):
                if source_name in available:
                    source = archive.read(source_name)
                    library[source_name + "c"] = compiled(source, f"{archive_path}/{source_name}")
                    break
    write_zip(f"{out_folder}/python.zip", library)

    packed = {}
    for file in sorted(engine.rglob("*")):
        inside = file.relative_to(engine).as_posix()
        if file.is_dir() or "__pycache__" in inside:
            continue
        if file.suffix != ".py":
            packed[inside] = file.read_bytes()
        elif file in files.values():
            packed[inside + "c"] = compiled(file.read_bytes(), inside)
    packed["packed_start.pyc"] = compiled(start_source.encode(), "packed_start.py")
    packed["dataclass-codes"] = marshal.dumps({text: compile(text, "<string>", "exec") for text in sorted(texts)})
    write_zip(f"{out_folder}/engine.zip", packed)
    return len(library), len(packed)
