"""The maker's tape: what it is marked in, and how finely."""

from __future__ import annotations

from fractions import Fraction

from leafwright.job.model import Job
from leafwright.units import Tape

_INCH = Fraction(127, 5000)
_MILLIMETRE = Fraction(1, 1000)


def tape_of(job: Job) -> Tape:
    """Return the tape that a job's lengths are shown by: 1/16 in or 1 mm where it is not said."""
    typed = job.job.tape
    if job.job.system == "metric":
        return Tape("mm", 1 if typed is None else max(1, round(_MILLIMETRE / typed.exact)))
    return Tape("feet-inch", 16 if typed is None else max(1, round(_INCH / typed.exact)))
