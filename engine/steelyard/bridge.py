"""The door for the page: one JSON request in, one JSON reply out, and never an exception.

`python -m steelyard.bridge opening` prints the state of the opening scenario, for pages built ahead of time.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from typing import Any

from .errors import SteelyardError
from .request import Request
from .session import Memory, Session
from .session.unchanged import Sent

Reply = dict[str, Any]


# A reply is a tree: looking out for circles would take a third of the writing.
_WRITER = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), allow_nan=False, check_circular=False)


class Door:
    """One session behind one door."""

    def __init__(self) -> None:
        self.session = Session()
        self._sent = Sent()
        session = self.session
        self._verbs: dict[str, Callable[[Request], Reply]] = {
            "hello": session.hello,
            "open": session.open,
            "new": session.new,
            "scenario": session.scenario,
            "show": session.show,
            "look": session.look,
            "begin": session.begin,
            "preview": session.preview,
            "nudge": session.nudge,
            "commit": session.commit,
            "cancel": session.cancel,
            "try": session.try_command,
            "command": session.command,
            "undo": session.undo,
            "redo": session.redo,
            "here": session.here,
            "save": session.save,
            "copy": session.copy,
        }

    def handle(self, text: str) -> str:
        """Answer one request. A failure is `{seq, ok: false, error}`; then the session is as it was before."""
        seq: int | float | str | None = None
        before = self.session.remember()
        request: Request | None = None
        try:
            request = Request.read(text)
            seq = request.seq
            reply = {"seq": seq, "ok": True, **self._verb(request)(request)}
            sent = self._sent
            if "picture" in reply:
                sent, reply = sent.after(reply), sent.written(reply, request.base)
            answer = _WRITER.encode(reply)
            self._sent = sent
            return answer
        except SteelyardError as error:
            self._put_back(before, request)
            return _failure(seq, error)
        except Exception as error:  # the page must get an answer whatever went wrong, and the sketch must survive it
            self._put_back(before, request)
            return _failure(seq, _unexpected(error))

    def _put_back(self, before: Memory, request: Request | None) -> None:
        self.session.restore(before)
        if request is not None and request.is_verb("commit"):
            self.session.let_go()

    def _verb(self, request: Request) -> Callable[[Request], Reply]:
        name = request.text("do")
        verb = self._verbs.get(name)
        if verb is None:
            known = ", ".join(self._verbs)
            raise SteelyardError(
                "request.do", "do", f'`do` must be one of {known}: got "{name[:40]}".', "Send one of these."
            )
        return verb


def _failure(seq: int | float | str | None, error: SteelyardError) -> str:
    return json.dumps({"seq": seq, "ok": False, "error": error.as_data()}, ensure_ascii=False)


def _unexpected(error: Exception) -> SteelyardError:
    return SteelyardError(
        "engine.unexpected",
        "",
        f"Something went wrong inside the engine ({type(error).__name__}: {error}).",
        "Your sketch is as it was before. Try another way, and keep a copy of the sketch.",
    )


_door = Door()


def handle(text: str) -> str:
    """Answer one request from the page: JSON text to JSON text, never an exception."""
    return _door.handle(text)


# The board beside which the page is first seen, in CSS pixels.
OPENING_WIDTH_PX = 859
OPENING_HEIGHT_PX = 503


def opening() -> str:
    """The state of the opening scenario on the first board, with what `hello` says beside it, as JSON text."""
    door = Door()
    hello = json.loads(door.handle('{"seq": 0, "do": "hello"}'))
    slug = hello["scenarios"][0]["slug"]
    size = {"width_px": OPENING_WIDTH_PX, "height_px": OPENING_HEIGHT_PX}
    door.handle(json.dumps({"seq": 1, "do": "show", **size, "side": "working"}))
    state = json.loads(door.handle(json.dumps({"seq": 2, "do": "scenario", "slug": slug})))
    return json.dumps({**state, "hello": hello}, ensure_ascii=False, separators=(",", ":"))


def main(arguments: list[str]) -> int:
    """Entry point of `python -m steelyard.bridge`."""
    if arguments != ["opening"]:
        print("usage: python -m steelyard.bridge opening", file=sys.stderr)
        return 2
    print(opening())
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
