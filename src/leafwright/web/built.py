"""The fit-up pad on the page: where to read a leaf, what was read, and which corner to push."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from leafwright.doorway import Doorway, LeafPlace
from leafwright.job.model import FitUpHeight
from leafwright.job.on_site import FitUp as FitUpTable
from leafwright.job.readings import Hand
from leafwright.leaf import Leaf
from leafwright.pipeline import Plan
from leafwright.records import Check, Held, Verdict
from leafwright.say import Words, sentence, words_of
from leafwright.site.as_built import AsBuilt, Resplit
from leafwright.site.fit_up import FitUp
from leafwright.site.out_of_shape import Limits
from leafwright.site.packers import Packing
from leafwright.site.pad import CORNERS
from leafwright.site.records import LeafOnSite, Site
from leafwright.site.squares import Compared
from leafwright.site.wished import wished_of
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
from leafwright.web.turning_pictures import pad_picture, shape_picture

STAGES = (("tacked", "Tacked"), ("welded", "Welded"))

_VERDICTS = {
    Verdict.SHORT: ("short", "out"),
    Verdict.TIGHT: ("tight", "cannot tell"),
    Verdict.ASK: ("ask", "not read"),
    Verdict.OK: ("ok", "ok"),
}


@dataclass(frozen=True, slots=True)
class ItemRow:
    """One way of being out of shape, against its limit."""

    verdict: str
    word: str
    told: str
    limit: str


@dataclass(frozen=True, slots=True)
class PadPage:
    """What the pad shows of one leaf at one stage."""

    hand: str
    hands: tuple[tuple[str, str], ...]
    stage: str
    stages: tuple[tuple[str, str], ...]
    standing: str
    state: str
    verdict: str
    pushes: tuple[str, ...]
    suspects: tuple[str, ...]
    answers: tuple[str, ...]
    items: tuple[ItemRow, ...]
    missing: tuple[str, ...]
    unchecked: bool
    spots: tuple[Spot, ...]
    others: tuple[tuple[int, str, Read], ...]
    any_other: Form
    floor: Form
    floor_reads: tuple[tuple[int, str, Read], ...]
    packing: tuple[str, ...]
    as_built: tuple[tuple[str, str], ...]
    resplit: tuple[str, ...]
    shape: Markup | None
    shape_told: str


def pad_page(made: Plan, sheet: Sheet, asked: Mapping[str, str]) -> PadPage | str:
    """Return what the pad shows of the leaf that is asked for, or why it shows nothing."""
    hand = leaf_of(made, asked.get("leaf", ""))
    stage = "welded" if asked.get("when") == "welded" else "tacked"
    parts = parts_of(made, hand)
    if isinstance(parts, str):
        return parts
    place, leaf, one = parts
    words = words_of(made.job)
    found = one.welded if stage == "welded" else one.tacked
    shape, told = _shape(leaf, found)
    settled = {"stage": stage} | ({"leaf": hand} if len(made.job.leaf) == 2 else {})
    fitted = _fitted(made, hand, stage, found, words)
    spots = tuple(_spots(sheet, place, words, settled, hand, fitted, wished_of(made.job).limits()))
    all_others = others_at(sheet.data, "fit_up", hand, spots)
    floor = [one for one in all_others if one[1].startswith("floor ")]
    others = [
        one
        for one in others_at(sheet.data, "fit_up", hand, spots, stage)
        if not one[1].startswith("floor ")
    ]
    known = found if isinstance(found, FitUp) else None
    return PadPage(
        hand=hand,
        hands=hands_of(made),
        stage=stage,
        stages=STAGES,
        standing=_standing(made, hand),
        state=_state(found),
        verdict=verdict_words(found, stage),
        pushes=tuple(f"{sentence(p.words)}." for p in known.pushes) if known else (),
        suspects=tuple(f"{sentence(s)}." for s in known.suspects) if known else (),
        answers=answers_told(known) if known else (),
        items=tuple(_items(known, words)) if known else (),
        missing=tuple(f"{sentence(m)}." for m in known.missing) if known else (),
        unchecked=known is not None and known.freedom <= 0,
        spots=spots,
        others=tuple(others),
        any_other=_any_other(sheet, settled),
        floor=_floor_form(sheet, settled),
        floor_reads=tuple(floor),
        packing=_packing(one.packing),
        as_built=_as_built(one.as_built, words),
        resplit=resplit_words(made, hand),
        shape=shape,
        shape_told=told,
    )


def answers_told(found: FitUp) -> tuple[str, ...]:
    """Return what the shape comes to with and without suspects, and what no push cures."""
    told = [
        f"{f'Without {a.without}' if a.without else 'With every reading'}: {a.words}."
        for a in found.answers
    ]
    return (*told, *(f"{sentence(words)}." for words in found.past_pushing))


def parts_of(made: Plan, hand: str) -> tuple[LeafPlace, Leaf, LeafOnSite] | str:
    """Return a leaf's place, design and work on site, or why they are not there."""
    if isinstance(made.site, Held):
        return made.site.why
    if isinstance(made.doorway, Held):
        return made.doorway.why
    for place, leaf in zip(made.doorway.leaves, made.leaves, strict=False):
        if place.hand != hand:
            continue
        if isinstance(leaf, Held):
            return leaf.why
        for one in made.site.leaves:
            if one.key == place.key:
                return place, leaf, one
    return "no leaf hangs there"


