"""The problem as a textbook would state it, made from the sketch alone: nothing here is ever solved."""

from __future__ import annotations

import math
from itertools import pairwise

from ..edit import facing
from ..geometry import Point, Vector, direction, distance
from ..model import Body, Couple, Force, Load, Sketch, SpreadLoad, Support, Thing
from ..picture.given_words import point_name
from ..picture.names import TYPE_WORDS
from ..statics import holding, measuring, meeting, shape, spread
from ..statics.isolate import weighs
from ..statics.joined import connected
from ..working.data import sentence_data
from ..working.expression import Symbol
from ..working.letters import split
from ..working.phrases import Piece, is_plural, listed, sentence
from ..working.record import Sentence
from .contact_words import about_to_words
from .problem_words import Place, capital, with_article
from .words import BODY_WORDS, sense_word

Data = dict[str, object]

# How the thing that exerts a force is said to do it.
_PULLS = ("tension", "muscle")
_PUSHES = ("contact", "normal", "fluid", "pin")


def problem(sketch: Sketch, body_id: str | None) -> Data | None:
    """`{sentences: runs, text}` of the problem of a body and of all that is joined to it; None on an empty sheet."""
    if body_id is None or all(body.id != body_id for body in sketch.bodies):
        return None
    said = sentences(sketch, *(sketch.body(each) for each in connected(sketch, (body_id,))))
    return {"sentences": [sentence_data(each) for each in said], "text": " ".join(each.text for each in said)}


def sentences(sketch: Sketch, *bodies: Body) -> list[Sentence]:
    """Each body, what holds it, what loads it; then what is taken for granted, and what is asked.

    A joint between two of the bodies is told with the one that is told first.
    """
    above = sketch.settings.seen_from == "above"
    places = [Place(sketch, body) for body in bodies]
    joints: set[str] = set()
    said: list[list[Piece]] = []
    for place in places:
        said.append(_body(place, above))
        pieces = place.body.pieces
        if pieces:
            said.append(["Fixed to it ", "is " if len(pieces) == 1 else "are ", *listed(place.pieces()), "."])
        for each in meeting.supports_on(sketch, place.body.id):
            if each.id not in joints:
                said.append(_support(place, each) if each.other is None else _joint(place, each))
                joints.add(each.id)
                if each.about_to:
                    said.append(_on_the_point(place, each))
        for load in sketch.loads:
            if load.body == place.body.id and not (above and weighs(load)):
                said.append(_load(place, load))
    said.append(_granted(places, above))
    asked = _asked(places)
    if asked:
        said.append(asked)
    return [sentence(*pieces) for pieces in said]


# The body


def _body(place: Place, above: bool) -> list[Piece]:
    body = place.body
    name = body.name or BODY_WORDS[body.kind]
    ends = _two_letters(place)
    weighs: list[Piece] = [] if above else _weighs(place)
    uniform = "uniform " if weighs and body.centre_m is None else "" if weighs or above else "light "
    named = f"{uniform}{name}{ends}"
    first = f"The {named}" if name[-1:].isdigit() else capital(with_article(named))
    details: list[list[Piece]] = []
    if body.kind == "disc":
        return _disc(place, uniform, weighs, above)
    if body.kind == "bar":
        details.append([place.length(place.start, place.end), " long"])
    if weighs:
        details.append(["of ", *weighs])
    if weighs and body.centre_m is not None:
        word = place.settings.mass_centre_word
        details.append([f"with its {word} ", *place.at(shape.centre_of_mass(body))])
    pieces: list[Piece] = [first]
    if details:
        pieces += [", ", *listed(details), ","]
    return [*pieces, " ", *_lies(place, above)]


