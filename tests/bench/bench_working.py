"""The written working in symbols, against sympy solving the same equations in the same run."""

import time

import sympy
from row import Row, at_most
from steelyard.model import Body, Sketch, Support, Thing
from steelyard.statics import analyse
from steelyard.working.data import as_data
from steelyard.working.desk import Options
from steelyard.working.steps import work
from trees import to_sympy

ROUNDS = 15


def rows() -> list[Row]:
    """Planning, writing and solving a three-unknown sketch in symbols, and the whole working with its words."""
    sketch = gangway()
    analysis = analyse(sketch)
    symbols = Options(symbols_only=True)
    equations, unknowns = _for_sympy(sketch)
    _check_the_same(sketch, equations, unknowns)
    # Each by itself: whatever runs in between would empty the processor's caches for the quicker one.
    ours = [_seconds(lambda: work(sketch, analysis, options=symbols)) for _ in range(ROUNDS)]
    whole = [_seconds(lambda: as_data(work(sketch, analysis))) for _ in range(ROUNDS)]
    theirs = []
    for _ in range(ROUNDS):
        sympy.core.cache.clear_cache()  # a second solve of the same equations would only be looked up
        theirs.append(_seconds(lambda: sympy.solve(equations, unknowns, dict=True)))
    milli = 1e3
    against = "sympy.solve, same equations"
    return [
        at_most("working in symbols, three unknowns", min(ours) * milli, min(theirs) * milli, 0.05, "ms", against),
        at_most("working with numbers, as data", min(whole) * milli, min(theirs) * milli, 0.2, "ms", against),
    ]


def gangway() -> Sketch:
    """A sloping gangway on a hinge and a hoist, with someone on it: R_x, R_y and T."""
    body = Body("gangway", "bar", "gangway", (0.0, 0.0), -12.0, length_m=6.0, mass_kg=120.0)
    hinge = Support("hinge", "pin", "gangway", (0.0, 0.0), "R")
    hoist = Support("hoist", "rope", "gangway", (5.2, 0.0), "T", anchor_m=(1.2, 3.2))
    walker = Thing("walker", "gangway", (4.0, 0.0), "P", "walker", mass_kg=80.0)
    return Sketch(bodies=(body,), supports=(hinge, hoist), loads=(walker,))


def _for_sympy(sketch: Sketch) -> tuple[list[sympy.Expr], list[sympy.Symbol]]:
    working = work(sketch, analyse(sketch), options=Options(symbols_only=True))
    equations = [line.equation for step in working.steps for line in step.lines if line.kind == "equation"]
    finding = [step for step in working.steps if step.finds]
    unknowns = [to_sympy(line.equation.left) for step in finding for line in step.lines if line.kind == "solved"]
    # Arms about different points are different quantities: each equation's own are told apart by its number.
    unknown_names = {symbol.name for symbol in unknowns}
    written = []
    for number, equation in enumerate(equations):
        left = to_sympy(equation.left) - to_sympy(equation.right)
        own = {s: sympy.Symbol(f"{s.name}#{number}", real=True) for s in left.free_symbols
               if s.name not in unknown_names and s.name[0] in "d"}  # fmt: skip
        written.append(left.subs(own))
    return written, unknowns


def _check_the_same(sketch: Sketch, equations: list[sympy.Expr], unknowns: list[sympy.Symbol]) -> None:
    """Both find every unknown, or the comparison means nothing."""
    found = sympy.solve(equations, unknowns, dict=True)
    assert len(found) == 1 and set(found[0]) == set(unknowns) and len(unknowns) == 3


def _seconds(call) -> float:  # type: ignore[no-untyped-def]
    start = time.perf_counter()
    call()
    return time.perf_counter() - start
