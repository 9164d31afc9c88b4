"""Undo and redo without limit: each step is two small patches on the document's data.

A patch is a list of operations, plain JSON so that a page can keep it:
`["set", path, value]`, `["drop", path]`, `["splice", path, start, count, values]`; a path is a list of
keys and indices. Operations apply in order.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from ..errors import SteelyardError

Data = Any
Patch = list[list[Any]]


def diff(before: Data, after: Data) -> Patch:
    """The patch that turns one document's data into the other's: `patch(before, diff(before, after)) == after`."""
    found: Patch = []
    _diff(before, after, [], found)
    return found


def _same(before: Data, after: Data) -> bool:
    # 1, 1.0 and true are equal in Python but not in a document.
    return type(before) is type(after) and bool(before == after)


def _diff(before: Data, after: Data, path: list[str | int], found: Patch) -> None:
    if isinstance(before, dict) and isinstance(after, dict):
        for key in before:
            if key not in after:
                found.append(["drop", [*path, key]])
        for key, value in after.items():
            if key in before:
                _diff(before[key], value, [*path, key], found)
            else:
                found.append(["set", [*path, key], value])
    elif isinstance(before, list) and isinstance(after, list):
        _diff_lists(before, after, path, found)
    elif not _same(before, after):
        found.append(["set", list(path), after])


def _diff_lists(before: list[Data], after: list[Data], path: list[str | int], found: Patch) -> None:
    if len(before) == len(after):
        for index, (old, new) in enumerate(zip(before, after, strict=True)):
            _diff(old, new, [*path, index], found)
        return
    start = 0
    while start < min(len(before), len(after)) and _equal(before[start], after[start]):
        start += 1
    end = 0
    while end < min(len(before), len(after)) - start and _equal(before[-1 - end], after[-1 - end]):
        end += 1
    found.append(["splice", list(path), start, len(before) - end - start, after[start : len(after) - end]])


def _equal(before: Data, after: Data) -> bool:
    return not diff(before, after)


def patch(data: Data, operations: Patch) -> Data:
    """The data with a patch applied; the data given stay as they are.

    Raises `SteelyardError` when the patch does not fit, as with a damaged journal.
    """
    for operation in operations:
        try:
            data = _apply(data, operation)
        except (TypeError, ValueError, KeyError, IndexError):
            message = "A step of the history does not fit this sketch."
            raise SteelyardError("history.patch", "", message, "Open the last saved file instead.") from None
    return data


def _apply(data: Data, operation: list[Any]) -> Data:
    match operation:
        case ["set", list(path), value]:
            return _changed(data, path, lambda _: value)
        case ["drop", [*path, str(key)]]:
            return _changed(data, path, lambda held: {name: held[name] for name in held if name != key})
        case ["splice", list(path), int(start), int(count), list(values)]:
            return _changed(data, path, lambda held: [*held[:start], *values, *held[start + count :]])
    raise ValueError(operation)


def _changed(data: Data, path: list[Any], change: Callable[[Data], Data]) -> Data:
    if not path:
        return change(data)
    key, rest = path[0], path[1:]
    if isinstance(data, dict):
        if not rest and key not in data:
            return {**data, key: change(None)}
        return {**data, key: _changed(data[key], rest, change)}
    if not isinstance(data, list) or not 0 <= key < len(data):
        raise ValueError(path)
    return [*data[:key], _changed(data[key], rest, change), *data[key + 1 :]]


@dataclass(frozen=True, slots=True)
class Entry:
    """One step: what it is called, and the patches there and back."""

    label: str
    forward: Patch
    backward: Patch

    def as_data(self) -> dict[str, Any]:
        """The entry as a page journals it."""
        return {"label": self.label, "forward": self.forward, "backward": self.backward}


@dataclass(slots=True)
class History:
    """Steps done and undone. It holds no document: each call is given the data to step from."""

    entries: list[Entry] = field(default_factory=list)
    done: int = 0

    @property
    def undo_label(self) -> str:
        """What undo would take back; "" when there is nothing."""
        return self.entries[self.done - 1].label if self.done > 0 else ""

    @property
    def redo_label(self) -> str:
        """What redo would do again; "" when there is nothing."""
        return self.entries[self.done].label if self.done < len(self.entries) else ""

    def push(self, label: str, before: Data, after: Data) -> Entry | None:
        """Record a step; None, and nothing recorded, when nothing changed. What was undone is forgotten."""
        forward = diff(before, after)
        if not forward:
            return None
        entry = Entry(label, forward, diff(after, before))
        del self.entries[self.done :]
        self.entries.append(entry)
        self.done += 1
        return entry

    def undo(self, data: Data) -> Data:
        """The data one step back; raises `SteelyardError` when there is nothing to undo."""
        if self.done == 0:
            raise SteelyardError("history.undo", "", "There is nothing to undo.", "")
        changed = patch(data, self.entries[self.done - 1].backward)
        self.done -= 1
        return changed

    def redo(self, data: Data) -> Data:
        """The data one step on again; raises `SteelyardError` when there is nothing to redo."""
        if self.done == len(self.entries):
            raise SteelyardError("history.redo", "", "There is nothing to redo.", "")
        changed = patch(data, self.entries[self.done].forward)
        self.done += 1
        return changed


def replay(data: Data, entries: object, done: object) -> tuple[Data, History]:
    """A document and its journal put together again: the first `done` entries applied to the data.

    Raises `SteelyardError` when the journal is damaged.
    """
    message = "The kept history of this sketch is damaged."
    hint = "The sketch itself can still be opened without it."
    if not isinstance(entries, list) or isinstance(done, bool) or not isinstance(done, int):
        raise SteelyardError("history.journal", "entries", message, hint)
    read: list[Entry] = []
    for entry in entries:
        match entry:
            case {"label": str(label), "forward": list(forward), "backward": list(backward)}:
                read.append(Entry(label, forward, backward))
            case _:
                raise SteelyardError("history.journal", "entries", message, hint)
    if not 0 <= done <= len(read):
        raise SteelyardError("history.journal", "at", message, hint)
    for entry in read[:done]:
        data = patch(data, entry.forward)
    return data, History(read, done)