def _disc(place: Place, uniform: str, weighs: list[Piece], above: bool) -> list[Piece]:
    """A disc: its radius, its mass, its holes."""
    body = place.body
    name = body.name or BODY_WORDS[body.kind]
    what = with_article(f"{uniform}disc")
    first = capital(what) if name == "disc" else f"The {name}, {what}"
    pieces: list[Piece] = [f"{first} of radius ", place.length(place.start, _rim(body))]
    if weighs:
        pieces += [" and ", *weighs]
    if weighs and body.centre_m is not None:
        word = place.settings.mass_centre_word
        pieces += [f", with its {word} ", *place.at(shape.centre_of_mass(body))]
    end = "" if name == "disc" and (not weighs or body.centre_m is None) else ","
    holes = place.holes()
    verb = "is seen from above" if above else "stands upright"
    return [*pieces, f"{end} {verb}", *([" and has ", *listed(holes)] if holes else []), "."]


def _rim(body: Body) -> Point:
    return shape.world(body, (body.radius_m, 0.0))


def _two_letters(place: Place) -> str:
    """ " AB" where both ends of a bar have a letter."""
    if place.body.kind != "bar":
        return ""
    both = [point_name(place.sketch, end) for end in (place.start, place.end)]
    return f" {both[0]}{both[1]}" if all(len(letter) == 1 for letter in both) else ""


def _weighs(place: Place) -> list[Piece]:
    body = place.body
    if body.weight_symbol_only:
        return ["weight ", Symbol(*split(body.weight_symbol), f"{body.id}-weight")]
    if body.weight_n is not None:
        return [f"weight {place.number(body.weight_n, 'force')}"]
    return [] if body.mass_kg is None else [f"mass {place.number(body.mass_kg, 'mass')}"]


def _lies(place: Place, above: bool) -> list[Piece]:
    """How the body lies: a bar's slope, the pieces of a bent one, a plate's corners."""
    body = place.body
    if body.kind == "bar":
        return _bar_lies(place, above)
    seen = "is seen from above; it " if above else ""
    if body.kind == "plate":
        holes = place.holes()
        and_holes = ["; it has ", *listed(holes)] if holes else []
        return [f"{seen}has corners at {place.corners()}", *and_holes, "."]
    pieces = [_piece(place, edge, first, last) for edge, (first, last) in enumerate(pairwise(shape.axis(body)))]
    return [f"{seen}runs from its first end ", *listed(pieces, "then"), "."]


def _bar_lies(place: Place, above: bool) -> list[Piece]:
    turned = direction(place.body.angle_deg)
    along = turned if turned[0] > 1e-9 else (-turned[0], -turned[1])
    if abs(along[1]) <= 1e-9:
        return ["is seen from above."] if above else ["is level."]
    if abs(along[0]) <= 1e-9:
        return ["is seen from above and lies along y."] if above else ["stands upright."]
    way = "up" if along[1] > 0.0 else "down"
    lies = f"is seen from above and lies {way} the page" if above else f"slopes {way}"
    return [f"{lies} to the right at ", place.angle(place.body.id, 0, along), "."]


def _piece(place: Place, edge: int, first: Point, last: Point) -> list[Piece]:
    line = measuring.line_of(place.sketch, place.body.id, edge)
    return [place.length(first, last), " ", *place.towards(place.body.id, edge, line.along)]


# What holds it


def _support(place: Place, support: Support) -> list[Piece]:
    point = shape.world(place.body, support.place_m)
    by = f" by the {support.agent}" if support.agent else ""
    if support.kind == "pin":
        return [f"It is pinned{by} ", *place.at(point), "."]
    if support.kind == "fixed":
        return [f"It is fixed{by}, so that it can neither move nor turn, ", *place.at(point), "."]
    if support.kind in ("rope", "strut"):
        return _link(place, support, point)
    return _touches(place, support, point)


def _link(place: Place, support: Support, point: Point) -> list[Piece]:
    what = "light rope" if support.kind == "rope" else "light strut pinned at both ends"
    named = support.agent and support.agent != support.kind
    first = f"The {support.agent}, a {what}, " if named else f"A {what} "
    runs = "run" if named and is_plural(support.agent) else "runs"
    line = measuring.line_of(place.sketch, support.id)
    if place.steep(support.id):
        return [f"{first}{runs} ", *place.from_(point), " ", *place.towards(support.id, 0, line.along), "."]
    assert support.anchor_m is not None
    return [f"{first}{runs} ", *place.from_(point), " to an anchor ", *place.from_start(support.anchor_m), "."]