def hands_of(made: Plan) -> tuple[tuple[str, str], ...]:
    """Return the leaves to choose from, by side; nothing where there is one."""
    if len(made.job.leaf) < 2:
        return ()
    return tuple((hand, f"{hand.capitalize()} leaf") for hand in ("left", "right"))


def _standing(made: Plan, hand: str) -> str:
    return (
        f"It lies face up: the side that is seen from the {made.job.job.seen_from}. Stand at its "
        f"bottom edge and look toward its top: the hinge edge is on your {hand}. Read outside "
        "corner to outside corner. Equal diagonals alone prove little."
    )


def _state(found: FitUp | Held | None) -> str:
    if found is None:
        return "none"
    if isinstance(found, Held) or found.pushes or found.suspects:
        return "todo"
    verdicts = {check.verdict for check in found.checks}
    if Verdict.SHORT in verdicts:
        return "todo"
    return "look" if verdicts & {Verdict.TIGHT, Verdict.ASK} or found.freedom <= 0 else "ok"


def plain_why(held: Held) -> str:
    """Return why readings cannot be used, on one line."""
    first, *rest = held.why.splitlines()
    return f"{first} {'; '.join(rest)}" if rest else first


def verdict_words(found: FitUp | Held | None, stage: str) -> str:
    """Return how a leaf on the pad stands, in a sentence."""
    if found is None:
        return "Nothing is read yet. Begin with 1 and 2, then the sides."
    if isinstance(found, Held):
        return f"{sentence(plain_why(found))}. It needs {'; '.join(found.needs)}."
    verdicts = {check.verdict for check in found.checks}
    if found.doubt.holds:
        return "The readings do not agree: push nothing before that is settled."
    if Verdict.SHORT in verdicts:
        if stage == "welded":
            return "Out of shape as welded: see whether it still clears, before it is hung."
        return "Out of shape: put it right before it is welded."
    if Verdict.TIGHT in verdicts:
        return "The readings cannot tell whether it is in shape: read again, more closely."
    if Verdict.ASK in verdicts:
        return "Not known yet: what was read is right, and the rest is still to be read."
    return "In shape." if stage == "welded" else "In shape: weld it."


