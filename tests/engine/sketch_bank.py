"""Fifty sketches for the written working: every kind of support, load and outcome, small enough to check by hand.

Each entry says what it is there for. All are our own, with round numbers.
"""

from __future__ import annotations

from dataclasses import replace

from steelyard.model import Body, Couple, Force, NamedPoint, Settings, Sketch, Support, Thing


def bar(length_m: float = 6.0, angle_deg: float = 0.0, **more: object) -> Body:
    return replace(Body("plank", "bar", "plank", (0.0, 0.0), angle_deg, length_m=length_m), **more)  # type: ignore[arg-type]


def pin(place: float = 0.0, name: str = "hinge", symbol: str = "R", **more: object) -> Support:
    return Support(name, "pin", "plank", (place, 0.0), symbol, agent="hinge", **more)  # type: ignore[arg-type]


def roller(
    place: float, name: str = "roller", symbol: str = "N", normal_deg: float = 90.0, two_way: bool = False
) -> Support:
    return Support(
        name, "roller", "plank", (place, 0.0), symbol, agent="trestle", normal_deg=normal_deg, two_way=two_way
    )


def contact(place: float, name: str = "sill", symbol: str = "C", normal_deg: float = 90.0) -> Support:
    return Support(name, "contact", "plank", (place, 0.0), symbol, agent="sill", normal_deg=normal_deg)


def rope(place: float, anchor: tuple[float, float], name: str = "rope", symbol: str = "T") -> Support:
    return Support(name, "rope", "plank", (place, 0.0), symbol, agent="winch", anchor_m=anchor)


def strut(place: float, anchor: tuple[float, float], name: str = "strut", symbol: str = "S", **more: object) -> Support:
    return Support(name, "strut", "plank", (place, 0.0), symbol, agent="strut", anchor_m=anchor, **more)  # type: ignore[arg-type]


def fixed(place: float = 0.0, **more: object) -> Support:
    return Support("wall", "fixed", "plank", (place, 0.0), "R", agent="wall", **more)  # type: ignore[arg-type]


def push(
    place: float, size: float | None = 500.0, direction: float = 270.0, name: str = "push", symbol: str = "P"
) -> Force:
    return Force(name, "plank", (place, 0.0), symbol, agent="hook", size_n=size, direction_deg=direction)


def couple(value: float | None = 300.0, name: str = "turn", symbol: str = "Q", **more: object) -> Couple:
    return Couple(name, "plank", (1.0, 0.0), symbol, agent="crank", couple_n_m=value, **more)  # type: ignore[arg-type]


def thing(place: float, mass: float | None = 80.0, name: str = "crate", symbol: str = "K") -> Thing:
    return Thing(name, "plank", (place, 0.0), symbol, "crate", mass_kg=mass)


def sketch(
    body: Body, supports: tuple[Support, ...], loads: tuple[Force | Couple | Thing, ...] = (), **more: object
) -> Sketch:
    return Sketch(bodies=(body,), supports=supports, loads=loads, **more)  # type: ignore[arg-type]


_heavy = bar(mass_kg=120.0)
_light = bar()
_letter = bar(weight_symbol_only=True)
_plate = Body(
    "plank", "plate", "hatch", (1.0, 1.0), 20.0, points_m=((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0)), mass_kg=40.0
)
_bent = Body("plank", "bent-bar", "davit", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (0.0, 3.0), (2.0, 3.0)), mass_kg=60.0)

