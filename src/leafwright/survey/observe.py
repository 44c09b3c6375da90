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
from leafwright.job.model import FloorReading, Job, PlumbReading
from leafwright.records import Metres, Number, Point3

Relation = Literal["distance", "across", "up", "floor", "level", "straight", "middle"]


@dataclass(frozen=True, slots=True)
class Observation:
    """One thing known about the marks: a reading, or an assumption about the sides.

    ``across`` and ``up`` are the x and y steps from the first mark to the second, ``floor`` the
    step up to a point of the floor, ``level`` the height of the first mark over a plane,
    ``straight`` how far the first stands off the line through the other two, ``middle`` how much
    farther the first is from the second than from the third. Of planes and of points of the floor
    only the height means anything.
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
    return {"distance": "tape", "plumb": "plumb line"}.get(kind, "level")


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

    for reading in job.reading:
        by = _instrument(reading.kind, reading.by)
        sd = reading.sd.si if reading.sd is not None else sure(by)
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


def _relation_of(reading: object) -> tuple[tuple[str, ...], Relation, str, float]:
    """Return marks, relation, words and sign of a reading of any kind."""
    kind = getattr(reading, "kind", "")
    if isinstance(reading, FloorReading):
        out = f"{reading.out.text} out" if reading.out else "highest"
        name = f"floor {reading.leaf} {out}"
        return (reading.above, name), "floor", f"{name} above {reading.above}", 1.0
    if kind == "level":
        at, plane = getattr(reading, "at", ""), getattr(reading, "plane", "")
        return (at, f"plane {plane}"), "level", f"{at} from the {plane} line", 1.0
    first, second = getattr(reading, "from_", ""), getattr(reading, "to", "")
    if isinstance(reading, PlumbReading):
        outward = -1.0 if marks.side_of(second) == "left" else 1.0
        sign = {"left": -1.0, "right": 1.0, "outward": outward, "inward": -outward}
        words = f"{second} {reading.toward} of plumb from {first}"
        return (first, second), "across", words, sign[reading.toward]
    if kind == "rise":
        return (first, second), "up", f"{second} above {first}", 1.0
    return (first, second), "distance", f"{first} to {second}", 1.0


def starting_places(job: Job, used: Sequence[Observation]) -> dict[str, Point3]:
    """Return rough places of all marks [m] to start the adjustment from.

    The middle one of the widths and of the heights is taken, so that one reading that is far out
    does not decide where to start.
    """
    widths, heights = [], []
    for seen in used:
        if seen.relation != "distance" or seen.assumed:
            continue
        first, second = (marks.side_of(name) for name in seen.between)
        ends = {name[0] for name in seen.between}
        if first and second and first != second and ends != {"B", "T"}:
            widths.append(seen.quantity.value)
        elif first and first == second and ends == {"B", "T"}:
            heights.append(seen.quantity.value)
    width = statistics.median(widths) if widths else 3.0
    height = statistics.median(heights) if heights else 3.0
    corners = {"BL": (0.0, 0.0), "BR": (width, 0.0), "TL": (0.0, height), "TR": (width, height)}
    own = {mark.name: mark for mark in job.mark}
    places: dict[str, Point3] = {"BL": (0.0, 0.0, 0.0)}
    for name in (name for seen in used for name in seen.between):
        if name in own:
            mark = own[name]
            places[name] = (mark.near_x.si, mark.near_y.si, mark.z.si if mark.z else 0.0)
        elif name in corners:
            places[name] = (*corners[name], 0.0)
        elif (along := marks.side_mark(name)) is not None:
            up = along.up.si if along.up is not None else height / 2
            places[name] = (0.0 if along.side == "left" else width, up, 0.0)
        else:
            places[name] = (0.0, 0.0, 0.0)
    return places
