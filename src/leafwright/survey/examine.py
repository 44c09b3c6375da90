"""The readings examined: which are in doubt, what would settle it, and what fits for sure."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.job.model import Job
from leafwright.records import Held
from leafwright.survey.adjust import Survey
from leafwright.survey.doubt import Doubts, doubts
from leafwright.survey.fits import Rectangle, largest_rectangle
from leafwright.survey.further import FurtherReading, Instruments, further
from leafwright.survey.observe import observations, starting_places
from leafwright.units import Tape

#: Instruments of an inch job [m]: 1/16 in at the tape, 1/32 in with a rule (defaults of the job).
_INCH = Instruments()


@dataclass(frozen=True, slots=True)
class Examined:
    """What the readings of an opening are worth.

    Attributes:
        doubts: which readings are in doubt, how sure each is, and what the opening is without.
        further: the measurements that would decide or check most, the best first.
        largest: the largest upright rectangle that fits at 95 % confidence.
    """

    doubts: Doubts
    further: tuple[FurtherReading, ...]
    largest: Rectangle | Held


def examined(job: Job, found: Survey, *, tape: Tape) -> Examined:
    """Return the readings of a job examined.

    Args:
        job: its readings.
        found: the opening adjusted to them.
        tape: the maker's tape, for the sentences.
    """
    everything, _ = observations(job)
    used = [o for o in everything if not o.set_aside]
    places = starting_places(job, used)
    doubted = doubts(everything, places, found, tape=tape)
    return Examined(
        doubts=doubted,
        further=further(everything, places, found, doubted, instruments=_INCH, tape=tape),
        largest=largest_rectangle(found),
    )