BANK: dict[str, Sketch] = {
    # Three unknowns, one answer.
    "pin and rope": sketch(_heavy, (pin(), rope(5.0, (1.0, 3.0)))),
    "pin and rope, sloping bar": sketch(
        bar(angle_deg=-12.0, mass_kg=120.0), (pin(), rope(5.2, (1.2, 3.2))), (thing(4.0),)
    ),
    "pin and roller": sketch(_heavy, (pin(), roller(6.0)), (push(2.0),)),
    "pin and sloping roller": sketch(_heavy, (pin(), roller(6.0, normal_deg=120.0)), (push(2.0),)),
    "pin and wall roller on a leaning bar": sketch(
        bar(angle_deg=60.0, mass_kg=18.0), (pin(), roller(6.0, normal_deg=180.0)), (thing(3.0),)
    ),
    "overhang, roller pulls": sketch(_light, (pin(2.0), roller(0.0, two_way=True)), (push(6.0),)),
    "overhang, two-way roller drawn against": sketch(
        _light, (pin(2.0), replace(roller(0.0, two_way=True), drawn_deg=180.0)), (push(6.0),)
    ),
    "pin and strut below": sketch(_heavy, (pin(), strut(4.0, (0.0, -3.0)))),
    "pin and strut drawn pushing": sketch(_heavy, (pin(), strut(4.0, (0.0, -3.0), drawn_deg=180.0))),
    "pin drawn into the lower left": sketch(_heavy, (pin(drawn_deg=225.0), rope(5.0, (1.0, 3.0)))),
    "fixed end, tip load": sketch(_light, (fixed(),), (push(6.0),)),
    "fixed end, slanting load and weight": sketch(_heavy, (fixed(),), (push(4.0, direction=300.0),)),
    "fixed end, couple only": sketch(_light, (fixed(),), (couple(),)),
    "fixed end, drawn down": sketch(_heavy, (fixed(drawn_deg=315.0),)),
    "three ropes' worth of struts": sketch(
        _heavy,
        (strut(0.0, (0.0, 3.0), "s1", "A"), strut(3.0, (5.0, 3.0), "s2", "B"), strut(6.0, (6.0, 3.0), "s3", "C")),
    ),
    "three slanting struts": sketch(
        _heavy,
        (strut(0.0, (-2.0, 3.0), "s1", "A"), strut(3.0, (5.0, 3.0), "s2", "B"), strut(6.0, (4.0, -3.0), "s3", "C")),
    ),
    "two parallel ropes and a strut": sketch(
        _heavy, (rope(0.0, (1.0, 3.0), "r1", "T_1"), rope(6.0, (7.0, 3.0), "r2", "T_2"), strut(3.0, (8.0, 0.0)))
    ),
    "roller, roller, sideways stop": sketch(
        _heavy,
        (roller(0.0, "r1", "A"), roller(6.0, "r2", "B"), contact(6.0, normal_deg=180.0)),
        (push(3.0, 100.0, 330.0),),
    ),
    "couple between pin and roller": sketch(_light, (pin(), roller(6.0, two_way=True)), (couple(),)),
    "clockwise couple known as a size": sketch(
        _light, (pin(), roller(6.0, two_way=True)), (couple(counterclockwise=False, value=-250.0),)
    ),
    "hatch on a hinge and a stay": sketch(
        _plate,
        (
            Support("hinge", "pin", "plank", (0.0, 0.0), "R", agent="hinge"),
            Support("stay", "strut", "plank", (3.0, 2.0), "S", anchor_m=(1.0, 5.0)),
        ),
    ),
    "davit, foot fixed": sketch(
        _bent, (fixed(),), (Force("hook", "plank", (2.0, 3.0), "P", agent="boat", size_n=900.0),)
    ),
    "davit, foot pinned, stayed": sketch(
        _bent,
        (pin(), Support("stay", "rope", "plank", (0.0, 3.0), "T", agent="stay", anchor_m=(-2.0, 0.0))),
        (Force("hook", "plank", (2.0, 3.0), "P", agent="boat", size_n=900.0),),
    ),
    "unknown push balances": sketch(
        _heavy, (pin(),), (Force("hand", "plank", (6.0, 0.0), "H", agent="hand", role="unknown", direction_deg=60.0),)
    ),
    "unknown couple balances": sketch(
        _heavy,
        (pin(),),
        (Couple("crank", "plank", (0.0, 0.0), "Q", agent="crank", role="unknown", counterclockwise=False),),
    ),
    "free force and a rope": sketch(
        _heavy,
        (rope(6.0, (4.0, 4.0)),),
        (
            Force(
                "hand",
                "plank",
                (0.0, 0.0),
                "H",
                agent="hand",
                role="unknown",
                sought="size and direction",
                direction_deg=135.0,
            ),
        ),
    ),
    "reaction with no part along x": sketch(_heavy, (pin(), rope(6.0, (6.0, 4.0)))),
    "weight against a lift, numbers decide": sketch(
        _heavy, (pin(), roller(6.0, two_way=True)), (push(4.0, 900.0, 90.0),)
    ),
    "lift against a weight, the other way": sketch(
        _heavy, (pin(), roller(6.0, two_way=True)), (push(2.0, 2900.0, 90.0),)
    ),
    "fixed end, weight against a couple": sketch(_heavy, (fixed(),), (couple(9000.0),)),
    "midway load, equal reactions": sketch(_light, (pin(), roller(6.0)), (push(3.0, 1000.0),)),
    "forces that share a letter": sketch(
        _light, (pin(), roller(6.0)), (push(1.0, 100.0, name="p1", symbol="F"), push(4.0, 200.0, name="p2", symbol="F"))
    ),
    "names with indices": sketch(_heavy, (pin(symbol="R_A"), roller(6.0, symbol="R_B")), (push(2.0, symbol="F_1"),)),
    "a force named like an arm": sketch(_heavy, (pin(symbol="d"), roller(6.0, symbol="x")), (push(2.0, symbol="r"),)),
    # Letters.
    "letters, pin and rope": sketch(
        bar(angle_deg=-12.0, weight_symbol_only=True), (pin(), rope(5.2, (1.2, 3.2))), (thing(4.0, None),)
    ),
    "letters, fixed end": sketch(_letter, (fixed(),)),
    "letters, depends on sizes": sketch(_letter, (pin(2.0), roller(6.0, two_way=True)), (push(0.0, None),)),
    "letters, pin and roller": sketch(_letter, (pin(), roller(6.0)), (push(2.0, None),)),
    # Nearly degenerate, or far crossings.
    "nearly parallel struts": sketch(
        _heavy,
        (strut(0.0, (0.0, 3.0), "s1", "A"), strut(3.0, (3.02, 3.0), "s2", "B"), strut(6.0, (6.05, 3.0), "s3", "C")),
    ),
    "nearly level rope": sketch(_heavy, (pin(), rope(6.0, (0.0, 0.2)))),
    # Not held, held too well, cannot be held.
    "one pin only": sketch(_heavy, (pin(),)),
    "balanced on a pin": sketch(_heavy, (pin(3.0),)),
    "two rollers, pushed": sketch(_heavy, (roller(0.0, "r1", "A"), roller(6.0, "r2", "B")), (push(3.0, 100.0, 330.0),)),
    "two rollers, not pushed": sketch(_heavy, (roller(0.0, "r1", "A"), roller(6.0, "r2", "B"))),
    "one rope": sketch(_heavy, (rope(2.0, (2.0, 3.0)),)),
    "lines through one point": sketch(_heavy, (pin(), rope(6.0, (0.0, 0.0)))),
    "three parallel rollers": sketch(
        _heavy, (roller(0.0, "r1", "A"), roller(3.0, "r2", "B"), roller(6.0, "r3", "C")), (push(1.0, 100.0, 300.0),)
    ),
    "pin and two rollers": sketch(_heavy, (pin(), roller(3.0, "r1", "A"), roller(6.0, "r2", "B"))),
    "two pins": sketch(_heavy, (pin(), pin(6.0, "hinge2", "Q")), (push(2.0),)),
    "fixed at one end, roller at the other": sketch(_heavy, (fixed(), roller(6.0))),
    "rope that would have to push": sketch(_light, (pin(), rope(5.0, (5.0, 3.0))), (push(4.0, direction=90.0),)),
    "roller that would have to pull": sketch(_light, (pin(2.0), roller(0.0)), (push(6.0),)),
    "no unknown, balanced": sketch(
        _light,
        (),
        (push(0.0, 200.0, 90.0, "a", "A"), push(6.0, 200.0, 90.0, "b", "B"), push(3.0, 400.0, 270.0, "c", "C")),
    ),
    "no unknown, not balanced": sketch(
        _light, (), (push(1.0, 200.0, 60.0, "a", "A"), push(5.0, 250.0, 250.0, "b", "B"))
    ),
    # Settings.
    "clockwise positive, moments, comma": sketch(
        _heavy,
        (pin(), rope(5.0, (1.0, 3.0))),
        (push(2.0),),
        points=(NamedPoint("a", "A", (0.0, 0.0), "plank"),),
        settings=Settings(
            counterclockwise_positive=False,
            turning_word="moment",
            pivot_word="moment centre",
            decimal_comma=True,
            counterclockwise_word="anticlockwise",
            significant_figures=4,
        ),
    ),
    "feet and pounds": sketch(
        _heavy, (pin(), rope(5.0, (1.0, 3.0))), (push(2.0),), settings=Settings(units="us", g_m_s2=9.80665)
    ),
    "seen from above": sketch(
        _heavy, (pin(), rope(5.0, (1.0, 3.0))), (push(3.0),), settings=Settings(seen_from="above")
    ),
}
