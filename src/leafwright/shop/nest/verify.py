"""What is wrong with a nest, checked from the rules alone: no line is shared with the search."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from leafwright.shop.nest.records import Layout, Nest, Piece, Rules, Stick

NANO = Fraction(1, 10**9)
# Floats this close mean the same length: far under the grid, far over what floats blur.
BLUR = NANO / 1000


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
    for i, layout in enumerate(nest.layouts, start=1):
        wrong += [f"layout {i} ({layout.stick.name!r}): {w}" for w in _layout(layout, rules)]
    return wrong + _totals(nest)


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


def _exact(length: float) -> Fraction:
    """Return a length taken to the nanometre."""
    return round(Fraction(length) / NANO) * NANO


def _same(one: Fraction, other: float) -> bool:
    """Return whether a length to the nanometre is another, rounded up or down to it."""
    return abs(one - Fraction(other)) < NANO + BLUR


def _layout(layout: Layout, rules: Rules) -> list[str]:
    wrong = []
    kerf = _up(rules.kerf)
    start, end = _up(rules.trim_start), _up(rules.trim_end)
    stick = _exact(layout.stick.length)
    if stick > Fraction(layout.stick.length) + BLUR:
        stick -= NANO
    dust = Fraction(0)
    at = Fraction(0)
    if start > 0:
        at = start + kerf
        dust += kerf
    last = stick
    if end > 0:
        last -= end + kerf
        dust += kerf
    if not layout.cuts:
        wrong.append("it holds no piece")
    for n, cut in enumerate(layout.cuts):
        if n > 0:
            at += kerf
            dust += kerf
        if _exact(cut.start) != at:
            wrong.append(f"piece {cut.key!r} starts at {cut.start!r} m, not {float(at)!r} m")
        at += _exact(cut.length)
    remainder = last - at
    if remainder < 0:
        wrong.append(f"its pieces pass the end by {float(-remainder)!r} m")
    parting = min(kerf, max(Fraction(0), remainder))
    dust += parting
    for name, told, found in (
        ("trims", layout.trims, start + end),
        ("kerfs", layout.kerfs, dust),
        ("drop", layout.drop, max(Fraction(0), remainder - parting)),
    ):
        if _exact(told) != found:
            wrong.append(f"its {name} come to {float(found)!r} m, not {told!r} m")
    parts = sum((_exact(cut.length) for cut in layout.cuts), Fraction(0))
    whole = parts + _exact(layout.trims) + _exact(layout.kerfs) + _exact(layout.drop)
    if whole != stick or not _same(whole, layout.stick.length):
        wrong.append(
            f"pieces, kerfs, trims and drop add up to {float(whole)!r} m of {float(stick)!r} m"
        )
    return wrong


def _up(length: float) -> Fraction:
    """Return a length rounded up to the nanometre."""
    near = _exact(length)
    return near if near >= Fraction(length) - BLUR else near + NANO


def _totals(nest: Nest) -> list[str]:
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
    kinds = {tuple(cut.length for cut in layout.cuts) for layout in nest.layouts}
    if nest.set_ups != len(kinds):
        wrong.append(f"there are {len(kinds)} set-ups, not {nest.set_ups}")
    drops = [layout.drop for layout in nest.layouts]
    if nest.longest_drop != 0.0 and nest.longest_drop != max(drops):
        wrong.append(f"the longest drop is {max(drops)!r} m, not {nest.longest_drop!r} m")
    return wrong
