"""The working of joined bodies: each step says which body or group is taken, and what is known of it already."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..statics.advice import PLACE
from ..statics.structure import front_id
from . import answering, friction, isolating, limits, one_equation, replacing
from .desk import Desk
from .laws import law_equation
from .phrases import Piece
from .planner import Move, Plan
from .ranges import ranges_joined
from .record import Fact, Line, Sentence, Step
from .several import several_together
from .systems import Joined, Member, System, joined
from .systems_plan import SystemsPlan, plan_systems


def joined_steps(desk: Desk) -> Iterator[Step]:
    """The steps after the first, which isolates the system asked for and is on the page already."""
    analysis = desk.analysis
    whole = joined(desk.voice.sketch, analysis)
    slips = any(law.kind == "slip" for law in whole.laws)
    # With a contact about to slide the sums may find everything and leave its law to be seen.
    if analysis.supports.kind == "mechanism" and not slips:
        yield _free(desk)
        if not analysis.supports.balanced_as_it_stands:
            return
    made = plan_systems(whole, first_pivot=desk.options.first_pivot, order=desk.options.order)
    book = _Book(desk, whole, made)
    yield from book.steps()


class _Book:
    """One desk for each system, all with the same letters and values, and what has been said so far."""

    def __init__(self, desk: Desk, whole: Joined, made: SystemsPlan) -> None:
        self.whole = whole
        self.made = made
        self.first = desk
        self._desks: dict[int, Desk] = {}
        self.weighed = set(desk.bodies)
        self.replaced = {load.id for load in replacing.spread_loads(desk.voice.sketch, desk.analysis)}
        self.impending: set[str] = set()
        self.members: set[str] = set()
        # Where each unknown was found: the system, and whether there it is the second of a pair.
        self.found: dict[str, tuple[int, bool]] = {}

    def desk(self, index: int) -> Desk:
        """The desk of one system; the first is the one asked for."""
        if index not in self._desks:
            self._desks[index] = self._new(self.whole.systems[index])
        return self._desks[index]

    def _new(self, system: System) -> Desk:
        first = self.first
        return Desk(
            first.voice.sketch, system.analysis, first.options, bodies=system.bodies, letters=first.letters,
            values=first.values, solved=first.solved,
        )  # fmt: skip

    def steps(self) -> Iterator[Step]:
        """The moves of the plan, each system taken when it is needed, then the check and the answer."""
        for step, bodies in self._told():
            yield replace(step, bodies=bodies) if bodies else step

    def _told(self) -> Iterator[tuple[Step, tuple[str, ...]]]:
        """Each step with the bodies it is about."""
        chosen = self.desk(0)
        for step in self._members_of(self.whole.systems[0]):
            yield step, ()
        yield from ((step, chosen.bodies) for step in self._impending(0))
        several = len({move.system for move in self.made.moves if move.system >= 0} | {0}) > 1
        current = 0
        before: Move | None = None
        for move in self.made.moves:
            if move.system < 0:
                yield self._law(move), ()
            else:
                if move.system != current:
                    yield from ((step, self.desk(move.system).bodies) for step in self._take(move.system))
                current = move.system
                yield self._sum(move, before, several), self.desk(current).bodies
            self._note(move)
            before = move
        yield from ((step, chosen.bodies) for step in self._end(chosen))

    def _end(self, chosen: Desk) -> Iterator[Step]:
        keys = self.whole.systems[0].keys
        found = {key for key, name in keys.items() if name in self.made.found}
        unfound = tuple(key for key in keys if key not in found)
        plan = Plan(self.made.moves, unfound, None)
        yield from answering.combined(chosen, found)
        yield from friction.needed(chosen, plan)
        if unfound:
            yield self._left(chosen, unfound)
        elif (step := self._check(chosen)) is not None:
            yield step
        yield answering.answer(chosen, plan)

    def _check(self, chosen: Desk) -> Step | None:
        """Torques of the system asked for about a point not used yet, every term known."""
        used = {move.advice.point for move in self.made.moves if move.system == 0}
        fresh = [each for each in self.whole.systems[0].options if each.point is not None and each.point not in used]
        fresh.sort(key=lambda each: -len(each.left))
        return next((step for each in fresh if (step := answering.check(chosen, each)) is not None), None)

    def _sum(self, move: Move, before: Move | None, several: bool) -> Step:
        desk = self.desk(move.system)
        heading = desk.voice.body_name() if several else ""
        if move.together:
            by_law = {law.advice: law for law in self.whole.laws}
            sums = [(self.desk(index), each) for index, each in ((move.system, move.advice), *move.together)
                    if index >= 0]  # fmt: skip
            return several_together(sums, [by_law[each] for index, each in move.together if index < 0], move.finds)
        if move.partner is not None and before is not None:
            return one_equation.together(desk, move, self.desk(before.system), heading)
        return one_equation.single(desk, move, heading)

    def _law(self, move: Move) -> Step:
        law = move.law
        assert law is not None
        if law.kind == "member":
            member = next(each for each in self.whole.members if each.law == law)
            return friction.member_law(self.first, law, move.finds[0], _body_name(self.first, member.body))
        # The body that friction is counted on; its keys are those of all systems.
        index = next(place for place, system in enumerate(self.whole.systems) if law.force in system.parts)
        return friction.at_its_most(self.desk(index), law, move.finds[0])

    def _note(self, move: Move) -> None:
        if move.system < 0 or move.together:
            self.found.update({key: (-1, False) for key in move.finds})
            return
        system = self.whole.systems[move.system]
        forces = {reading.force.id: reading.force for reading in system.analysis.readings}
        for key in move.finds:
            self.found[system.keys[key]] = (move.system, forces[system.parts[key].force].back)

    def _take(self, index: int) -> Iterator[Step]:
        """Isolating another system, with what is known of it already; the one asked for is only named again."""
        desk, system = self.desk(index), self.whole.systems[index]
        if index == 0:
            why = self._carried(desk, system)
            yield Step("isolate", desk.voice.say(f"Back to {desk.voice.body_name()}"), tuple(why))
            return
        yield from self._members_of(system)
        why = [*self._internal(desk), *self._carried(desk, system)]
        numbers = not desk.options.symbols_only
        yield isolating.another(desk.voice, numbers=numbers, weighed=self.weighed, why=why)
        self.weighed.update(desk.bodies)
        for load in replacing.spread_loads(desk.voice.sketch, desk.analysis):
            if load.id not in self.replaced:
                self.replaced.add(load.id)
                yield replacing.replace_one(desk, load)
        yield from self._impending(index)

    def _impending(self, index: int) -> Iterator[Step]:
        desk = self.desk(index)
        fresh = {
            force_id for force_id, force in desk.voice.forces.items()
            if force.about_to and front_id(force) not in self.impending
        }  # fmt: skip
        self.impending.update(front_id(desk.voice.forces[force_id]) for force_id in fresh)
        yield from friction.impending(desk, fresh)

    def _members_of(self, system: System) -> Iterator[Step]:
        """What is said once of each two-force member that a system is joined to."""
        here = set(system.keys.values())
        for member in self.whole.members:
            if member.body not in self.members and not here.isdisjoint(member.fronts):
                self.members.add(member.body)
                yield _member_step(self.first, member)

    def _internal(self, desk: Desk) -> list[Sentence]:
        """Forces between bodies taken together vanish from the picture."""
        inside = set(desk.bodies)
        vanished = [
            support.id for support in desk.voice.sketch.supports
            if support.body in inside and support.other in inside and support.over_m is None
        ]  # fmt: skip
        names: list[Piece] = desk.voice.symbols(vanished)
        if not vanished:
            return []
        verb = "is" if len(vanished) == 1 else "are"
        fact = Fact("internal", {"supports": tuple(vanished), "bodies": desk.bodies})
        return [desk.voice.say("Taken together, ", *names, f" {verb} between them and out of the picture.", fact=fact)]

    def _carried(self, desk: Desk, system: System) -> list[Sentence]:
        """What was found before: on the other body of a pair it acts the other way round."""
        known: list[str] = []
        turned: list[str] = []
        for key, name in system.keys.items():
            if name not in self.found or key.endswith(PLACE):
                continue
            place, back = self.found[name]
            force = desk.voice.forces[system.parts[key].force]
            pulley = force.partner and any(
                support.id == force.entity and support.over_m is not None for support in desk.voice.sketch.supports
            )
            (turned if place >= 0 and back != force.back and not pulley else known).append(key)
        said = []
        if turned:
            fact = Fact("third-law", {"keys": tuple(turned), "bodies": desk.bodies})
            acts = "acts" if len(desk.voice.symbols(turned)) == 1 else "act"
            names = desk.voice.symbols(turned)
            said.append(
                desk.voice.say(
                    f"On {desk.voice.body_name()} ", *names, f" {acts} the other way round, as large as on the other "
                    "body (third law).", fact=fact,
                )
            )  # fmt: skip
        if known:
            verb = "is" if len(desk.voice.symbols(known)) == 1 else "are"
            said.append(desk.voice.say(*desk.voice.symbols(known), f" {verb} known by now."))
        return said

    def _left(self, chosen: Desk, unfound: Sequence[str]) -> Step:
        """What no sum of any of the bodies finds."""
        voice = chosen.voice
        whole = chosen.analysis.whole
        degree = 0 if whole is None else whole.degree
        fact = Fact("not-separated", {"keys": tuple(unfound), "degree": degree})
        why = voice.say(
            "No sum of one of these bodies, or of several together, leaves only one of ", *voice.symbols(unfound), ".",
            fact=fact,
        )  # fmt: skip
        system = self.whole.systems[0]
        bounds = ranges_joined(voice.sketch, chosen.analysis, system.parts, system.keys)
        said = [limits.undetermined(voice, degree), *limits.ranges_said(chosen, bounds)] if degree else []
        return Step("limit", voice.say("What cannot be found"), (why,), remarks=tuple(said))


def _free(desk: Desk) -> Step:
    """Joined bodies that can move."""
    whole = desk.analysis.whole
    assert whole is not None
    fact = Fact("joined-free", {"degree": whole.degree})
    return Step("limit", desk.voice.say("Free to move"), (desk.voice.say(whole.sentence, fact=fact),))


def _member_step(desk: Desk, member: Member) -> Step:
    name = _body_name(desk, member.body)
    first, second = (desk.letters.force(front) for front in member.fronts)
    fact = Fact("member", {"body": member.body, "forces": member.fronts, "along": member.along[0]})
    why = desk.voice.say(
        f"On {name}, light and without a load, forces act at two points only (two-force member): ", first, " and ",
        second, " run along the line of its joints, equal and opposite. Both are drawn as it is pulled.", fact=fact,
    )  # fmt: skip
    line = Line("given", law_equation(member.law, desk.letters))
    title = f"{name[:1].upper()}{name[1:]}: two forces, one line"
    known = {symbol: each for symbol in (first, second) if (each := desk.values.get(symbol)) is not None}
    return Step("theorem", desk.voice.say(title), (why,), lines=(line,), known=known)


def _body_name(desk: Desk, body_id: str) -> str:
    body = desk.voice.sketch.body(body_id)
    return f"the {body.name or body.kind.replace('-', ' ')}"
