"""Rules for what is read of leaves on the bench and on site, and for what stands in their way."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from leafwright import units
from leafwright.job import marks
from leafwright.job.looked_at import Broken, as_name, as_table, as_tables
from leafwright.job.words import MISSING
from leafwright.units import UnitError

#: Which way an axis can lean, by the direction it is looked at in.
_LEANS = {"in the wall": ("left", "right"), "through the wall": ("viewer", "away")}


def site_rules(data: dict[str, Any]) -> Iterator[Broken]:
    """Yield what is wrong with obstacles and with readings of leaves, as a whole.

    Args:
        data: the file's data, with what leaves share laid under each.
    """
    yield from _obstacles(data)
    for table in ("fit_up", "hung"):
        yield from _leaves(data, table)
    yield from _fit_up(data)
    yield from _hung(data)


def _obstacles(data: dict[str, Any]) -> Iterator[Broken]:
    own: set[str] = set()
    for i, obstacle in as_tables(data.get("obstacle")):
        name = as_name(obstacle.get("name"))
        if name in own:
            found = f"the obstacle {name!r} is there already"
            yield ("obstacle", i, "name"), found, "give each obstacle its own name"
        elif name is not None:
            own.add(name)
        ends = [_lengths(obstacle.get(key)) for key in ("from", "to")]
        if ends[0] is not None and ends[0] == ends[1]:
            found = "both corners of the box are in one place"
            yield ("obstacle", i, "to"), found, "name two opposite corners of the box"


def _lengths(value: object) -> tuple[Fraction, ...] | None:
    """Return three lengths [m] exactly, or None where they cannot be read."""
    if not isinstance(value, list) or len(value) != 3:
        return None
    try:
        return tuple(units.read_length(str(one)).exact for one in value)
    except UnitError:
        return None


def _leaves(data: dict[str, Any], table: str) -> Iterator[Broken]:
    """Yield readings of a leaf that is not there, or that do not say of which."""
    leaves = as_tables(data.get("leaf"))
    hands = [leaf.get("hand") for _, leaf in leaves]
    if not 1 <= len(hands) <= 2 or any(hand not in ("left", "right") for hand in hands):
        return
    pair = as_table(data.get("doorway")).get("leaves") != "single"
    for i, reading in as_tables(data.get(table)):
        hand = reading.get("leaf")
        if hand is None and len(hands) == 2 and pair:
            yield (table, i, "leaf"), MISSING, "write leaf = 'left' or 'right': which of the two"
        elif hand in ("left", "right") and hand not in hands:
            yield (
                (table, i, "leaf"),
                f"a reading of the {hand} leaf, and no leaf hangs {hand}",
                f"write leaf = {hands[0]!r}, or give the leaf that hand",
            )


def _fit_up(data: dict[str, Any]) -> Iterator[Broken]:
    for i, reading in as_tables(data.get("fit_up")):
        kind = reading.get("kind")
        for key in ("from", "to", "at"):
            name = as_name(reading.get(key))
            if name is None:
                continue
            try:
                place = marks.leaf_mark(name)
            except UnitError as error:
                found = f"the place {name!r}: {error}"
                yield ("fit_up", i, key), found, f"a place on a leaf is one of {marks.LEAF_FORMS}"
                continue
            if place is None:
                yield ("fit_up", i, key), f"no place on a leaf is called {name!r}", _nearest(name)
            elif kind == "string" and len(place.edges) == 2:
                found = f"{name!r} is a corner, where the string is held"
                yield ("fit_up", i, key), found, 'name a place along an edge, as "hinge@mid"'
        start, end = as_name(reading.get("from")), as_name(reading.get("to"))
        if start is not None and start == end:
            yield ("fit_up", i, "to"), f"from {start!r} to itself", "name two different places"
        if kind == "height":
            yield from _height_place(i, reading)


_HEIGHT_WAYS = (
    'at = "top hinge" or another place on the outline; '
    "or x = … out from the hinge edge and y = … up from the leaf's bottom"
)


def _height_place(i: int, reading: dict[str, Any]) -> Iterator[Broken]:
    named, planned = "at" in reading, "x" in reading or "y" in reading
    if named and planned:
        found = "found both a named place and an x or y"
        yield ("fit_up", i), found, f"keep one of the two ways: {_HEIGHT_WAYS}"
    elif not named and not planned:
        yield ("fit_up", i), "nothing says where it was read", f"write {_HEIGHT_WAYS}"
    elif planned and ("x" not in reading or "y" not in reading):
        lacks = "x" if "x" not in reading else "y"
        yield ("fit_up", i, lacks), MISSING, "write both x = … and y = …"


def _nearest(name: str) -> str:
    known = [*marks.LEAF_CORNERS, "hinge@mid", "closing@mid", "bottom@mid", "top@mid"]
    edge, at, along = name.partition("@")
    if at:
        edges = difflib.get_close_matches(edge, ["hinge", "closing", "bottom", "top"], n=1)
        near = [f"{edge}@{along}" for edge in edges]
    else:
        near = difflib.get_close_matches(name, known, n=1)
    hint = f"did you mean {near[0]!r}? " if near else ""
    return f"{hint}a place on a leaf is one of {marks.LEAF_FORMS}"


def _is_shut(angle: object) -> bool:
    """Return whether an angle is none; one that cannot be read has its own error."""
    try:
        return angle is None or units.read_angle(str(angle)).exact == 0
    except UnitError:
        return True


def _hung(data: dict[str, Any]) -> Iterator[Broken]:
    for i, reading in as_tables(data.get("hung")):
        if reading.get("kind") == "gap" and reading.get("where") in ("closing", "top"):
            if not _is_shut(reading.get("angle")):
                yield (
                    ("hung", i, "angle"),
                    f"a gap at the {reading['where']} of a leaf that stands open",
                    "read it with the leaf shut; open, read the heel or the floor",
                )
            continue
        key = {"plumb": "toward", "plate": "up"}.get(as_name(reading.get("kind")) or "", "")
        direction, toward = as_name(reading.get("direction")), as_name(reading.get(key))
        if not key or direction not in _LEANS:
            continue
        ways = _LEANS[direction]
        others = {way for both in _LEANS.values() for way in both} - set(ways)
        if toward in others:
            yield (
                ("hung", i, key),
                f"{toward!r} is no {'lean' if key == 'toward' else 'edge'} {direction}",
                f"write {key} = {ways[0]!r} or {ways[1]!r}, or the other direction",
            )