def _touches(place: Place, support: Support, point: Point) -> list[Piece]:
    """A roller or a contact, smooth or rough: it bears the body, is leant against, or pushes some other way."""
    agent = support.agent
    along = holding.normal(support, place.body)
    if support.kind == "roller":
        thing = f"the {agent}, a roller," if agent and agent != "roller" else "a roller"
        if support.two_way:
            way: list[Piece] = [" can push it ", *place.towards(support.id, 0, along), " and pull it the other way, "]
            return [capital(thing), *way, *place.at(point), "."]
    else:
        how = "smooth" if support.mu is None else "rough"
        adjective = "" if agent.startswith(how) else f"{how} "
        thing = f"the {adjective}{agent}" if agent else f"something {how}"
    touched: list[Piece] = [thing.rstrip(",") if support.face_m is not None else thing]
    if support.mu is not None:
        touched += [" (", Symbol(*split(support.mu_symbol)), f" = {place.number(support.mu, 'number')})"]
    where = place.at(point) if support.face_m is None else _along_face(place, support, point, along)
    if along[1] >= 1.0 - 1e-12 and not place.above:
        return ["It rests on ", *touched, " ", *where, "."]
    verb = "leans against" if abs(along[1]) <= 1e-12 and not place.above else "touches"
    if support.face_m is not None and along[1] > _BEARING and not place.above:
        verb = "rests on"
    touched[0] = thing.rstrip(",")
    return [f"It {verb} ", *touched, ", which pushes it ", *place.towards(support.id, 0, along), ", ", *where, "."]


# A face that pushes within 45° of straight up bears the body.
_BEARING = 0.7


def _along_face(place: Place, support: Support, point: Point, along: Vector) -> list[Piece]:
    """Along which edge, and how much of it: "along its whole lower edge"."""
    body = place.body
    assert support.face_m is not None
    first, last = facing.piece_of(support, body)
    edge = "length"
    if body.kind == "plate":
        level = abs(along[1]) >= abs(along[0])
        edge = f"{('lower' if along[1] > 0.0 else 'upper') if level else ('left' if along[0] > 0.0 else 'right')} edge"
    whole = math.isclose(distance(support.place_m, support.face_m), distance(first, last), rel_tol=1e-9)
    if whole:
        return [f"along its whole {edge}"]
    end = shape.world(body, support.face_m)
    along_it = "" if body.kind != "plate" else f" along its {edge}"
    return [*place.from_(point), " ", *place.to(end), along_it]


def _on_the_point(place: Place, support: Support) -> list[Piece]:
    """The impending motion, as a condition of the problem."""
    words = about_to_words(place.sketch, support, support.about_to)
    if support.kind == "rope":
        return [f"The {support.agent or 'rope'} is about to {words}."]
    by = f"On the {support.agent} it" if support.agent else "There it"
    return [f"{by} is about to {words}."]


def _joint(place: Place, support: Support) -> list[Piece]:
    """What joins a body to another one: it is pinned there, rests on it, or a rope runs from one to the other."""
    sketch, here = place.sketch, place.body.id
    other = sketch.body(meeting.partner_of(support, here) or "")
    name = f"the {other.name or BODY_WORDS[other.kind]}"
    point = meeting.place_on(sketch, support, here)
    if support.kind == "pin":
        return ["It is pinned to ", name, " ", *place.at(point), "."]
    if support.kind == "fixed":
        return ["It is joined rigidly to ", name, " ", *place.at(point), "."]
    if support.kind in ("rope", "strut"):
        what = "light rope" if support.kind == "rope" else "light strut pinned at both ends"
        named = support.agent and support.agent != support.kind
        first = f"The {support.agent}, a {what}, " if named else f"A {what} "
        runs = "run" if named and is_plural(support.agent) else "runs"
        over: list[Piece] = []
        if support.over_m is not None:
            over = ["over a small fixed pulley ", *place.from_start(support.over_m), " "]
        there = Place(sketch, other)
        far = there.spot(meeting.place_on(sketch, support, other.id), name)
        return [f"{first}{runs} ", *place.from_(point), " ", *over, "to ", *far, "."]
    rough = "" if support.mu is None else "rough "
    along = direction(support.normal_deg)
    if support.other == here:
        along = (-along[0], -along[1])
    if support.kind == "roller":
        return [f"A roller between it and {name} pushes it ", *place.towards(support.id, 0, along), ", ",
                *place.at(point), "."]  # fmt: skip
    if along[1] >= 1.0 - 1e-12 and not place.above:
        return [f"It rests on {name}{', which is rough,' if rough else ''} ", *place.at(point), "."]
    return [f"It touches {name}{', which is rough and' if rough else ', which'} pushes it ",
            *place.towards(support.id, 0, along), ", ", *place.at(point), "."]  # fmt: skip


