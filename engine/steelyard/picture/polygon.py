"""The view Polygon: arrows head to tail, closing when they add up to nothing; their parts along both edges."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from ..edit.ordering import ordinal
from ..geometry import Point, add
from ..model import Sketch
from ..statics import axes
from ..statics import chain as chains
from ..statics.chain import Link
from ..statics.reading import Analysis, ForceReading
from ..statics.theorems import Theorem
from ..units import write_quantity
from . import arrows, forces, grips, inset, lanes, text
from .arrows import Arrow
from .force_sheet import ForceSheet, Looking, keep_clear_of_dot, label_px, open_reach, telling
from .forces import Drawn
from .frame import Frame, Need
from .inset import Piece
from .labels import CONSTRUCTION_COST, HARD, Wanted
from .plane import Window, fitted, panned, sheet_of
from .record import Picture, Record, Run
from .text import number, plain

# Arrows that would lie on one another are drawn this far apart.
APART_PX = 20.0
START_PX = 11.0
# The parts along the edges: how far from the edge, how far apart, and in which pen.
LADDER_PX, LADDER_APART_PX, LADDER_PEN = 14.0, 13.0, 0.62
# A part shorter than this is a dot, not an arrow.
LEAST_PART_PX = 1.0
GAP_HALF_PX = 5.0
# With more forces than these, labels leave out who exerts them, and on a phone their size: the table says both.
MANY = 7
# How far an arrow without a size reaches along its line.
OPEN_PX = 100.0
HATCH_PX = 7.0


def words(sketch: Sketch, analysis: Analysis, theorem: Theorem | None) -> tuple[Piece, ...]:
    """What the lines of action add to the polygon."""
    if theorem is None:
        return (
            ("The polygon adds sizes and directions only. Where the lines run decides the turning: ", "plain"),
            ("Στ", "plain"),
            (" adds it up.", "plain"),
        )
    if theorem.kind == "parallel":
        return (
            ("All lines run the same way and never meet. Where each one runs decides the turning: ", "plain"),
            ("Στ", "plain"),
            (" adds it up.", "plain"),
        )
    return _concurrent(sketch, analysis, theorem)


def _concurrent(sketch: Sketch, analysis: Analysis, theorem: Theorem) -> tuple[Piece, ...]:
    pieces: list[Piece] = []
    if len(theorem.merged) > 1 and analysis.applied is not None:
        pieces.extend(_listed([analysis.reading(each).force.symbol for each in theorem.merged]))
        size = math.hypot(analysis.applied.fx_n, analysis.applied.fy_n)
        pieces.append((f" count as one, {write_quantity(size, 'force', sketch.settings)}. ", "plain"))
    implied = analysis.reading(theorem.implies)
    symbol = text.symbol_pieces(implied.force.symbol)
    pieces.append(("Three forces balance only if their lines meet in one point, so ", "plain"))
    pieces.extend(symbol)
    if implied.direction_deg is None:
        pieces.append((" runs through it too: that fixes its direction.", "plain"))
    else:
        angle = write_quantity(implied.direction_deg, "angle", sketch.settings)
        pieces.append((f" runs through it too. That fixes its direction: {angle}.", "plain"))
    return tuple(pieces)


def window(sketch: Sketch, analysis: Analysis, frame: Frame, before: Window | None) -> Window:
    """The window for the chain."""
    theorem = telling(analysis)
    meeting = theorem.point if theorem is not None and theorem.kind == "three-forces" else None
    small = inset.settled(sketch, analysis, frame, words(sketch, analysis, theorem), meeting)
    links = chains.chain(sketch, analysis)
    wide, high = label_px(frame)
    corners = [(0.0, 0.0), *(link.head for link in links)]
    middle = (
        (min(x for x, _ in corners) + max(x for x, _ in corners)) / 2.0,
        (min(y for _, y in corners) + max(y for _, y in corners)) / 2.0,
    )
    rungs = _rungs(links)
    unit = frame.pen
    left = (LADDER_PX + LADDER_APART_PX * (1 + max((lane for _, _, lane in rungs["y"]), default=0)) + 10.0) * unit
    below = (LADDER_PX + LADDER_APART_PX * (1 + max((lane for _, _, lane in rungs["x"]), default=0)) + 10.0) * unit
    needs: list[Need] = [((0.0, 0.0), left + 14.0, 0.6 * high, 14.0, below + 6.0)]
    for link in links:
        if link.vector is None:
            before_px, above_px, after_px, below_px = open_reach(link.reading, frame, _ringed(sketch))
            needs.append((link.tail, left + before_px, above_px, after_px, below + below_px))
            continue
        needs.append((link.head, left + 14.0, 14.0, 14.0, below + 6.0))
        half = (link.tail[0] + link.vector[0] / 2.0, link.tail[1] + link.vector[1] / 2.0)
        outward = half[0] >= middle[0]
        needs.append(
            (half, left + (8.0 if outward else 0.7 * wide), high / 2, wide if outward else 8.0, below + high / 2)
        )
    return fitted(frame, needs, before, small, middle=False)


def _rungs(links: tuple[Link, ...]) -> dict[str, list[tuple[Link, tuple[float, float], int]]]:
    """The parts along each axis, head to tail: (link, from and to in newtons, lane)."""
    found: dict[str, list[tuple[Link, tuple[float, float], int]]] = {}
    sized = [link for link in links if link.vector is not None]
    largest = max((math.hypot(*link.vector) for link in sized if link.vector is not None), default=0.0)
    for axis, letter in enumerate("xy"):
        parts = [link for link in sized if link.vector is not None and abs(link.vector[axis]) > 1e-9 * largest]
        spans = [(link.tail[axis], link.head[axis]) for link in parts]
        # In hundreds of the largest, so that the lanes are the same at every zoom.
        scaled = [(start / largest * 300.0, end / largest * 300.0) for start, end in spans]
        found[letter] = list(zip(parts, spans, lanes.of_spans(scaled), strict=True))
    return found


def draw(sketch: Sketch, analysis: Analysis, frame: Frame, window: Window, looking: Looking) -> Picture:
    """The picture of this view."""
    return _Polygon(sketch, analysis, frame, window, looking).picture()


class _Polygon:
    def __init__(self, sketch: Sketch, analysis: Analysis, frame: Frame, window: Window, looking: Looking) -> None:
        self.sketch = sketch
        self.analysis = analysis
        self.links = chains.chain(sketch, analysis)
        held = self._held_still(frame, window, looking)
        self.sheet = ForceSheet(sketch, analysis, frame, held, looking, exact=True)
        self.plane = self.sheet.plane
        self.gap = chains.gap(self.links, analysis)
        self.whole = chains.is_whole(self.links)

    def _held_still(self, frame: Frame, window: Window, looking: Looking) -> Window:
        """The window moved so that the arrow in a hand starts where it did, whatever comes before it in the chain."""
        tail = next((link.tail for link in self.links if looking.held is not None and link.id == looking.held[0]), None)
        if looking.held is None or tail is None:
            return window
        x, y = sheet_of(frame, window).to_sheet(tail)
        wanted = looking.held[1]
        return replace(panned(window, wanted[0] - x, wanted[1] - y), by_hand=window.by_hand)

    def picture(self) -> Picture:
        sheet = self.sheet
        sheet.rule()
        shifts, gap_shift = self._shifts()
        drawn = self._chain(shifts)
        self._ladders()
        self._joints(drawn, shifts)
        sheet.wanted.extend(self._labels(drawn))
        self._start()
        self._gap(gap_shift)
        theorem = telling(self.analysis)
        sheet.small_body(words(self.sketch, self.analysis, theorem), theorem)
        sheet.heads(drawn)
        for place, link in enumerate(self.links):
            arrow = drawn.arrows.get(f"{link.id}.guess") or drawn.arrows.get(link.id)
            if arrow is not None:
                name = f"{plain(link.reading.force.symbol)}, {ordinal(place + 1)} in the chain"
                sheet.held.line(link.id, "shaft", [arrow.tail, arrow.head], grips.RANK_SHAFT, name)
        return sheet.picture()

    def _shifts(self) -> tuple[dict[str, Point], Point]:
        """How far each arrow is moved aside, in px; and the gap."""
        at = self.plane.to_sheet
        stretches = {link.id: (at(link.tail), at(link.head)) for link in self.links if link.vector is not None}
        for link in self.links:
            if link.vector is None and link.reading.force.sought != "size and direction":
                along = forces.open_ways(link.reading)[0]
                x, y = at(link.tail)
                reach = OPEN_PX * self.plane.pen
                stretches[link.id] = ((x, y), (x + along[0] * reach, y - along[1] * reach))
        if self.gap != (0.0, 0.0):
            stretches[""] = (at(self.links[-1].head), at((0.0, 0.0)))
        apart = APART_PX * self.plane.pen
        found = lanes.of_stretches(list(stretches.values()))
        shifts = {
            key: lanes.aside(stretch, lane, apart)
            for (key, stretch), lane in zip(stretches.items(), found, strict=True)
        }
        return shifts, shifts.pop("", (0.0, 0.0))

    def _chain(self, shifts: dict[str, Point]) -> Drawn:
        """The arrows, at their true lengths."""
        whole = Drawn(self.sheet.field)
        n_per_px = self.plane.n_per_px
        for link in self.links:
            reading = link.reading
            x, y = shifts.get(link.id, (0.0, 0.0))
            tail = add(link.tail, (x * n_per_px, -y * n_per_px))
            self.sheet.tails[link.id] = self.plane.to_sheet(tail)
            placed = reading._replace(force=reading.force._replace(point=tail, face=None))
            sketch = _ringed(self.sketch)
            if reading.force.guess is not None:
                # In the chain the guess stands for the force: beside its answer nothing would add up.
                placed, sketch = placed._replace(vector=None, size_n=None, cannot=""), replace(sketch, answers="kept")
            part = self.sheet.arrows((placed,), sketch)
            whole.readings += part.readings
            whole.arrows.update(part.arrows)
            whole.wanted.extend(part.wanted)
        return whole

    def _labels(self, drawn: Drawn) -> list[Wanted]:
        """Beside the middle of each shaft first, since others begin at its ends; in few words where there are many."""
        found = []
        for each in drawn.wanted:
            lines = each.lines
            if len(self.links) > MANY:
                lines = lines[:1]
                if self.plane.compact:
                    symbol = text.symbol_pieces(self.analysis.reading(each.of).force.symbol)
                    lines = (text.line(lines[0].role, lines[0].size, *symbol),)
            anchors = each.anchors
            if len(anchors) == 3:
                anchors = (anchors[1], anchors[0], anchors[2])
            found.append(replace(each, lines=lines, anchors=anchors))
        return found

    def _joints(self, drawn: Drawn, shifts: dict[str, Point]) -> None:
        """Dotted lines from the corners of the chain to both edges, and between arrows moved aside."""
        n = number
        left, _, _, bottom = self.plane.room
        unit = self.plane.pen
        path = ""
        corners = [self.plane.to_sheet((0.0, 0.0))]
        for link in self.links:
            if link.vector is not None:
                corners.append(self.plane.to_sheet(link.head))
        level = axes.is_level(self.analysis.x_axis)
        for x, y in dict.fromkeys((round(x, 1), round(y, 1)) for x, y in corners) if len(corners) > 1 and level else ():
            path += f"M{n(left + LADDER_PX * unit)} {n(y)}H{n(x)}M{n(x)} {n(y)}V{n(bottom - LADDER_PX * unit)}"
        if path:
            self.sheet.add(Record("chain.parts", "path", "projection", "ground", (("d", path),)))
        joints = ""
        before: Point | None = None
        for link in self.links:
            if link.vector is None:
                continue
            dx, dy = shifts[link.id]
            x, y = self.plane.to_sheet(link.tail)
            if before is not None and math.dist(before, (dx, dy)) > 1.0:
                joints += f"M{n(x + before[0])} {n(y + before[1])}L{n(x + dx)} {n(y + dy)}"
            before = (dx, dy)
        for link in self.links:
            shift = shifts.get(link.id, (0.0, 0.0))
            if link.vector is None and shift != (0.0, 0.0):
                x, y = self.plane.to_sheet(link.tail)
                joints += f"M{n(x)} {n(y)}L{n(x + shift[0])} {n(y + shift[1])}"
        if before is not None and before != (0.0, 0.0):
            x, y = self.plane.to_sheet(self.links[-1].head)
            joints += f"M{n(x + before[0])} {n(y + before[1])}L{n(x)} {n(y)}"
        if joints:
            self.sheet.add(Record("chain.joints", "path", "projection", "construct", (("d", joints),)))

    def _ladders(self) -> None:
        """The parts along x and y, head to tail along the edges: the same sums as in the strips."""
        if not axes.is_level(self.analysis.x_axis):
            return  # the edges are level, and these sums are not
        left, _, _, bottom = self.plane.room
        unit = self.plane.pen
        for letter, rungs in _rungs(self.links).items():
            for link, (start, end), lane in rungs:
                away = (LADDER_PX + LADDER_APART_PX * (lane + 0.5)) * unit
                if letter == "x":
                    y = bottom - away
                    tail, head = (self.plane.to_sheet((start, 0.0))[0], y), (self.plane.to_sheet((end, 0.0))[0], y)
                else:
                    x = left + away
                    tail, head = (x, self.plane.to_sheet((0.0, start))[1]), (x, self.plane.to_sheet((0.0, end))[1])
                if math.dist(tail, head) < LEAST_PART_PX:
                    continue
                arrow = Arrow(tail, head, _kind(link.reading), True)
                key = f"{link.id}.part-{letter}"
                self.sheet.records.extend(arrows.straight(arrow, key, link.id, LADDER_PEN * unit, "", "construct"))
                if self.sheet.looking.can_light(link.id):
                    self.sheet.add(forces.highlight(key, link.id, arrow)._replace(layer="ground"))
                self.sheet.field.segment(tail, head, 4.5 * unit, HARD)

    def _start(self) -> None:
        """Where the chain starts, and whether it closes there."""
        if not self.links:
            return
        at = self.plane.to_sheet((0.0, 0.0))
        radius = START_PX * self.plane.pen
        keep_clear_of_dot(self.sheet.field, at, radius)
        letters = [
            link.reading.force.symbol
            for link in self.links
            if link.vector is None and link.reading.force.role == "known"
        ]
        if letters:
            said = [("give ", "plain"), *_listed(letters), (" a size, to be laid head to tail", "plain")]
        elif self.whole and self.gap == (0.0, 0.0):
            said = [("closes here" if self.plane.compact else "starts and closes here", "plain")]
        else:
            said = [("starts here", "plain")]
        name = f"the chain {_plain(said)}" if not letters else _plain(said)
        self.sheet.add(arrows.dot(at, "chain.start", "", radius, "closing", "pivot")._replace(name=name))
        content = text.line("caption", self.plane.small_px, *said)
        self.sheet.wanted.append(Wanted("chain.start-label", "", (content,), (at,), radius))

    def _gap(self, shift: Point) -> None:
        """What is missing, hatched from the chain's end to its start; never an arrow, since no force is there."""
        if self.gap == (0.0, 0.0):
            return
        end = self.plane.to_sheet(self.links[-1].head)
        home = self.plane.to_sheet((0.0, 0.0))
        start, stop = (end[0] + shift[0], end[1] + shift[1]), (home[0] + shift[0], home[1] + shift[1])
        lines = [text.line("label-plain", self.plane.label_px, *self._said())]
        still = [link.reading.force.symbol for link in self.links if link.vector is None]
        if still:
            lines.append(text.line("caption", self.plane.small_px, ("from ", "plain"), *_listed(still)))
        middle = ((start[0] + stop[0]) / 2.0, (start[1] + stop[1]) / 2.0)
        self.sheet.wanted.append(Wanted("chain.gap-label", "", tuple(lines), (middle, start), GAP_HALF_PX + 2.0))
        size = math.dist(start, stop)
        if size < 2.0:
            return
        path = _hatched(start, stop, self.plane.pen)
        name = " ".join(_plain(line.runs) for line in lines)
        self.sheet.add(Record("chain.gap", "path", "gap", "construct", (("d", path),), name=name))
        self.sheet.field.segment(start, stop, GAP_HALF_PX * self.plane.pen + 1.0, HARD)
        self.sheet.field.segment(start, stop, 14.0, CONSTRUCTION_COST)

    def _said(self) -> list[tuple[str, str] | tuple[str, str, float]]:
        if self.sketch.answers == "kept" or not self.whole:
            return [("still needed", "plain")]
        size = write_quantity(math.hypot(*self.gap), "force", self.sketch.settings)
        return [("gap", "plain"), (size, "value", 5.0)]