def _items(found: FitUp, words: Words) -> list[ItemRow]:
    checks = {check.key.rpartition("/")[2]: check for check in found.checks}
    rows = []
    for item in found.items:
        check = checks.get(item.key)
        verdict, word = _VERDICTS[check.verdict] if check else ("ok", "ok")
        rows.append(ItemRow(verdict, word, sentence(item.words), _limit(check, words)))
    return sorted(rows, key=lambda row: ("short", "tight", "ok", "ask").index(row.verdict))


def _limit(check: Check | None, words: Words) -> str:
    return "" if check is None or check.available is None else words.length(check.available)


def _shape(leaf: Leaf, found: FitUp | Held | None) -> tuple[Markup | None, str]:
    if not isinstance(found, FitUp):
        return None, ""
    svg, times = shape_picture(leaf, found)
    told = "Dashed: as it should be. Heavy: as read"
    return svg, f"{told}, every error drawn {times} times as large." if times > 1 else f"{told}."


# ---------------------------------------------------------------- places and readings


def _spots(
    sheet: Sheet,
    place: LeafPlace,
    words: Words,
    settled: Mapping[str, str],
    hand: str,
    fitted: Mapping[int, tuple[str, str]],
    limits: Limits,
) -> list[Spot]:
    """Return the places to read, numbered as on the sheet for the pad."""
    wide, high = words.length(place.on_sheet), words.length(place.height_on_sheet)
    across = words.length(math.hypot(place.on_sheet.value, place.height_on_sheet.value))
    size = f" ± {words.length(limits.size)}"
    bow = f"straight within {words.length(limits.bow)}"
    alike = f"{across}, 1 and 2 within {words.length(limits.diagonals)}"
    low, up = ("bottom hinge", "bottom closing"), ("top hinge", "top closing")
    distances = (
        ("Diagonal, bottom hinge to top closing", low[0], up[1], alike),
        ("Diagonal, bottom closing to top hinge", low[1], up[0], alike),
        ("Width at the bottom", *low, wide + size),
        ("Width half way up", "hinge@mid", "closing@mid", wide + size),
        ("Width at the top", *up, wide + size),
        ("Height at the hinge edge", low[0], up[0], high + size),
        ("Height at the closing edge", low[1], up[1], high + size),
    )
    rows: list[tuple[str, dict[str, str], tuple[str, ...], str]] = [
        (name, {"kind": "distance", "from": start, "to": end}, ("is",), should)
        for name, start, end, should in distances
    ]
    rows += [
        (
            f"String along the {edge} edge, at its middle",
            {"kind": "string", "at": f"{edge}@mid"},
            ("is", "toward"),
            bow,
        )
        for edge in ("hinge", "closing")
    ]
    flat = f"in one plane within {words.length(limits.twist)}"
    rows += [
        (f"Height of the {name} corner", {"kind": "height", "at": name}, ("is",), flat)
        for name in CORNERS
    ]
    spots = []
    for number, (name, where, keys, should) in enumerate(rows, start=1):
        table = {**where, **settled}
        form = entry_form(
            sheet, ("fit_up",), f"pad-{number}", name, table, keys=keys, labels={"is": name}
        )
        reads = reads_at(sheet.data, "fit_up", table, hand, fitted)
        spots.append(Spot(str(number), name, should, form, reads))
    return spots


def _fitted(
    made: Plan, hand: str, stage: str, found: FitUp | Held | None, words: Words
) -> dict[int, tuple[str, str]]:
    """Return by number in the file what all readings say of one, and how far it is off."""
    if not isinstance(found, FitUp):
        return {}
    numbers = [
        number
        for number, one in enumerate(made.job.fit_up)
        if _counts(one) and _is_hand(made, one.leaf, hand) and one.stage == stage
    ]
    return _beside(numbers, found.readings, words)


def _beside(
    numbers: list[int], readings: tuple[Compared, ...], words: Words
) -> dict[int, tuple[str, str]]:
    if len(numbers) != len(readings):
        return {}
    return {
        number: (words.length(one.fitted), words.small(one.residual))
        for number, one in zip(numbers, readings, strict=True)
    }


