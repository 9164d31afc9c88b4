"""What a contact about to slip, or a member with two forces on it, says beside the three sums."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..statics.advice import Advice
from ..statics.reading import ActingForce
from .expression import ONE, Equation, Expression, Symbol, product
from .figures import Known
from .letters import Letters
from .terms import Balance, Term


@dataclass(frozen=True, slots=True)
class Law:
    """One unknown is a factor times another: `force` = factor · `of`, both keys of sizes.

    "slip": friction at its most, the factor is the coefficient `mu`. "member": the two forces on a two-force member
    are as large as each other, the factor is one (`mu` None).
    """

    kind: Literal["slip", "member"]
    force: str
    of: str
    mu: float | None

    @property
    def factor(self) -> float:
        """What the second is multiplied by."""
        return 1.0 if self.mu is None else self.mu

    @property
    def advice(self) -> Advice:
        """The equation as one of a plan: neither about a point nor along an axis."""
        return Advice("law", (self.force, self.of), None, None, (), (self.force, self.of), ())


def laws_of(forces: Iterable[ActingForce]) -> tuple[Law, ...]:
    """f = μN for every contact that is about to slip; never for another."""
    return tuple(
        Law("slip", force.id, force.normal, force.mu)
        for force in forces
        if force.normal and force.mu and force.about_to.startswith("slip")
    )


def law_factor(law: Law, letters: Letters) -> Expression:
    """μ, or one."""
    return ONE if law.mu is None else letters.rough(law.force)


def law_equation(law: Law, letters: Letters) -> Equation:
    """f = μ N, or A = B."""
    return Equation(letters.force(law.force), product(law_factor(law, letters), letters.force(law.of)))


def as_balance(law: Law, letters: Letters) -> Balance:
    """f − μ N = 0, written like a sum of forces."""
    factor = law_factor(law, letters)
    terms = (
        Term(1, ONE, letters.force(law.force), law.force, law.force, 1.0),
        Term(-1, factor, letters.force(law.of), law.of, law.of, -law.factor),
    )
    known = {factor: Known(law.factor, "")} if isinstance(factor, Symbol) else {}
    return Balance(None, None, terms, known, ())


def with_laws(balance: Balance, laws: Sequence[Law], letters: Letters) -> Balance:
    """The equation with μN in place of f."""
    by_force = {law.force: law for law in laws}
    terms = tuple(_put(term, by_force[term.part], letters) if term.part in by_force else term for term in balance.terms)
    return replace(balance, terms=terms)


def _put(term: Term, law: Law, letters: Letters) -> Term:
    factor = product(law_factor(law, letters), term.factor)
    return replace(
        term, factor=factor, symbol=letters.force(law.of), part=law.of, force=law.of, share=term.share * law.factor
    )