# What loads it


def _load(place: Place, load: Load) -> list[Piece]:
    if isinstance(load, Thing):
        return _thing(place, load)
    if isinstance(load, SpreadLoad):
        return _spread(place, load)
    return _couple(place, load) if isinstance(load, Couple) else _force(place, load)


def _thing(place: Place, thing: Thing) -> list[Piece]:
    name = thing.name or "thing"
    stands = "stand" if is_plural(name) else "stands"
    if thing.mass_kg is None:
        weighs: list[Piece] = ["weight ", Symbol(*split(thing.symbol), thing.id)]
    else:
        weighs = [f"mass {place.number(thing.mass_kg, 'mass')}"]
    return [f"The {name}, of ", *weighs, f", {stands} on it ", *place.at(shape.world(place.body, thing.place_m)), "."]


def _spread(place: Place, load: SpreadLoad) -> list[Piece]:
    """Who presses which way, from where to where, and how much on each metre."""
    agent = load.agent
    start, end = (shape.world(place.body, each) for each in (load.start_m, load.end_m))
    symbol = Symbol(*split(load.spread_symbol), load.id)
    along = spread.along(load, place.body)
    way: list[Piece] = place.towards(load.id, 0, along)
    if load.acts == "weight":
        who: list[Piece] = ["Its own weight is spread "]
    else:
        one, many = ("pulls on", "pull on") if load.type in _PULLS else ("presses on", "press on")
        verb = many if agent and is_plural(agent) else one
        who = [f"The {agent} {verb} it " if agent else f"{capital(with_article('spread load'))} acts on it ", *way, " "]
    reach: list[Piece] = [*place.from_(start), " ", *place.to(end)]
    sizes: list[Piece] = [symbol if each is None else place.number(abs(each), "intensity")
                          for each in (load.start_n_per_m, load.end_n_per_m)]  # fmt: skip
    zero = [each == 0.0 for each in (load.start_n_per_m, load.end_n_per_m)]
    if load.shares[0] == load.shares[1]:
        return [*who, *reach, ", ", sizes[0], " all along."]
    first: Piece = "nothing" if zero[0] else sizes[0]
    last: Piece = "nothing" if zero[1] else sizes[1]
    return [*who, *reach, ", changing evenly from ", first, " to ", last, "."]


def _force(place: Place, force: Force) -> list[Piece]:
    agent = force.agent
    at = place.at(shape.world(place.body, force.place_m))
    # "with 320 N at A", but "with 320 N, 1.5 m from A": two numbers side by side would read as one.
    at = [" ", *at] if at[0] == "at " else [", ", *at]
    symbol = Symbol(*split(force.symbol), force.id)
    one, many = ("pulls", "pull") if force.type in _PULLS else ("pushes", "push") if force.type in _PUSHES else (
        "acts on", "act on"
    )  # fmt: skip
    verb = many if agent and is_plural(agent) else one
    who = f"The {agent} {verb} it" if agent else f"{capital(with_article(TYPE_WORDS[force.type]))} acts on it"
    if force.role == "unknown" and force.sought == "size and direction":
        return [f"{who} with a force ", symbol, " of unknown size and direction", *at, "."]
    along = direction(force.direction_deg)
    if force.role == "unknown":
        way = place.towards(force.id, 0, along) if force.one_way else _either_way(place, force)
        return [f"{who} ", *way, " with a force ", symbol, " of unknown size", *at, "."]
    size: Piece = symbol if force.size_n is None else place.number(force.size_n, "force")
    return [f"{who} ", *place.towards(force.id, 0, along), " with ", size, *at, "."]


