"""Linear programs of statics: is there an admissible answer, and how far do the admissible answers reach."""

from .answers import NO_BOUND, ROUNDING_TOLERANCE, Program, feasible, ranges
from .elimination import Column
from .results import Bound, End, Form, Outcome, Range

__all__ = [
    "NO_BOUND",
    "ROUNDING_TOLERANCE",
    "Bound",
    "Column",
    "End",
    "Form",
    "Outcome",
    "Program",
    "Range",
    "feasible",
    "ranges",
]
