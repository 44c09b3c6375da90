"""What is wrong with a nest, checked from the rules alone: no line is shared with the search."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache

from leafwright.shop.nest.records import Cut, End, Layout, Nest, Piece, Rules, Stick

NANO = Fraction(1, 10**9)
# Floats this close mean the same length: far under the grid, far over what floats blur.
BLUR = NANO / 1000
# Two slants closer than this are one: a ten-thousandth of a millimetre, or of a milliradian.
SLIP = Fraction(1, 10**7)


def verify(nest: Nest, pieces: Sequence[Piece], sticks: Sequence[Stick], rules: Rules) -> list[str]:
    """Return what is wrong with a nest, one sentence each; an empty list when nothing is.

    Every length is taken to the nanometre and added without rounding. The proof of least cost
    is not redone; only that bound, gap and ``proven`` agree.
    """
    wrong = _pieces_once(nest, pieces)
    used: Counter[Stick] = Counter(layout.stick for layout in nest.layouts)
    for stick, n in used.items():
        if stick not in sticks:
            wrong.append(f"stick {stick.name!r} is used but is not in stock")
        elif stick.count is not None and n > stick.count:
            wrong.append(f"stick {stick.name!r} is used {n} times; there are {stick.count}")
    of = {piece.key: piece for piece in pieces}
    for i, layout in enumerate(nest.layouts, start=1):
        if all(cut.key in of for cut in layout.cuts):
            found = _layout(layout, rules, of)
            wrong += [f"layout {i} ({layout.stick.name!r}): {w}" for w in found]
    return wrong + _totals(nest, of)


def _pieces_once(nest: Nest, pieces: Sequence[Piece]) -> list[str]:
    wrong = []
    length_of = {piece.key: piece.length for piece in pieces}
    seen: Counter[str] = Counter()
    for layout in nest.layouts:
        for cut in layout.cuts:
            seen[cut.key] += 1
            if cut.key not in length_of:
                wrong.append(f"piece {cut.key!r} is cut but was not asked for")
                continue
            over = Fraction(cut.length) - Fraction(length_of[cut.key])
            if not -BLUR <= over < NANO + BLUR:
                wrong.append(
                    f"piece {cut.key!r} is cut {cut.length!r} m; {length_of[cut.key]!r} m was asked"
                )
    for key in length_of:
        if seen[key] != 1:
            wrong.append(f"piece {key!r} is cut {seen[key]} times, not once")
    return wrong


@lru_cache(maxsize=1 << 15)
def _exact(length: float) -> Fraction:
    """Return a length taken to the nanometre."""
    return round(Fraction(length) / NANO) * NANO


def _same(one: Fraction, other: float) -> bool:
    """Return whether a length to the nanometre is another, rounded up or down to it."""
    return abs(one - Fraction(other)) < NANO + BLUR


def _ends(cut: Cut, piece: Piece) -> tuple[End, End]:
    """Return a piece's near and far end as it lies."""
    return (piece.end, piece.start) if cut.reversed else (piece.start, piece.end)


def _cut_along(rules: Rules, *ends: End) -> Fraction:
    """Return what the widest cut at some ends takes along the stick."""
    return max(_up(rules.kerf / math.cos(end.angle)) for end in ends)


def _shared(before: tuple[Cut, End], after: tuple[Cut, End]) -> str:
    """Return why two facing ends cannot share one cut, "" where they can."""
    (one, far), (other, near) = before, after
    if not (far.shares and near.shares):
        return "no saw makes that cut in one pass"
    if abs(far.reach - near.reach) > SLIP or abs(far.angle - near.angle) > SLIP:
        return "their slants differ"
    if (far.low != one.over) == (near.low != other.over):
        return "their slants lean toward each other"
    return ""