def _either_way(place: Place, force: Force) -> list[Piece]:
    """A known line along which the force may point either way."""
    along = direction(force.direction_deg)
    way = place.way(along)
    other = place.way((-along[0], -along[1]))
    if " and " not in way:
        return [f"{way} or {other}"]
    return [f"along a line ({way}, or the other way) at ", place.angle(force.id, 0, along)]


def _couple(place: Place, couple: Couple) -> list[Piece]:
    who = f"The {couple.agent}" if couple.agent else "Something"
    several = bool(couple.agent) and is_plural(couple.agent)
    turns = "turn" if several else "turns"
    symbol = Symbol(*split(couple.symbol), couple.id)
    sense = sense_word(1 if couple.counterclockwise else -1, place.settings)
    if couple.role == "unknown":
        return [f"{who} {turns} it with a couple ", symbol, " of unknown size and sense."]
    if couple.couple_n_m is None:
        return [f"{who} {turns} it {sense} with a couple ", symbol, "."]
    return [f"{who} {turns} it {sense} with a couple of {place.number(couple.couple_n_m, 'couple')}."]


# What is taken for granted, and what is asked


def _granted(places: list[Place], above: bool) -> list[Piece]:
    several = len(places) > 1
    pieces: list[Piece] = [f"{'They are' if several else 'It is'} rigid and at rest"]
    if above:
        return [*pieces, "; no weight acts in the page."]
    bodies = {place.body.id for place in places}
    own = any(place.body.total_mass_kg is not None for place in places)
    things = any(isinstance(load, Thing) and load.mass_kg is not None and load.body in bodies
                 for load in places[0].sketch.loads)  # fmt: skip
    if own or things:
        return [*pieces, "; take ", Symbol("g"), f" = {places[0].gravity()}."]
    return [*pieces, "."]


def _asked(places: list[Place]) -> list[Piece]:
    sketch = places[0].sketch
    if sketch.question:
        return [sketch.question]
    bodies = {place.body.id for place in places}
    found: list[Piece] = []
    for support in sketch.supports:
        if support.body in bodies:
            found += _sought_of(sketch, support)
    for load in sketch.loads:
        if load.body in bodies and isinstance(load, Force | Couple) and load.role == "unknown":
            word = "couple" if isinstance(load, Couple) else "force"
            by = f" of the {load.agent}" if load.agent else ""
            found.append([f"the {word} ", Symbol(*split(load.symbol), load.id), by])
    if found:
        return ["Find ", *listed(found), "."]
    loaded = any(load.body in bodies for load in sketch.loads)
    return ["Do these forces balance?"] if loaded else []


_SOUGHT = {"rope": "tension", "strut": "force", "roller": "push", "contact": "push", "pin": "force", "fixed": "force"}


def _sought_of(sketch: Sketch, support: Support) -> list[Piece]:
    joint = "in" if support.kind in ("rope", "strut") else "of"
    agent = support.agent
    if support.other is not None and support.kind not in ("rope", "strut"):
        one, other = (sketch.body(each).name or "body" for each in (support.body, support.other))
        joint, agent = "between", f"{one} and the {other}"
    who = f" {joint} the {agent or support.kind.replace('fixed', 'fixed end')}"
    found: list[Piece] = [[f"the {_SOUGHT[support.kind]} ", Symbol(*split(support.symbol), support.id), who]]
    if support.mu is not None:
        found.append(["the friction ", Symbol(*split(support.friction_symbol), f"{support.id}-friction"), who])
    if support.kind == "fixed":
        found.append(["the couple ", Symbol(*split(support.couple_symbol), f"{support.id}-couple"), who])
    return found
