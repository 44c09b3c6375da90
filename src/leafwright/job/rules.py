"""Rules that no single field can hold, all reported together.

They go over the file's data as typed, not over a job that was read, so that one wrong field
does not hide what else is wrong. What a field itself may not hold is not repeated here.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterator
from datetime import date
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from leafwright import units
from leafwright.handbook.catalogue import CatalogueError
from leafwright.job import marks
from leafwright.job.looked_at import Broken, as_name, as_table, as_tables
from leafwright.job.model import GradeTable, SectionTable
from leafwright.job.positions import Path
from leafwright.job.site_rules import site_rules
from leafwright.job.steel import Steel, steel_with
from leafwright.job.words import MISSING
from leafwright.units import UnitError

_Model = TypeVar("_Model", bound=BaseModel)

_MARK_KEYS = ("from", "to", "at", "above")


def broken_rules(data: dict[str, Any]) -> list[Broken]:
    """Return everything wrong with a job as a whole, none left out.

    Args:
        data: the file's data, with what leaves share laid under each.
    """
    return [
        *_marks(data),
        *_leaf_count(data),
        *_opens_to(data),
        *_hands(data),
        *_offsets(data),
        *_floors(data),
        *site_rules(data),
        *_mid_rails(data),
        *_braces(data),
        *_sections(data),
        *_pivots(data),
        *_wind(data),
        *_saws(data),
        *_order(data),
    ]


# ---------------------------------------------------------------- rules


_FLOOR_PLAN = "x = … right of the bottom left corner, z = … toward you"
_FLOOR_WAYS = f"leaf = … and out = … along its swing; or {_FLOOR_PLAN}"

#: Pairs of marks whose line lies nearly level, so that left and right of it say nothing; and those
#: whose line crosses the opening, so that inward and outward do not.
_LEVEL_LINES = ({"BL", "BR"}, {"TL", "TR"})
_DIAGONALS = ({"BL", "TR"}, {"BR", "TL"})


def _offsets(data: dict[str, Any]) -> Iterator[Broken]:
    for i, reading in as_tables(data.get("reading")):
        if reading.get("kind") != "offset":
            continue
        at, toward = as_name(reading.get("at")), reading.get("toward")
        ends = {as_name(reading.get("from")) or "", as_name(reading.get("to")) or ""}
        if at is not None and at in ends:
            yield ("reading", i, "at"), f"{at!r} is an end of the line", "name a third mark"
        across = ends in _LEVEL_LINES or (
            all(end[1:2] == "@" for end in ends) and len({end[0] for end in ends}) == 2
        )
        if across and toward in ("left", "right"):
            found = f"{toward!r} says nothing of a line that lies level"
            yield ("reading", i, "toward"), found, 'write toward = "inward" or "outward"'
        if ends in _DIAGONALS and toward in ("inward", "outward"):
            found = f"{toward!r} says nothing of a line across the opening"
            would_do = 'write toward = "left" or "right", as seen from the face side'
            yield ("reading", i, "toward"), found, would_do


def _marks(data: dict[str, Any]) -> Iterator[Broken]:
    own: set[str] = set()
    for i, mark in as_tables(data.get("mark")):
        name = as_name(mark.get("name"))
        where: Path = ("mark", i, "name")
        if name in own:
            yield where, f"the mark {name!r} is there already", "give each mark its own name"
        elif name is not None and (name in marks.CORNERS or name.startswith(("L@", "R@"))):
            found = f"{name!r} means a mark on the opening's outline"
            yield where, found, "give a mark of your own another name"
        if name is not None:
            own.add(name)
    for i, reading in as_tables(data.get("reading")):
        for key in _MARK_KEYS:
            name = as_name(reading.get(key))
            if name is not None and name not in own:
                yield from _mark_name(("reading", i, key), name, own)
        start, end = as_name(reading.get("from")), as_name(reading.get("to"))
        if start is not None and start == end:
            yield ("reading", i, "to"), f"from {start!r} to itself", "name two different marks"
        toward = reading.get("toward")
        if reading.get("kind") == "plumb" and end in own and toward in ("inward", "outward"):
            yield (
                ("reading", i, "toward"),
                f"{toward!r} says nothing for {end!r}, which is on neither side",
                'write toward = "left" or "right", as seen from the face side',
            )


def _mark_name(where: Path, name: str, own: set[str]) -> Iterator[Broken]:
    try:
        if marks.side_of(name) is not None:
            return
    except UnitError as error:
        yield where, f"the mark {name!r}: {error}", f"a mark is one of {marks.FORMS}"
        return
    near = difflib.get_close_matches(name, [*marks.CORNERS, *sorted(own)], n=1)
    hint = f"did you mean {near[0]!r}? " if near else ""
    yield where, f"no mark is called {name!r}", f"{hint}a mark is one of {marks.FORMS}"


def _leaf_count(data: dict[str, Any]) -> Iterator[Broken]:
    leaves = as_table(data.get("doorway")).get("leaves")
    count = len(as_tables(data.get("leaf")))
    if leaves not in ("single", "pair", "unequal pair") or not 1 <= count <= 2:
        return
    want = 1 if leaves == "single" else 2
    if count != want:
        yield (
            ("doorway", "leaves"),
            f"found {leaves!r}, and {count} [[leaf]] in the file",
            f"write {want} [[leaf]] table{'s' if want > 1 else ''}, or other leaves here",
        )
    if leaves == "unequal pair" and all("width" not in t for _, t in as_tables(data.get("leaf"))):
        yield (
            ("doorway", "leaves"),
            "an unequal pair, and no leaf has a width",
            'give one leaf its width, as in width = "3\'-6"',
        )


#: Less than this lets nobody through, and more than half a turn no leaf opens [rad].
_OPENS = (math.radians(10.0), math.pi + 1e-9)


def _opens_to(data: dict[str, Any]) -> Iterator[Broken]:
    try:
        angle = units.read_angle(str(as_table(data.get("doorway"))["opens_to"]))
    except (KeyError, UnitError):
        return
    if not _OPENS[0] <= angle.si <= _OPENS[1]:
        yield (
            ("doorway", "opens_to"),
            f"the leaves cannot open to {angle.text!r}",
            'give an angle from shut, from 10° to 180°, as in opens_to = "110 deg"',
        )


def _hands(data: dict[str, Any]) -> Iterator[Broken]:
    leaves = as_tables(data.get("leaf"))
    for i, leaf in leaves:
        if "hand" not in leaf:
            yield ("leaf", i, "hand"), MISSING, "write hand = 'left' or 'right'"
    hands = [leaf.get("hand") for _, leaf in leaves]
    if len(hands) == 2 and hands[0] == hands[1] and hands[0] in ("left", "right"):
        yield (
            ("leaf", 1, "hand"),
            f"both leaves of a pair hang {hands[0]}",
            'one leaf hangs "left", the other "right"',
        )


def _floors(data: dict[str, Any]) -> Iterator[Broken]:
    hands = [leaf.get("hand") for _, leaf in as_tables(data.get("leaf"))]
    # With two leaves each side is swept; with a hand that is wrong itself, nothing is sure.
    one = hands in (["left"], ["right"]) and as_table(data.get("doorway")).get("leaves") == "single"
    for i, reading in as_tables(data.get("reading")):
        if reading.get("kind") != "floor":
            continue
        where: Path = ("reading", i)
        swung, planned = "leaf" in reading or "out" in reading, "x" in reading or "z" in reading
        if swung and planned:
            found = "found both a place along a swing and one on plan"
            yield where, found, f"keep one of the two ways: {_FLOOR_WAYS}"
        elif not swung and not planned:
            yield where, "nothing says where on the floor it is", f"write {_FLOOR_WAYS}"
        elif swung and "leaf" not in reading:
            would_do = "write leaf = 'left' or 'right': whose swing it is"
            yield (*where, "leaf"), MISSING, would_do
        elif planned and ("x" not in reading or "z" not in reading):
            lacks = "x" if "x" not in reading else "z"
            yield (*where, lacks), MISSING, f"write both: {_FLOOR_PLAN}"
        swept = reading.get("leaf")
        if one and swept in ("left", "right") and swept != hands[0]:
            yield (
                (*where, "leaf"),
                f"the floor under a {swept} leaf, and no leaf hangs {swept}",
                f"write leaf = {hands[0]!r}, or give the leaf that hand",
            )


def _mid_rails(data: dict[str, Any]) -> Iterator[Broken]:
    for i, leaf in as_tables(data.get("leaf")):
        for j, rail in as_tables(leaf.get("mid_rail")):
            if ("at" in rail) == ("height" in rail):
                found = "both at and height" if "at" in rail else "neither at nor height"
                would_do = 'write one: at = "half", or height = … above the leaf\'s bottom'
                yield ("leaf", i, "mid_rail", j), f"found {found}", would_do


def _braces(data: dict[str, Any]) -> Iterator[Broken]:
    for i, leaf in as_tables(data.get("leaf")):
        for j, brace in as_tables(leaf.get("brace")):
            pattern = brace.get("pattern")
            if brace.get("panel") == "whole leaf" and pattern in ("one diagonal", "X"):
                yield (
                    ("leaf", i, "brace", j, "panel"),
                    f"a brace of pattern {pattern!r} over the whole leaf "
                    "would run through the mid rails",
                    'only pattern = "rod" passes them; else panel = "each" or a number',
                )
            for key in ("lower_end", "upper_end", "clear_of_corner", "bead_clearance"):
                if pattern == "rod" and key in brace:
                    yield (
                        ("leaf", i, "brace", j, key),
                        "a rod ends at its tabs",
                        "end_allowance is the length of a tab; take this key out",
                    )


def _sound(model: type[_Model], value: object) -> list[_Model]:
    """Return the entries of a list that can be read, whatever is wrong with the others."""
    sound: list[_Model] = []
    for _, entry in as_tables(value):
        try:
            sound.append(model.model_validate(entry))
        except ValidationError:
            continue
    return sound


def _sections(data: dict[str, Any]) -> Iterator[Broken]:
    own = _sound(SectionTable, data.get("section"))
    found = steel_with(own, _sound(GradeTable, data.get("grade")))
    names: dict[str, set[str]] = {"section": set(), "grade": set()}
    for kind, seen in names.items():
        for i, entry in as_tables(data.get(kind)):
            name = as_name(entry.get("name"))
            if name in seen:
                where: Path = (kind, i, "name")
                yield where, f"the {kind} {name!r} is there already", "give each its own name"
            elif name is not None:
                seen.add(name)
    for i, entry in as_tables(data.get("section")):
        # A section that is not sound is told of by its own fields.
        if any(section.name == entry.get("name") for section in own):
            # Without a grade of its own, any shows whether it can be made.
            made_of = entry.get("grade", found.catalogue.grades[0].name)
            yield from _section(("section", i), "name", entry.get("name"), made_of, found)
    graded = {section.name: section.grade is not None for section in own}
    for around, asked, key in _asked(data):
        name = as_name(asked.get(key))
        # One of the maker's own has been told of above; what is left is its grade.
        if name in names["section"]:
            sound = name in graded and _is_made(name, found)
            if not sound or (graded[name] and "grade" not in asked):
                continue
        yield from _section(around, key, name, asked.get("grade"), found)


def _asked(data: dict[str, Any]) -> Iterator[tuple[Path, dict[str, Any], str]]:
    """Yield every table that names a section, and the key it does so by."""
    for i, leaf in as_tables(data.get("leaf")):
        yield ("leaf", i), leaf, "frame"
        for j, brace in as_tables(leaf.get("brace")):
            # A brace without a section is of the frame's.
            if "section" in brace:
                yield ("leaf", i, "brace", j), brace, "section"
            elif "grade" in brace:
                yield ("leaf", i, "brace", j), {"section": leaf.get("frame"), **brace}, "section"
    doorway = as_table(data.get("doorway"))
    yield ("doorway", "jamb"), as_table(doorway.get("jamb")), "section"
    yield ("doorway", "transom"), as_table(doorway.get("transom")), "section"
    for i, offcut in as_tables(data.get("offcut")):
        yield ("offcut", i), offcut, "section"
    for i, stick in as_tables(data.get("stick")):
        if "section" in stick:
            yield ("stick", i), stick, "section"
    yield ("post",), as_table(data.get("post")), "section"


def _section(where: Path, key: str, name: object, grade: object, found: Steel) -> Iterator[Broken]:
    text, of = as_name(name), as_name(grade)
    if text is None:
        return
    try:
        found.section(text, of)
    except CatalogueError as error:
        if of is not None and _is_made(text, found):
            would_do = "choose another, or give it as a [[grade]] of your own"
            yield (*where, "grade"), str(error), would_do
        else:
            would_do = "choose another, or give the size as a [[section]] of your own"
            yield (*where, key), str(error), would_do


def _is_made(text: str, found: Steel) -> bool:
    """Return whether a section is there, whatever it is made of."""
    try:
        own = any(section.name == text for section in found.own_sections)
        found.section(text, found.catalogue.grades[0].name if own else None)
    except CatalogueError:
        return False
    return True


#: What a freehand tool has none of.
_OF_A_SAW = ("mitre_left", "mitre_right", "jig")
_RIGHT_ANGLE = math.pi / 2


def _saws(data: dict[str, Any]) -> Iterator[Broken]:
    """Yield names given twice, swings of a right angle or more, and what no saw swung takes."""
    swings: list[tuple[Path, object]] = [
        (("saw", "mitre_range"), as_table(data.get("saw")).get("mitre_range"))
    ]
    names: set[str] = set()
    for i, saw in as_tables(data.get("cut_with")):
        name = as_name(saw.get("name"))
        if name is not None and name in names:
            where: Path = ("cut_with", i, "name")
            yield where, f"a saw called {name!r} is there already", "give each its own name"
        names |= {name} if name is not None else set()
        swings += [(("cut_with", i, key), saw.get(key)) for key in _OF_A_SAW[:2]]
        if saw.get("kind") in ("grinder", "hacksaw"):
            for key in _OF_A_SAW:
                if saw.get(key):
                    found = f"a {saw['kind']} is led by hand along a line and has no {key}"
                    yield ("cut_with", i, key), found, f"take {key} out"
        for way in ("high", "wide"):
            square, swung = saw.get(f"takes_{way}"), saw.get(f"takes_{way}_swung")
            try:
                less = (
                    isinstance(square, str)
                    and isinstance(swung, str)
                    and units.read_length(square).exact < units.read_length(swung).exact
                )
            except UnitError:
                continue
            if less:
                found = f"{swung!r} swung is more than {square!r} square"
                where = ("cut_with", i, f"takes_{way}_swung")
                yield where, found, "a saw takes no more when it is swung"
    for where, text in swings:
        if not isinstance(text, str):
            continue
        try:
            angle = units.read_angle(text).si
        except UnitError:
            continue
        if angle >= _RIGHT_ANGLE - 1e-9:
            found = f"{text!r} from square would lie along the piece"
            yield where, found, "count from square, where the saw reads 0 for a square cut"


#: What must be smaller than what in a pivot: keys of the mount, and why.
_NESTED = (
    ("pin_diameter", "sleeve_bore", "a pin turns inside its sleeve"),
    ("sleeve_bore", "sleeve_outside", "a sleeve needs a wall"),
    ("ball_diameter", "sleeve_outside", "a ball sits inside its sleeve"),
)


def _pivots(data: dict[str, Any]) -> Iterator[Broken]:
    for i, leaf in as_tables(data.get("leaf")):
        mount = as_table(leaf.get("mount"))
        for inner, outer, why in _NESTED:
            try:
                small = units.read_length(str(mount[inner]))
                large = units.read_length(str(mount[outer]))
            except (KeyError, UnitError):
                continue
            if small.exact >= large.exact:
                yield (
                    ("leaf", i, "mount", inner),
                    f"{inner} {small.text!r} is not smaller than {outer} {large.text!r}",
                    f"{why}: measure both again",
                )


def _wind(data: dict[str, Any]) -> Iterator[Broken]:
    wind = as_table(data.get("wind"))
    if wind and "speed" not in wind and "pressure" not in wind:
        yield (
            ("wind",),
            "[wind] says neither how fast it blows nor what it presses with",
            'give speed = "105 mph", or pressure = "20 psf"',
        )


def _order(data: dict[str, Any]) -> Iterator[Broken]:
    building = as_table(data.get("building"))
    try:
        least = units.read_temperature(str(building["least_temperature"]))
        greatest = units.read_temperature(str(building["greatest_temperature"]))
    except (KeyError, UnitError):
        pass
    else:
        if least.exact > greatest.exact:
            yield (
                ("building", "greatest_temperature"),
                f"{greatest.text!r} is below the least, {least.text!r}",
                "put the lower one in least_temperature",
            )
    for i, answer in as_tables(data.get("answer")):
        on, until = answer.get("on"), answer.get("until")
        if type(on) is date and type(until) is date and until < on:
            found = f"{until.isoformat()} is before {on.isoformat()}, the day of the answer"
            yield ("answer", i, "until"), found, "put the day it runs out, or leave it out"
