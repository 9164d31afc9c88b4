"""Everything the page can ask for, one method a verb; each gives the parts of its reply."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from typing import Any

from .. import __version__, document, shelf
from ..edit import commands
from ..edit.history import Entry, History, replay
from ..errors import SteelyardError
from ..model import Sketch
from ..panels.chain import chain_panel
from ..panels.partner import partner
from ..panels.problem import problem
from ..panels.release import release_panel, swept
from ..panels.track import Known, track_panel
from ..panels.uncertainty import uncertainty_panel
from ..panels.words import PIVOT_ID, entity
from ..picture import frame as frames
from ..request import Request
from ..statics.chain import steps
from . import grounds, hands
from .canvas import Canvas
from .copying import copied
from .grounds import Alone
from .hands import Hand
from .pick import things_at, with_systems
from .presentation import EVERY_STEP, FIRST_REVEALED, Presentation, looked, read_tool, shown
from .reasoning import reasoning
from .reply import live_panels, picture_data, settled_panels
from .seen import Seen, active_body, beside, seen
from .tools import tray

Reply = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Memory:
    """All of a session, to go back to when a request fails."""

    sketch: Sketch
    entries: tuple[Entry, ...]
    done: int
    presentation: Presentation
    canvas: Canvas
    hand: Hand | None
    revision: int


class Session:
    """One open sketch. A verb that raises may leave the session half changed: the door restores it."""

    def __init__(self) -> None:
        self._sketch = Sketch()
        self._history = History()
        self._presentation = Presentation()
        self._canvas = Canvas()
        self._hand: Hand | None = None
        self._revision = 0
        # Only a saving of work: it says itself what it is true for.
        self._known: Known | None = None

    def remember(self) -> Memory:
        """The session as it is now."""
        return Memory(
            self._sketch,
            tuple(self._history.entries),
            self._history.done,
            self._presentation,
            self._canvas,
            self._hand,
            self._revision,
        )

    def restore(self, memory: Memory) -> None:
        """Back to what was remembered."""
        self._sketch = memory.sketch
        self._history = History(list(memory.entries), memory.done)
        self._presentation = memory.presentation
        self._canvas = memory.canvas
        self._hand = memory.hand
        self._revision = memory.revision

    # Whole sketches

    def hello(self, request: Request) -> Reply:
        """What this engine is and offers."""
        return {
            "version": __version__,
            "build": os.environ.get("STEELYARD_BUILD", ""),
            "scenarios": [
                {"slug": each.slug, "title": each.title, "question": each.question, "task": each.task}
                for each in shelf.listing()
            ],
            "tools": tray(),
        }

    def open(self, request: Request) -> Reply:
        """Open a document, and its journal when one is sent."""
        sketch = document.read(request.text("document"))
        history = History()
        if request.has("entries"):
            entries = request.entries("entries")
            at = request.whole("at") if request.has("at") else len(entries)
            data, history = replay(document.to_data(sketch), entries, at)
            sketch = document.from_data(data)
        return self._opened(sketch, history, anew=not request.has("entries"))

    def new(self, request: Request) -> Reply:
        """A blank sheet."""
        return self._opened(Sketch(), History())

    def scenario(self, request: Request) -> Reply:
        """A sketch from the shelf."""
        return self._opened(shelf.load(request.text("slug")), History())

    def _opened(self, sketch: Sketch, history: History, *, anew: bool = True) -> Reply:
        self._sketch, self._history, self._hand = sketch, history, None
        self._presentation = replace(
            self._presentation, selected=None, tool=None, both="", partner=None, track=None, let_go=False
        )
        if anew:  # a sketch brought back with its history is read on from where it was
            study = replace(self._presentation.study, revealed=FIRST_REVEALED, way="sums", order=())
            self._presentation = replace(self._presentation, study=study)
        self._canvas = Canvas()
        self._revision += 1
        self._fit()
        return self._state(document=document.write(sketch))

    def save(self, request: Request) -> Reply:
        """The document as a file."""
        return {"text": document.write(self._sketch), "filename": f"{self._file_name()}.steelyard.json"}

    def _file_name(self) -> str:
        words = "".join(letter if letter.isalnum() else " " for letter in self._sketch.title.lower()).split()
        return "-".join(words)[:60].strip("-") or "sketch"

    def copy(self, request: Request) -> Reply:
        """The working as a text to paste: the revealed steps, or all of them where the answers are shown."""
        presentation = self._presentation
        study = presentation.study
        if self._sketch.answers == "shown":
            study = replace(study, revealed=EVERY_STEP)
        found = seen(self._sketch, presentation.selected, replace(study, side="working"))
        if found.read is None:
            raise SteelyardError("session.copy", "", "There is nothing to work out yet.", "Draw a body first.")
        return copied(found.read.working, request.text("as"), self._file_name())

    # How it is looked at

    def show(self, request: Request) -> Reply:
        """Change the presentation: view, board, what is selected, the tool in hand."""
        before = self._presentation
        after = shown(before, request)
        if request.has("selected") and after.selected is not None and not self._exists(after.selected):
            raise SteelyardError(
                "request.selected",
                "selected",
                f'`selected` must be the id of something on the board: got "{after.selected[:40]}".',
                "Select one of the things of the outline, or null.",
            )
        self._presentation = after
        if after.view != before.view:
            self._hand = None  # what is held stands elsewhere now
        # Once something has been drawn, the paper keeps its place under the hand that draws on it.
        untouched = after.fitted and not self._history.undo_label
        # What is let go is followed with the eyes: all of its way is in sight, and afterwards the sketch again.
        if after.fitted and (after.let_go, before.let_go) != (False, False):
            untouched = True
            if after.let_go != before.let_go:
                self._fit()
        if untouched and after.frame != before.frame and self._hand is None:
            self._fit()
        return self._state()

    def look(self, request: Request) -> Reply:
        """Move the window on the paper, or on the newtons where forces are drawn alone."""
        alone = self._canvas.alone is not None
        if request.has("fit"):
            if request.flag("fit"):
                self._canvas = self._canvas.fitted()
                if not alone:
                    self._fit()
        elif alone:
            # What is in hand hangs from a point of the sheet, which therefore stays.
            if self._hand is None:
                self._canvas = self._canvas.looked(self._presentation.frame, request)
        else:
            self._presentation = looked(self._presentation, request)
        return self._state()

    def here(self, request: Request) -> Reply:
        """What can be picked at a point, first choice first."""
        point = request.point_px("point_px")
        catch = request.size_px("catch_px") if request.has("catch_px") else hands.CATCH_PX
        selected = self._presentation.selected
        sketch = self.shown_sketch
        analysis = self._seen(sketch, selected).analysis
        others = beside(sketch, analysis) if self._presentation.view == "set-up" else ()
        drawing = self._canvas.drawn(sketch, analysis, self._presentation, self._hand, True, None, others)
        found = things_at(drawing.board.targets, point, catch, selected)
        return {"here": with_systems(found, sketch, analysis)}

    # Gestures

    def begin(self, request: Request) -> Reply:
        """Take hold of a grip, or put a tool down on the board."""
        self._hand = None
        tool = read_tool(request)
        frame, alone = self._presentation.frame, self._canvas.alone
        if alone is not None:
            self._hand = self._begun_alone(alone, request, tool)
        elif tool is None:
            self._hand = hands.take_grip(self._sketch, request, frame)
        else:
            beside_forces = self._presentation.view == "extended"
            self._hand = hands.take_tool(self._sketch, tool, request, frame, beside_forces=beside_forces)
        return self._state(preview=True)

    def _begun_alone(self, alone: Alone, request: Request, tool: str | None) -> Hand:
        """The same where forces are drawn alone: each head, and the small body, is ground of its own."""
        sketch = self._sketch
        analysis = self._seen(sketch, self._presentation.selected).analysis
        assert analysis is not None  # forces are drawn alone only where there are some
        if tool is None:
            ground = grounds.of_grip(alone, sketch, request.text("of"), request.text("grip"))
            chain = steps(sketch, analysis) if self._presentation.view == "polygon" else None
            return replace(hands.take_grip(sketch, request, ground, chain), ground=ground)
        tail_px = alone.home_px
        if self._presentation.view == "polygon":
            x, y = grounds.new_tail(sketch, analysis)
            n_per_px = alone.window.n_per_px
            tail_px = (tail_px[0] + x / n_per_px, tail_px[1] - y / n_per_px)
        ground = grounds.of_tool(alone, sketch, analysis.body, tool, request.point_px("point_px"), tail_px)
        return replace(hands.take_tool(sketch, tool, request, ground), ground=ground)

    def preview(self, request: Request) -> Reply:
        """The sketch as at begin, with the hand here."""
        hand = self._held()
        self._hand = hands.moved(hand, self._sketch, request, hand.ground or self._presentation.frame)
        return self._state(preview=True)

    def nudge(self, request: Request) -> Reply:
        """The hand moved by steps; the step is the smallest round one at this zoom."""
        hand = self._held()
        self._hand = hands.nudged(hand, self._sketch, request, hand.ground or self._presentation.frame)
        return self._state(preview=True)

    def commit(self, request: Request) -> Reply:
        """Make the last preview permanent; a tool that needs a second point stays in hand until it has one.

        With `more`, a bent bar or plate takes the point as one of its corners and stays in hand, until a
        corner is set on the last or the first one. Raises SteelyardError when what is in hand cannot be placed.
        """
        hand = self._held()
        if request.has("more") and request.flag("more"):
            self._hand = hand = hands.cornered(hand, self._sketch, self._presentation.frame)
        if hand.waits:
            return self._state(preview=True)
        self._hand = None
        if hand.change is None and hand.problem is not None:
            raise hand.problem
        if hand.change is None:
            return self._state()
        return self._commit(hand.change)

    def let_go(self) -> None:
        """Drop what is in hand: after a commit that failed there is nothing left to hold."""
        self._hand = None

    def cancel(self, request: Request) -> Reply:
        """Everything as at begin, and whatever was tried is dropped."""
        self._hand = None
        return self._state()

    def _held(self) -> Hand:
        if self._hand is None:
            raise SteelyardError("session.gesture", "", "Nothing is in hand.", "Begin a gesture first.")
        return self._hand

    # Commands and history

    def try_command(self, request: Request) -> Reply:
        """What a command would give, without doing it."""
        change = self._applied(request)
        self._hand = None
        return self._state(sketch=change.sketch, preview=True, note=change.note)

    def command(self, request: Request) -> Reply:
        """Do one command as one undo entry."""
        change = self._applied(request)
        self._hand = None
        return self._commit(change)

    def _applied(self, request: Request) -> commands.Change:
        frame = self._presentation.frame
        left, _, right, _ = frame.room
        board = {
            "selected": self._presentation.selected,
            "centre_m": list(frame.centre_m),
            "width_m": (right - left) / frame.px_per_m,
            "newtons_per_m": frame.n_per_px * frame.px_per_m,
            "beside_forces": self._presentation.view == "extended",
        }
        # What the request does not say about the board, the board says itself.
        return commands.apply(self._sketch, request.text("name"), {**board, **request.mapping("args")})

    def undo(self, request: Request) -> Reply:
        """One step back."""
        return self._stepped(-1)

    def redo(self, request: Request) -> Reply:
        """One step on again."""
        return self._stepped(+1)

    def _stepped(self, way: int) -> Reply:
        self._hand = None
        data = document.to_data(self._sketch)
        if way < 0:
            after = self._history.undo(data)
            entry = self._history.entries[self._history.done]
        else:
            after = self._history.redo(data)
            entry = self._history.entries[self._history.done - 1]
        self._sketch = document.from_data(after)
        self._revision += 1
        return self._state(entry=entry.as_data(), document=document.write(self._sketch))

    def _commit(self, change: commands.Change) -> Reply:
        before, after = document.to_data(self._sketch), document.to_data(change.sketch)
        entry = self._history.push(change.label, before, after)
        if entry is None:
            return self._state(note=change.note)
        before_told = (self._sketch.answers, self._sketch.told)
        answers_turned = (change.sketch.answers, change.sketch.told) != before_told
        self._sketch = change.sketch
        self._revision += 1
        # Solved arrows are of other lengths than those kept back, and need another room.
        if answers_turned and self._presentation.fitted:
            self._fit()
        if change.created is not None:
            self._presentation = replace(self._presentation, selected=change.created)
        return self._state(
            created=change.created,
            entry=entry.as_data(),
            document=document.write(self._sketch),
            note=change.note,
        )

    # The reply

    @property
    def shown_sketch(self) -> Sketch:
        hand = self._hand
        return self._sketch if hand is None or hand.change is None else hand.change.sketch

    def _seen(self, sketch: Sketch, selected: str | None, *, count: bool = False) -> Seen:
        return seen(sketch, selected, self._presentation.study, count=count)

    def _exists(self, wanted: str) -> bool:
        if wanted == PIVOT_ID or entity(self._sketch, wanted) is not None:
            return True
        analysis = self._seen(self._sketch, wanted).analysis
        return analysis is not None and any(each.force.id == wanted for each in analysis.readings)

    @property
    def _alone_isolated(self) -> bool:
        """Whether bodies outside the system are only its surroundings: where forces stand for what holds it."""
        return bool(self._sketch.isolated) and self._presentation.view != "set-up"

    def _fit(self) -> None:
        frame = self._presentation.frame
        analysis = self._seen(self._sketch, self._presentation.selected).analysis
        fitted = frames.fit(
            self._sketch,
            analysis,
            frame.width_px,
            frame.height_px,
            frame.covered_px,
            frame.text_scale,
            frame.touch,
            swept(self._sketch, analysis) if self._presentation.let_go else (),
            None if analysis is None or not self._alone_isolated else analysis.bodies,
        )
        self._presentation = replace(self._presentation, frame=fitted, fitted=True)

    def _state(
        self,
        *,
        sketch: Sketch | None = None,
        preview: bool = False,
        created: str | None = None,
        entry: Reply | None = None,
        document: str | None = None,
        note: str = "",
    ) -> Reply:
        shown_sketch = self.shown_sketch if sketch is None else sketch
        selected = self._presentation.selected
        if selected is not None and not preview and not self._exists(selected):
            selected = None
            self._presentation = replace(self._presentation, selected=None)
        if self._presentation.let_go and (preview or entry is not None or shown_sketch.answers == "kept"):
            self._presentation = replace(self._presentation, let_go=False)
        found = self._seen(shown_sketch, selected, count=not preview)
        analysis = found.analysis
        only = None if self._hand is None else self._hand.moving | {selected or ""}
        others = beside(shown_sketch, analysis) if self._presentation.view == "set-up" else ()
        drawing = self._canvas.drawn(shown_sketch, analysis, self._presentation, self._hand, preview, only, others)
        self._canvas = drawing.canvas
        self._presentation = replace(self._presentation, frame=drawing.frame)
        if preview:
            panels = live_panels(shown_sketch, analysis, selected)
        else:
            undo, redo = self._history.undo_label, self._history.redo_label
            panels = settled_panels(shown_sketch, analysis, selected, undo, redo)
        study = self._presentation.study
        alone = self._canvas.alone
        panels["chain"] = None if alone is None or analysis is None else chain_panel(shown_sketch, analysis)
        panels["reasoning"] = reasoning(shown_sketch, found, self._presentation, selected, preview=preview)
        panels["problem"] = (
            problem(shown_sketch, active_body(shown_sketch, selected)) if study.side == "forces" else None
        )
        panels["unsure"] = (
            uncertainty_panel(shown_sketch, analysis, selected, preview=preview) if study.side == "forces" else None
        )
        panels["track"], self._known = track_panel(
            shown_sketch, selected, self._presentation.track, self._known, preview=preview
        )
        looking = self._presentation
        panels["release"] = release_panel(shown_sketch, analysis, looking.frame, looking.view, wanted=looking.let_go)
        panels["partner"] = partner(shown_sketch, analysis, self._presentation.partner)
        panels["note"] = note
        return {
            "revision": self._revision,
            "preview": preview,
            "view": self._presentation.view,
            "selected": selected,
            "study": study.as_data(),
            "picture": picture_data(drawing.board, only),
            "strips": picture_data(drawing.strips, only, targets=False),
            "panels": panels,
            "gesture": None if self._hand is None else self._hand.as_data(),
            "created": created,
            "entry": entry,
            "document": document,
        }
