"""What the readings of a job say about the marks: one form of observation for every kind."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.job import marks
from leafwright.job.defaults import DEFAULTS, chosen
from leafwright.job.model import (
    DepthReading,
    FloorReading,
    HeadReading,
    Job,
    LevelReading,
    OffsetReading,
    PlumbReading,
    RiseReading,
)
from leafwright.records import Metres, Number, Point3

#: The mark that the survey's axes start from; it stays where it is.
ORIGIN = "BL"

Relation = Literal["distance", "across", "up", "floor", "level", "straight", "middle"]


@dataclass(frozen=True, slots=True)
class Observation:
    """One thing known about the marks: a reading, or an assumption about the sides.

    ``across`` and ``up`` are the x and y steps from the first mark to the second, ``floor`` the
    step up to a point of the floor or the head, ``level`` the height of the first mark over a
    plane, ``straight`` how far the first stands off the line through the other two, to the right
    as one looks from the second to the third, ``middle`` how much farther the first is from the
    second than from the third. Of planes and of points of the floor and the head only the height
    means anything. A reveal's depth is kept as the height of a point of its own over the origin.
    """

    key: str
    words: str
    relation: Relation
    between: tuple[str, ...]
    quantity: Quantity
    sd: Metres
    sign: Number = 1.0
    assumed: bool = False
    set_aside: str = ""


def _instrument(kind: str, by: str | None) -> str:
    if by is not None:
        return by
    usual = {"distance": "tape", "depth": "tape", "plumb": "plumb line", "offset": "rule"}
    return usual.get(kind, "level")


def observations(job: Job) -> tuple[tuple[Observation, ...], tuple[Quantity, ...]]:
    """Return what the job's readings and assumptions say, and the defaults they used."""
    system = job.job.system
    used: dict[str, Quantity] = {}
    found: list[Observation] = []
    seen: dict[str, int] = {}
    on_sides: dict[str, marks.SideMark] = {}

    def sure(name: str) -> float:
        rule = f"{name} sd" if f"{name} sd" in DEFAULTS else name
        quantity = chosen(None, rule, f"default/{rule}", rule, system=system)
        used[rule] = quantity
        return quantity.value

    size = _rough_size(job)
    for reading in job.reading:
        by = _instrument(reading.kind, reading.by)
        sd = reading.sd.si if reading.sd is not None else sure(by)
        if isinstance(reading, OffsetReading):
            between, relation, words, sign = _off_line(job, reading, size)
        else:
            between, relation, words, sign = _relation_of(reading)
        for name in between:
            if (along := marks.side_mark(name)) is not None:
                on_sides[name] = along
        seen[words] = seen.get(words, 0) + 1
        label = words if seen[words] == 1 else f"{words} (reading {seen[words]})"
        key = f"reading/{label}"
        note = f"{reading.is_.text} by {by}" + (f", {reading.who}" if reading.who else "")
        value = reading.is_.si
        quantity = chain.base("reading", key, label, value, sd=sd, note=note)
        found.append(
            Observation(
                key, label, relation, between, quantity, sd, sign, set_aside=reading.set_aside
            )
        )
    for name, along in on_sides.items():
        foot, head = ("BL", "TL") if along.side == "left" else ("BR", "TR")
        typed = job.opening.side_straightness
        straight = typed.si if typed is not None else sure("side straightness")
        found.append(
            _assumption(
                f"{along.side} side straight at {name}",
                "straight",
                (name, foot, head),
                0.0,
                straight,
            )
        )
        if along.up is None:
            words = f"{name} is half way up"
            found.append(
                _assumption(words, "middle", (name, foot, head), 0.0, 2 * sure("mark placing"))
            )
        else:
            words = f"{name} is {along.up.text} up"
            found.append(
                _assumption(words, "distance", (foot, name), along.up.si, sure("mark placing"))
            )
    return tuple(found), tuple(used.values())


def _assumption(
    words: str, relation: Relation, between: tuple[str, ...], value: float, sd: float
) -> Observation:
    quantity = chain.base("default", f"assumed/{words}", words, value, sd=sd, note="assumed")
    return Observation(quantity.key, words, relation, between, quantity, sd, assumed=True)


def floor_point(reading: FloorReading) -> str:
    """Return the name of the point of the floor that a reading is of."""
    if reading.x is not None and reading.z is not None:
        return f"floor at {reading.x.text}, {reading.z.text}"
    out = f"{reading.out.text} out" if reading.out else "highest"
    return f"floor {reading.leaf} {out}"


def head_point(reading: HeadReading) -> str:
    """Return the name of the point of the head that a reading is of."""
    return f"head at {reading.x.text}"


def depth_point(at: str) -> str:
    """Return the name of the point whose height stands for the reveal's depth at a mark."""
    return f"depth at {at}"