def _counts(one: FitUpTable) -> bool:
    """Return whether a reading tells of the leaf's shape: not of the floor, nor set aside."""
    return not one.set_aside and not (isinstance(one, FitUpHeight) and one.at not in CORNERS)


def _is_hand(made: Plan, leaf: Hand | None, hand: str) -> bool:
    return (leaf or made.job.leaf[0].hand) == hand


def _any_other(sheet: Sheet, settled: Mapping[str, str]) -> Form:
    return entry_form(
        sheet,
        ("fit_up",),
        "pad-other",
        "Any other distance on the leaf",
        {"kind": "distance", **settled},
        keys=("from", "to", "is", "by"),
        told="Between any two places: a corner, or a place along an edge, as hinge@84in. One more "
        "than is needed checks the rest.",
    )


def _floor_form(sheet: Sheet, settled: Mapping[str, str]) -> Form:
    return entry_form(
        sheet,
        ("fit_up",),
        "pad-floor",
        "Height of the floor under a stand",
        {"kind": "height", **settled},
        keys=("x", "y", "is"),
        told="Where the stand goes, as the leaf will lie on it; all heights over one level line.",
    )


# ---------------------------------------------------------------- packers, as built


def _packing(found: Packing | Held | None) -> tuple[str, ...]:
    if found is None:
        return ()
    if isinstance(found, Held):
        return (f"{sentence(found.why)}. It needs {'; '.join(found.needs)}.",)
    return tuple(words if words.endswith(".") else f"{words}." for words in found.words)


def _as_built(found: AsBuilt | None, words: Words) -> tuple[tuple[str, str], ...]:
    if found is None:
        return ()
    return tuple(
        (sentence(one.name), "not known" if one.value is None else words.length(one.value))
        for one in (*found.widths, *found.heights)
    )


def resplit_words(made: Plan, hand: str = "") -> tuple[str, ...]:
    """Return how wide the second leaf is to be made, once the first one is; its hand alone."""
    if not isinstance(made.site, Site) or made.site.resplit is None:
        return ()
    if hand and any(one.hand == hand and one.as_built is not None for one in made.site.leaves):
        return ()
    split: Resplit | Held = made.site.resplit
    if isinstance(split, Held):
        return (f"{sentence(split.why)}. It needs {'; '.join(split.needs)}.",)
    return split.words


def build_values(made: Plan, sheet: Sheet, asked: Mapping[str, str]) -> dict[str, Any]:
    """Return the pad as a template's values, its picture among them."""
    found = pad_page(made, sheet, asked)
    if isinstance(found, str):
        return {"pad": None, "held": found}
    parts = parts_of(made, found.hand)
    values: dict[str, Any] = {"pad": found, "held": ""}
    if not isinstance(parts, str):
        values["drawing"] = pad_picture(parts[1], leads_to(found.spots))
        values["caption"] = found.standing
    return values


def build_state(made: Plan) -> tuple[str, str]:
    """Return how the leaves stand on the pad, for the day's list."""
    if not isinstance(made.site, Site):
        return "none", "not worked out yet"
    told, states = [], []
    for one in made.site.leaves:
        stage = "welded" if one.welded is not None else "tacked"
        found = one.welded or one.tacked
        states.append(_state(found))
        if isinstance(found, FitUp):
            count = len(found.pushes)
            name = "the leaf" if one.key == "leaf" else one.key
            said = f"{count} to push" if count else verdict_words(found, stage).rstrip(".").lower()
            told.append(f"{name} {stage}: {said}")
    if not told:
        return "none", "nothing read on the pad yet"
    for state in ("todo", "look", "none"):
        if state in states:
            return ("look" if state == "none" else state), "; ".join(told)
    return "ok", "; ".join(told)


def room_of(made: Plan) -> Doorway | None:
    """Return the doorway, where there is one."""
    return made.doorway if isinstance(made.doorway, Doorway) else None
