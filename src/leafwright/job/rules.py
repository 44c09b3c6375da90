"""Rules over the whole job that no single field can hold, all reported together."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from leafwright.job import marks
from leafwright.job.model import Job, PlumbReading
from leafwright.job.positions import Path
from leafwright.job.steel import Steel, steel
from leafwright.units import UnitError

#: where, what was found, what would do
Broken = tuple[Path, str, str]


def _mark_names(reading: object) -> list[tuple[str, str]]:
    pairs = [("from", "from_"), ("to", "to"), ("at", "at"), ("above", "above")]
    return [(key, getattr(reading, name)) for key, name in pairs if hasattr(reading, name)]


def _marks(job: Job) -> Iterator[Broken]:
    own = {mark.name for mark in job.mark}
    seen: set[str] = set()
    for i, mark in enumerate(job.mark):
        if mark.name in seen or mark.name in marks.CORNERS:
            where: Path = ("mark", i, "name")
            yield where, f"the mark {mark.name!r} is there already", "give each mark its own name"
        seen.add(mark.name)
    for i, reading in enumerate(job.reading):
        for key, name in _mark_names(reading):
            where = ("reading", i, key)
            try:
                known = name in own or marks.side_of(name) is not None
            except UnitError as error:
                yield where, f"the mark {name!r}: {error}", f"a mark is one of {marks.FORMS}"
                continue
            if not known:
                near = difflib.get_close_matches(name, [*marks.CORNERS, *own], n=1)
                hint = f"did you mean {near[0]!r}? " if near else ""
                yield where, f"no mark is called {name!r}", f"{hint}a mark is one of {marks.FORMS}"
        names = [name for key, name in _mark_names(reading) if key in ("from", "to")]
        if len(names) == 2 and names[0] == names[1]:
            yield ("reading", i, "to"), f"from {names[0]} to itself", "name two different marks"
        yield from _plumb_side(i, reading, own)


def _plumb_side(i: int, reading: object, own: set[str]) -> Iterator[Broken]:
    if isinstance(reading, PlumbReading) and reading.toward in ("inward", "outward"):
        if reading.to in own:
            yield (
                ("reading", i, "toward"),
                f"{reading.toward!r} says nothing for {reading.to!r}, which is on neither side",
                'write toward = "left" or "right", as seen from the face side',
            )


def _leaves(job: Job) -> Iterator[Broken]:
    want = 1 if job.doorway.leaves == "single" else 2
    if len(job.leaf) != want:
        yield (
            ("leaf",),
            f"leaves = {job.doorway.leaves!r} and {len(job.leaf)} [[leaf]] in the file",
            f"write {want} [[leaf]] table{'s' if want > 1 else ''}",
        )
    hands = [leaf.hand for leaf in job.leaf]
    for i, hand in enumerate(hands):
        if hand is None:
            yield ("leaf", i), "no hand is given", 'write hand = "left" or hand = "right"'
    if len(hands) == 2 and None not in hands and hands[0] == hands[1]:
        yield (
            ("leaf", 1, "hand"),
            f"both leaves of a pair hang {hands[0]}",
            'one leaf hangs "left", the other "right"',
        )
    for i, leaf in enumerate(job.leaf):
        for j, brace in enumerate(leaf.brace):
            if brace.panel == "whole leaf" and brace.pattern not in ("rod", "none"):
                yield (
                    ("leaf", i, "brace", j, "panel"),
                    f"a {brace.pattern} over the whole leaf would run through the mid rails",
                    'only pattern = "rod" passes them; else panel = "each" or a number',
                )
    if job.doorway.leaves == "unequal pair" and all(leaf.width is None for leaf in job.leaf):
        yield (
            ("doorway", "leaves"),
            "an unequal pair, and no leaf has a width",
            'give one leaf its width, as in width = "3\'-6"',
        )


def _sections(job: Job, found: Steel) -> Iterator[Broken]:
    asked: list[tuple[Path, str | None, str | None]] = []
    for i, leaf in enumerate(job.leaf):
        asked.append((("leaf", i, "frame"), leaf.frame, leaf.grade))
        for j, brace in enumerate(leaf.brace):
            asked.append((("leaf", i, "brace", j, "section"), brace.section, brace.grade))
    for name, filler in (("jamb", job.doorway.jamb), ("transom", job.doorway.transom)):
        asked.append((("doorway", name, "section"), filler.section if filler else None, None))
    for i, offcut in enumerate(job.offcut):
        asked.append((("offcut", i, "section"), offcut.section, None))
    if job.post is not None:
        asked.append((("post", "section"), job.post.section, None))
    for where, text, grade in asked:
        if text is None:
            continue
        try:
            found.section(text, grade)
        except ValueError as error:
            would_do = "choose another, or give the size as a [[section]] of your own"
            yield where, str(error), would_do


def _lengths(job: Job) -> Iterator[Broken]:
    for i, reading in enumerate(job.reading):
        if reading.kind == "distance" and reading.is_.exact <= 0:
            where: Path = ("reading", i, "is")
            yield where, f"a distance of {reading.is_.text!r}", "a distance is greater than nothing"
        if reading.sd is not None and reading.sd.exact <= 0:
            yield ("reading", i, "sd"), f"{reading.sd.text!r}", "an sd is greater than nothing"
    for i, stick in enumerate(job.stock.lengths):
        if stick.exact <= 0:
            yield ("stock", "lengths", i), f"a stick of {stick.text!r}", "a length over nothing"
    for name in ("kerf", "end_trim"):
        typed = getattr(job.stock, name)
        if typed is not None and typed.exact < 0:
            yield ("stock", name), f"{typed.text!r}", "nothing or more"
    for i, offcut in enumerate(job.offcut):
        if offcut.length.exact <= 0:
            yield ("offcut", i, "length"), f"{offcut.length.text!r}", "a length over nothing"


def broken_rules(job: Job) -> list[Broken]:
    """Return everything wrong with a job as a whole, none left out."""
    return [*_marks(job), *_leaves(job), *_sections(job, steel(job)), *_lengths(job)]
