"""The readings examined: which are in doubt, what would settle it, and what fits for sure."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.job.defaults import chosen
from leafwright.job.model import Job
from leafwright.records import Held, Stop
from leafwright.survey.adjust import Survey
from leafwright.survey.doubt import Doubts, doubts
from leafwright.survey.fits import Rectangle, largest_rectangle
from leafwright.survey.further import FurtherReading, Instruments, further
from leafwright.survey.observe import observations, starting_places
from leafwright.units import Tape


def instruments(job: Job) -> Instruments:
    """Return how sure a further measurement would be: the job's default deviations [m]."""

    def sure(name: str) -> float:
        system = job.job.system
        return chosen(None, f"{name} sd", f"default/{name} sd", name, system=system).value

    return Instruments(
        tape=sure("tape"),
        long_tape=sure("long tape"),
        level=sure("level"),
        plumb=sure("plumb line"),
        rule=sure("rule"),
    )


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


def _largest(found: Survey) -> Rectangle | Held:
    """Return the largest rectangle that fits; none is told from readings that disagree."""
    if found.agreement == "does not agree":
        return Held(
            "the readings do not agree, and what fits rests on them",
            ("the wrong reading set aside, and taken again",),
        )
    return largest_rectangle(found)


def stops_examined(stops: tuple[Stop, ...], looked: Examined) -> tuple[Stop, ...]:
    """Return the survey's stops, each saying what is in doubt and what would settle it."""
    doubted = looked.doubts
    if doubted.verdict not in ("in doubt", "ambiguous"):
        return stops
    said = f"{doubted.sentence}. "
    if looked.further:
        said += f"{looked.further[0].words[:1].upper()}{looked.further[0].words[1:]}. "
    said += 'Then give the wrong reading a set_aside = "why" and write the new one beside it'
    return tuple(Stop(stop.key, stop.why, said) for stop in stops)


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
        further=further(
            everything, places, found, doubted, instruments=instruments(job), tape=tape
        ),
        largest=_largest(found),
    )
