"""A linear program in exact fractions, to decide what rounding leaves open; slow, for a few cases only.

Written apart from the engine: each normal with its bounds is a cone, and the cone is the sum of its edges. The rest is
the textbook simplex method on a table with artificial columns, by Bland's rule.
"""

from fractions import Fraction
from itertools import product

from steelyard.program import Bound


def greatest(columns, right_side, one_way, bounds: list[Bound], form: dict[int, float]):
    """The greatest value of a form over all admissible unknowns: a Fraction, "unbounded" or "infeasible"."""
    exact = [[Fraction(part) for part in column] for column in columns]
    edges = []  # (column, value of the form)
    tied = {bound.column for bound in bounds}
    normals = {bound.normal for bound in bounds}

    def worth(index: int) -> Fraction:
        return Fraction(form.get(index, 0.0))

    for index, column in enumerate(exact):
        if index in normals:
            own = [bound for bound in bounds if bound.normal == index]
            senses = [(1, -1) if bound.factor else (0,) for bound in own]
            for signs in product(*senses):
                edge, value = list(column), worth(index)
                for bound, sign in zip(own, signs, strict=True):
                    share = sign * Fraction(bound.factor)
                    edge = [part + share * more for part, more in zip(edge, exact[bound.column], strict=True)]
                    value += share * worth(bound.column)
                edges.append((edge, value))
        elif index not in tied:
            edges.append((column, worth(index)))
            if not one_way[index]:
                edges.append(([-part for part in column], -worth(index)))
    return _simplex(edges, [Fraction(part) for part in right_side])


def _simplex(edges, right_side):
    count = len(right_side)
    table = []
    for row in range(count):
        sign = -1 if right_side[row] < 0 else 1
        artificial = [Fraction(int(row == other)) for other in range(count)]
        table.append([sign * edge[row] for edge, _ in edges] + artificial + [sign * right_side[row]])
    basis = [len(edges) + row for row in range(count)]
    first = [Fraction(0)] * len(edges) + [Fraction(-1)] * count
    _climb(table, basis, first, len(first))
    if any(table[row][-1] for row in range(count) if basis[row] >= len(edges)):
        return "infeasible"
    costs = [value for _, value in edges] + [Fraction(0)] * count
    for row in range(count):  # an artificial column left at zero must stay there
        if basis[row] >= len(edges):
            column = next((index for index in range(len(edges)) if table[row][index]), None)
            if column is not None:
                _pivot(table, basis, row, column)
    if not _climb(table, basis, costs, len(edges)):
        return "unbounded"
    return sum((costs[basis[row]] * table[row][-1] for row in range(count)), Fraction(0))


def _climb(table, basis, costs, allowed: int) -> bool:
    while True:
        entering = None
        for column in range(allowed):
            if column in basis:
                continue
            gain = costs[column] - sum(costs[basis[row]] * table[row][column] for row in range(len(table)))
            if gain > 0:
                entering = column
                break
        if entering is None:
            return True
        ratios = [(line[-1] / line[entering], basis[row], row) for row, line in enumerate(table) if line[entering] > 0]
        if not ratios:
            return False
        _pivot(table, basis, min(ratios)[2], entering)


def _pivot(table, basis, row: int, column: int) -> None:
    pivot = table[row][column]
    table[row] = [part / pivot for part in table[row]]
    for other, line in enumerate(table):
        share = line[column]
        if other != row and share:
            table[other] = [part - share * more for part, more in zip(line, table[row], strict=True)]
    basis[row] = column
