"""The hung leaf on the page: gaps to read, how it hangs, what to move, and the gaps after it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from leafwright.doorway import Doorway, LeafPlace
from leafwright.job.model import HungDrift, HungPlate
from leafwright.job.tape import tape_of
from leafwright.pipeline import Plan
from leafwright.records import Held, Verdict
from leafwright.say import Words, sentence, words_of
from leafwright.site.hung import CAUTION, Hung
from leafwright.site.pose import planned_gap
from leafwright.site.records import Site
from leafwright.units import show_length
from leafwright.web.built import hands_of, parts_of, plain_why, resplit_words
from leafwright.web.entries import (
    Read,
    Spot,
    entry_form,
    leads_to,
    leaf_of,
    others_at,
    reads_at,
)
from leafwright.web.fields import Sheet
from leafwright.web.forms import Form
from leafwright.web.turning_pictures import gaps_picture

#: Gaps are read so far in from a leaf's corners, as a share of its size [-].
IN_FROM_CORNER = 0.05

_MARKS = {Verdict.SHORT: "too little", Verdict.TIGHT: "tight", Verdict.OK: "ok"}


@dataclass(frozen=True, slots=True)
class GapRow:
    """A gap that was read, and as it will be after the moves."""

    name: str
    planned: str
    read: str
    after: str
    least: str
    verdict: str


@dataclass(frozen=True, slots=True)
class HandPage:
    """What handing over shows of one leaf: what to read, how it hangs, what to move."""

    hand: str
    hands: tuple[tuple[str, str], ...]
    caution: str
    verdict: str
    stops: tuple[str, ...]
    moves: tuple[str, ...]
    remains: tuple[str, ...]
    pose: tuple[str, ...]
    gaps: tuple[GapRow, ...]
    suspects: tuple[str, ...]
    answers: tuple[str, ...]
    missing: tuple[str, ...]
    unchecked: bool
    spots: tuple[Spot, ...]
    plumbs: tuple[Spot, ...]
    let_go: tuple[Spot, ...]
    let_go_told: tuple[str, ...]
    others: tuple[tuple[int, str, Read], ...]
    any_other: Form
    resplit: tuple[str, ...]


def hand_page(made: Plan, sheet: Sheet, asked: Mapping[str, str]) -> HandPage | str:
    """Return what handing over shows of the leaf that is asked for, or why it shows nothing."""
    hand = leaf_of(made, asked.get("leaf", ""))
    parts = parts_of(made, hand)
    if isinstance(parts, str) or not isinstance(made.doorway, Doorway):
        return parts if isinstance(parts, str) else "the doorway is held"
    place, _, one = parts
    words = words_of(made.job)
    settled = {"leaf": hand} if len(made.job.leaf) == 2 else {}
    found = one.hung
    fitted = _fitted(made, hand, found, words)
    spots = tuple(_gap_spots(made, sheet, made.doorway, place, settled, fitted, words))
    plumbs = tuple(_plumb_spots(made, sheet, place, settled, fitted))
    let_go = tuple(_let_go_spots(sheet, place, settled))
    known = found if isinstance(found, Hung) else None
    return HandPage(
        hand=hand,
        hands=hands_of(made),
        caution=CAUTION,
        verdict=_verdict(found),
        stops=tuple(f"{sentence(s.why)}. To do: {s.decide}." for s in known.stops) if known else (),
        moves=tuple(f"{sentence(m.words)}." for m in known.moves) if known else (),
        remains=known.remains if known else (),
        pose=tuple(f"{sentence(p.words)}." for p in known.pose if p.value is not None)
        if known and not known.answers
        else (),
        gaps=tuple(_gap_rows(known, words)) if known else (),
        # Where nothing may be moved, the stop has said already which reading to take again.
        suspects=tuple(f"{sentence(s)}." for s in known.suspects)
        if known and not known.stops
        else (),
        answers=_answers(known) if known else (),
        missing=tuple(f"{sentence(m)}." for m in known.missing) if known else (),
        unchecked=known is not None and known.freedom <= 0,
        spots=spots,
        plumbs=plumbs,
        let_go=let_go,
        let_go_told=tuple(f"{sentence(said)}." for said in one.let_go),
        others=others_at(sheet.data, "hung", hand, (*spots, *plumbs, *let_go)),
        any_other=_any_other(sheet, settled),
        resplit=resplit_words(made),
    )


def _answers(found: Hung) -> tuple[str, ...]:
    """Return how the leaf hangs with and without suspects, and what was left out."""
    told = [
        f"{f'Without {a.without}' if a.without else 'With every reading'}: {a.words}."
        for a in found.answers
    ]
    return (*told, *(f"{sentence(words)}." for words in found.notes))


def _verdict(found: Hung | Held | None) -> str:
    if found is None:
        return "Nothing is read of it hung yet. Begin with the gaps 1 to 4, leaf shut."
    if isinstance(found, Held):
        return f"{sentence(plain_why(found))}. It needs {'; '.join(found.needs)}."
    if found.stops and not found.moves:
        return "Move nothing yet."
    if found.stops:
        return "These moves wait: they would leave too little."
    if found.moves:
        return "Move, in this order."
    return "Nothing to move, as far as the readings tell."


def _gap_rows(found: Hung, words: Words) -> list[GapRow]:
    verdicts = {check.subject: check.verdict for check in found.checks}
    rows = []
    for gap in found.gaps:
        verdict = verdicts.get(gap.words)
        rows.append(
            GapRow(
                sentence(gap.words.removeprefix("the ")),
                words.length(gap.planned),
                words.length(gap.before),
                f"{words.length(gap.after)} ± {words.length(gap.band)}",
                "" if gap.least is None else words.length(gap.least),
                "" if verdict is None else _MARKS.get(verdict, ""),
            )
        )
    return rows


def _fitted(
    made: Plan, hand: str, found: Hung | Held | None, words: Words
) -> dict[int, tuple[str, str]]:
    """Return by number in the file what all readings say of one, and how far it is off."""
    if not isinstance(found, Hung):
        return {}
    numbers = [
        number
        for number, one in enumerate(made.job.hung)
        if not isinstance(one, HungDrift | HungPlate)
        and not one.set_aside
        and (one.leaf or made.job.leaf[0].hand) == hand
    ]
    # A plumb line is read over a height of its own, and fitted over the pins' spacing.
    gaps = {n for n in numbers if made.job.hung[n].kind == "gap"}
    if len(numbers) != len(found.readings):
        return {}
    return {
        number: (words.length(one.fitted), words.small(one.residual))
        for number, one in zip(numbers, found.readings, strict=True)
        if number in gaps
    }


# ---------------------------------------------------------------- what to read


def _gap_spots(
    made: Plan,
    sheet: Sheet,
    room: Doorway,
    place: LeafPlace,
    settled: Mapping[str, str],
    fitted: Mapping[int, tuple[str, str]],
    words: Words,
) -> list[Spot]:
    """Return the gaps to read, numbered as on the sheet for aligning."""
    tape = tape_of(made.job)
    wide, high = place.width.value, place.height.value
    near, far, low, up = (
        show_length(size, tape)
        for size in (
            IN_FROM_CORNER * wide,
            (1.0 - IN_FROM_CORNER) * wide,
            IN_FROM_CORNER * high,
            (1.0 - IN_FROM_CORNER) * high,
        )
    )
    heel, closing = planned_gap(room, place, "heel"), planned_gap(room, place, "closing")
    over = planned_gap(room, place, "top")
    rows: list[tuple[str, str, str, str, float | None]] = [
        (f"Heel gap, {low} up", "heel", low, "", heel),
        (f"Heel gap, {up} up", "heel", up, "", heel),
        (f"Closing gap, {low} up", "closing", low, "", closing),
        (f"Closing gap, {up} up", "closing", up, "", closing),
    ]
    if over is not None:
        rows += [
            (f"Top gap, {near} out from the hinge edge", "top", near, "", over),
            (f"Top gap, {far} out", "top", far, "", over),
        ]
    rows += [
        (f"Floor gap, {near} out", "floor", near, "", None),
        (f"Floor gap, {far} out", "floor", far, "", None),
        (f"Floor gap, {far} out, leaf open 45°", "floor", far, "45 deg", None),
        (f"Floor gap, {far} out, leaf open 90°", "floor", far, "90 deg", None),
    ]
    spots = []
    for number, (name, where, at, angle, should) in enumerate(rows, start=1):
        table = {"kind": "gap", "where": where, "at": at, **settled}
        if angle:
            table["angle"] = angle
        keys = ("is", "swing") if angle and place.swing == "both" else ("is",)
        form = entry_form(
            sheet, ("hung",), f"gap-{number}", name, table, keys=keys, labels={"is": name}
        )
        reads = reads_at(sheet.data, "hung", table, place.hand, fitted)
        planned = "as the floor runs" if should is None else words.length(should)
        spots.append(Spot(str(number), name, planned, form, reads))
    return spots


def _plumb_spots(
    made: Plan,
    sheet: Sheet,
    place: LeafPlace,
    settled: Mapping[str, str],
    fitted: Mapping[int, tuple[str, str]],
) -> list[Spot]:
    over = show_length(place.height.value, tape_of(made.job))
    spots = []
    for letter, direction, name in (
        ("A", "in the wall", "Upper pin off plumb, along the wall"),
        ("B", "through the wall", "Upper pin off plumb, through the wall"),
    ):
        ways = ("left", "right") if direction == "in the wall" else ("viewer", "away")
        table = {"kind": "plumb", "direction": direction, **settled}
        form = entry_form(
            sheet,
            ("hung",),
            f"plumb-{letter}",
            name,
            table,
            keys=("is", "toward", "over"),
            values={"over": over},
            labels={"is": name},
        )
        form = _with_choices(form, ways)
        wanted = {key: text for key, text in table.items() if key != "over"}
        reads = _plumbs_at(sheet, wanted, place.hand, fitted)
        spots.append(Spot(letter, name, "plumb", form, reads))
    return spots


def _with_choices(form: Form, ways: tuple[str, str]) -> Form:
    """Return a form whose way can only be one of two."""
    fields = tuple(
        replace(f, choices=tuple(c for c in f.choices if c[0] in ("", *ways)))
        if f.name.endswith(".toward")
        else f
        for f in form.fields
    )
    return replace(form, fields=fields)


def _plumbs_at(
    sheet: Sheet, wanted: Mapping[str, str], hand: str, fitted: Mapping[int, tuple[str, str]]
) -> tuple[Read, ...]:
    """Return the plumb lines read in a direction, over whatever height."""
    heights = dict.fromkeys(
        str(table.get("over", "")) for table in sheet.data.get("hung", []) if "over" in table
    )
    found: list[Read] = []
    for over in heights:
        found += reads_at(sheet.data, "hung", {**wanted, "over": over}, hand, fitted)
    return tuple(sorted(found, key=lambda read: read.number))


def _let_go_spots(sheet: Sheet, place: LeafPlace, settled: Mapping[str, str]) -> list[Spot]:
    spots = []
    ways = ("toward", "away") if place.swing == "both" else (place.swing,)
    names = {"toward": "toward you", "away": "away from you"}
    number = 0
    for way in ways:
        for angle in ("45 deg", "90 deg"):
            number += 1
            table = {"kind": "drift", "angle": angle, **settled}
            if len(ways) == 2:
                table["swing"] = way
            name = f"Let go, open {angle.replace(' deg', '°')} {names[way]}"
            form = entry_form(
                sheet,
                ("hung",),
                f"let-go-{number}",
                name,
                table,
                keys=("rests",),
                labels={"rests": f"{name}: comes to rest at"},
            )
            reads = reads_at(sheet.data, "hung", table, place.hand, {})
            spots.append(Spot("", name, "stays", form, reads))
    return spots


def _any_other(sheet: Sheet, settled: Mapping[str, str]) -> Form:
    return entry_form(
        sheet,
        ("hung",),
        "gap-other",
        "A gap anywhere, at any angle",
        {"kind": "gap", **settled},
        keys=("where", "at", "angle", "swing", "is"),
        told="Measure square to the jamb, the head or the floor.",
    )


def hand_values(made: Plan, sheet: Sheet, asked: Mapping[str, str]) -> dict[str, Any]:
    """Return handing over as a template's values, its picture among them."""
    found = hand_page(made, sheet, asked)
    if isinstance(found, str):
        return {"handed": None, "held": found}
    values: dict[str, Any] = {"handed": found, "held": ""}
    parts = parts_of(made, found.hand)
    if not isinstance(parts, str) and isinstance(made.doorway, Doorway):
        over = planned_gap(made.doorway, parts[0], "top") is not None
        mate = ""
        if len(made.doorway.leaves) == 2:
            mate = "RIGHT LEAF" if found.hand == "left" else "LEFT LEAF"
        values["drawing"] = gaps_picture(
            parts[1], over=over, mate=mate, spots=leads_to(found.spots)
        )
        values["caption"] = (
            f"Seen from the {made.job.job.seen_from}, leaf shut, gaps drawn wide. The heavy edge "
            "is the hinge edge."
        )
    return values


def hand_state(made: Plan) -> tuple[str, str]:
    """Return how the hung leaves stand, for the day's list."""
    if not isinstance(made.site, Site):
        return "none", "not worked out yet"
    told, states = [], []
    for one in made.site.leaves:
        name = "the leaf" if one.key == "leaf" else one.key
        if one.hung is None:
            states.append("none")
        elif isinstance(one.hung, Held):
            states.append("todo")
            told.append(f"{name}: {plain_why(one.hung)}")
        else:
            moves = len(one.hung.moves)
            states.append("todo" if moves or one.hung.suspects or one.hung.stops else "ok")
            said = f"{moves} to move" if moves else "nothing to move"
            told.append(f"{name}: {'move nothing yet' if one.hung.stops else said}")
            if not moves and (one.hung.missing or one.hung.freedom <= 0):
                states[-1] = "look"
    if not told:
        return "none", "nothing read of hung leaves yet"
    worst = next(s for s in ("todo", "look", "none", "ok") if s in states)
    return ("look" if worst == "none" else worst), "; ".join(told)
