"""Linear programs of statics: is there an admissible answer, and how far do the admissible answers reach."""

from .answers import NO_BOUND, ROUNDING_TOLERANCE, Bound, End, Outcome, Program, Range, feasible, ranges
from .elimination import Column

__all__ = [
    "NO_BOUND",
    "ROUNDING_TOLERANCE",
    "Bound",
    "Column",
    "End",
    "Outcome",
    "Program",
    "Range",
    "feasible",
    "ranges",
]