def _layout(layout: Layout, rules: Rules, of: dict[str, Piece]) -> list[str]:
    wrong = []
    start, end = _up(rules.trim_start), _up(rules.trim_end)
    stick = _exact(layout.stick.length)
    if stick > Fraction(layout.stick.length) + BLUR:
        stick -= NANO
    if not layout.cuts:
        return ["it holds no piece"]
    dust, shared, at = Fraction(0), Fraction(0), start
    slack = Fraction(0)
    before: tuple[Cut, End] | None = None
    for cut in layout.cuts:
        near, far = _ends(cut, of[cut.key])
        if of[cut.key].straight and not layout.stick.straight:
            wrong.append(f"piece {cut.key!r} wants a straight stick")
        if before is None:
            kerf = _cut_along(rules, near) if start > 0 else Fraction(0)
            at += kerf
            dust += kerf
        elif cut.shared:
            why = _shared(before, (cut, near))
            if why:
                wrong.append(f"{before[0].key!r} and {cut.key!r} cannot share a cut: {why}")
            kerf = _cut_along(rules, near, before[1])
            reach = _exact(min(near.reach, before[1].reach))
            at += kerf - reach
            dust += kerf
            shared += reach
            slack += 2 * SLIP
        else:
            kerf = _cut_along(rules, near, before[1])
            at += kerf
            dust += kerf
        if before is None and cut.shared:
            wrong.append(f"piece {cut.key!r} is first and shares its cut")
        here = _exact(cut.start)
        if not at - (NANO if slack else 0) <= here <= at + slack:
            wrong.append(f"piece {cut.key!r} starts at {cut.start!r} m, not {float(at)!r} m")
        at += _exact(cut.length)
        before = (cut, far)
    assert before is not None
    last = stick
    if end > 0:
        last -= end + _cut_along(rules, before[1])
        dust += _cut_along(rules, before[1])
    remainder = last - at
    if remainder < 0:
        wrong.append(f"its pieces pass the end by {float(-remainder)!r} m")
    parting = min(_cut_along(rules, before[1]), max(Fraction(0), remainder))
    dust += parting
    for name, told, found in (
        ("trims", layout.trims, start + end),
        ("kerfs", layout.kerfs, dust),
        ("drop", layout.drop, max(Fraction(0), remainder - parting)),
        ("sharing", layout.shared, shared),
    ):
        if abs(_exact(told) - found) > slack:
            wrong.append(f"its {name} come to {float(found)!r} m, not {told!r} m")
    parts = sum((_exact(cut.length) for cut in layout.cuts), Fraction(0))
    whole = parts + _exact(layout.trims) + _exact(layout.kerfs) + _exact(layout.drop)
    whole -= _exact(layout.shared)
    if whole != stick or not _same(whole, layout.stick.length):
        wrong.append(
            f"pieces, kerfs, trims and drop add up to {float(whole)!r} m of {float(stick)!r} m"
        )
    return wrong


def _set_up(cut: Cut, of: dict[str, Piece]) -> tuple[float, tuple[tuple[float, float], ...], bool]:
    """Return what the saw is set to for a piece, however it lies."""
    piece = of[cut.key]
    ends = sorted(
        (round(end.angle, 7), round(end.reach, 7) if end.shares else 0.0)
        for end in (piece.start, piece.end)
    )
    return cut.length, tuple(ends), piece.straight


@lru_cache(maxsize=1 << 15)
def _up(length: float) -> Fraction:
    """Return a length rounded up to the nanometre."""
    near = _exact(length)
    return near if near >= Fraction(length) - BLUR else near + NANO


def _totals(nest: Nest, of: dict[str, Piece]) -> list[str]:
    wrong = []
    cost, bought = 0.0, 0.0
    for layout in nest.layouts:
        stick = layout.stick
        if stick.kind == "new":
            bought += stick.length
        if stick.cost is not None:
            cost += stick.cost
        elif stick.kind == "new":
            cost += stick.length
    slip = 1e-8 * (1 + len(nest.layouts))
    for name, told, found in (
        ("cost", nest.cost, cost),
        ("bought length", nest.bought_length, bought),
        ("gap", nest.gap, nest.cost - nest.bound),
    ):
        if abs(told - found) > slip:
            wrong.append(f"the {name} is {found!r}, not {told!r}")
    if nest.bound > nest.cost + slip:
        wrong.append(f"the bound {nest.bound!r} is over the cost {nest.cost!r}")
    if nest.proven != (nest.gap == 0.0):
        wrong.append(f"proven is {nest.proven} with a gap of {nest.gap!r}")
    straight = sum(
        any(of[cut.key].straight for cut in layout.cuts if cut.key in of) for layout in nest.layouts
    )
    both = sum(cut.shared for layout in nest.layouts for cut in layout.cuts)
    for name, told, found in (
        ("sticks to be picked straight", nest.straight_sticks, straight),
        ("shared cuts", nest.shared_cuts, both),
    ):
        if told != found:
            wrong.append(f"there are {found} {name}, not {told}")
    kinds = {
        tuple(sorted(_set_up(cut, of) for cut in layout.cuts if cut.key in of))
        for layout in nest.layouts
    }
    if nest.set_ups != len(kinds):
        wrong.append(f"there are {len(kinds)} set-ups, not {nest.set_ups}")
    drops = [layout.drop for layout in nest.layouts]
    if nest.longest_drop != 0.0 and nest.longest_drop != max(drops):
        wrong.append(f"the longest drop is {max(drops)!r} m, not {nest.longest_drop!r} m")
    return wrong