def _relation_of(reading: object) -> tuple[tuple[str, ...], Relation, str, float]:
    """Return marks, relation, words and sign of a reading of any kind but an offset."""
    if isinstance(reading, FloorReading):
        name = floor_point(reading)
        return (reading.above, name), "floor", f"{name} above {reading.above}", 1.0
    if isinstance(reading, HeadReading):
        name = head_point(reading)
        return (reading.above, name), "floor", f"{name} above {reading.above}", 1.0
    if isinstance(reading, DepthReading):
        return (ORIGIN, depth_point(reading.at)), "floor", f"reveal depth at {reading.at}", 1.0
    if isinstance(reading, LevelReading):
        at, plane = reading.at, reading.plane
        return (at, f"plane {plane}"), "level", f"{at} from the {plane} line", 1.0
    first, second = getattr(reading, "from_", ""), getattr(reading, "to", "")
    if isinstance(reading, PlumbReading):
        outward = -1.0 if marks.side_of(second) == "left" else 1.0
        sign = {"left": -1.0, "right": 1.0, "outward": outward, "inward": -outward}
        words = f"{second} {reading.toward} of plumb from {first}"
        return (first, second), "across", words, sign[reading.toward]
    if isinstance(reading, RiseReading):
        return (first, second), "up", f"{second} above {first}", 1.0
    return (first, second), "distance", f"{first} to {second}", 1.0


def _off_line(
    job: Job, reading: OffsetReading, size: tuple[float, float]
) -> tuple[tuple[str, ...], Relation, str, float]:
    """Return marks, relation, words and sign of an offset, the marks so that it is positive.

    ``straight`` counts to the right of the way from the second mark to the third, so the ends
    change places where ``toward`` means the other side of the line.
    """
    ends = (reading.from_, reading.to)
    start, end = (_rough_place(job, name, size) for name in ends)
    along = (end[0] - start[0], end[1] - start[1])
    right = (along[1], -along[0])
    wanted = {"left": (-1.0, 0.0), "right": (1.0, 0.0)}.get(reading.toward)
    if wanted is None:
        to_middle = (size[0] / 2 - start[0], size[1] / 2 - start[1])
        by = 1.0 if reading.toward == "inward" else -1.0
        wanted = (by * to_middle[0], by * to_middle[1])
    if right[0] * wanted[0] + right[1] * wanted[1] < 0.0:
        ends = (ends[1], ends[0])
    words = f"{reading.at} {reading.toward} of the line {reading.from_} to {reading.to}"
    return (reading.at, *ends), "straight", words, 1.0


def _rough_size(job: Job) -> tuple[float, float]:
    """Return the opening's width and height, roughly [m].

    The middle one of the widths and of the heights is taken, so that one reading that is far out
    does not decide it.
    """
    widths, heights = [], []
    for reading in job.reading:
        if reading.kind != "distance" or reading.set_aside:
            continue
        first, second = (marks.side_of(name) for name in (reading.from_, reading.to))
        ends = {name[0] for name in (reading.from_, reading.to)}
        if first and second and first != second and ends != {"B", "T"}:
            widths.append(reading.is_.si)
        elif first and first == second and ends == {"B", "T"}:
            heights.append(reading.is_.si)
    width = statistics.median(widths) if widths else 3.0
    return width, statistics.median(heights) if heights else 3.0


def _rough_place(job: Job, name: str, size: tuple[float, float]) -> Point3:
    """Return about where a mark is [m]; what is on no outline and not the job's own, at nothing."""
    width, height = size
    corners = {"BL": (0.0, 0.0), "BR": (width, 0.0), "TL": (0.0, height), "TR": (width, height)}
    for mark in job.mark:
        if mark.name == name:
            return (mark.near_x.si, mark.near_y.si, mark.z.si if mark.z else 0.0)
    if name in corners:
        return (*corners[name], 0.0)
    if (along := marks.side_mark(name)) is not None:
        up = along.up.si if along.up is not None else height / 2
        return (0.0 if along.side == "left" else width, up, 0.0)
    return (0.0, 0.0, 0.0)


def starting_places(job: Job, used: Sequence[Observation]) -> dict[str, Point3]:
    """Return rough places of all marks [m] to start the adjustment from.

    Points of the floor and the head that were read at a place stand over it from the start: only
    their height is looked for.
    """
    size = _rough_size(job)
    places: dict[str, Point3] = {ORIGIN: (0.0, 0.0, 0.0)}
    for name in (name for seen in used for name in seen.between):
        places[name] = _rough_place(job, name, size)
    for reading in job.reading:
        if isinstance(reading, FloorReading) and reading.x is not None and reading.z is not None:
            name, x, z = floor_point(reading), reading.x.si, reading.z.si
        elif isinstance(reading, HeadReading):
            name, x, z = head_point(reading), reading.x.si, 0.0
        else:
            continue
        if name in places:
            places[name] = (x, size[1] if name.startswith("head ") else 0.0, z)
    return places