def _ringed(sketch: Sketch) -> Sketch:
    """Components would lie on the arrow they start from: here, what has no direction yet is a ring."""
    return replace(sketch, settings=replace(sketch.settings, unknowns_drawn="ring"))


def _listed(symbols: list[str]) -> list[Piece]:
    """Symbols as words list them: "R, B and C"."""
    pieces: list[Piece] = []
    for index, symbol in enumerate(symbols):
        if index:
            pieces.append((" and " if index == len(symbols) - 1 else ", ", "plain"))
        pieces.extend(text.symbol_pieces(symbol))
    return pieces


def _plain(pieces: Iterable[Run | tuple[str, ...]]) -> str:
    """Pieces of text as they are read aloud."""
    return "".join(piece.text if isinstance(piece, Run) else piece[0] for piece in pieces)


def _kind(reading: ForceReading) -> arrows.Kind:
    if reading.force.guess is not None:
        return "guess"
    return "known" if reading.force.role == "known" else "unknown"


def _hatched(start: Point, stop: Point, pen: float) -> str:
    """A band between two points, hatched, with a bar at each end."""
    n = number
    size = math.dist(start, stop)
    ux, uy = (stop[0] - start[0]) / size, (stop[1] - start[1]) / size
    half = GAP_HALF_PX * pen

    def at(along: float, across: float) -> str:
        return f"{n(start[0] + ux * along - uy * across)} {n(start[1] + uy * along + ux * across)}"

    path = f"M{at(0.0, -1.7 * half)}L{at(0.0, 1.7 * half)}M{at(size, -1.7 * half)}L{at(size, 1.7 * half)}"
    path += f"M{at(0.0, half)}L{at(size, half)}M{at(0.0, -half)}L{at(size, -half)}"
    step = HATCH_PX * pen
    for index in range(int(size / step)):
        low = (index + 0.5) * step
        if low + half < size:
            path += f"M{at(low, -half)}L{at(low + half, half)}"
    return path
