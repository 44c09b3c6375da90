"""What closes a loop of the stack: its worst case, its 95 % range, and whether that is enough.

The worst case adds every tolerance, the likely range is the root of the sum of their squares
(Scholz, *Tolerance Stack Analysis Methods*, 1995: worst case and simple statistical
tolerancing). A tolerance is taken as a 95 % band, and what the survey leaves unsure goes in with
its own 95 % band.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.doorway import LeafPlace
from leafwright.job.model import LeafTable
from leafwright.mount.records import Mounting
from leafwright.records import Check, Metres, Source, Verdict, Working, graded
from leafwright.units import show_length

#: A length under this is rounding, and is nothing [m].
NOTHING = 1e-6

#: Where the rules of the stack come from.
STACK = Source("geometry of the pivot", "closed loop: sum of its parts, and root sum of squares")


@dataclass(frozen=True, slots=True)
class Closing:
    """What closes a loop, with its limits [m].

    ``worst`` is with every part at the end of its tolerance, ``likely`` the 95 % range.
    """

    size: Quantity
    worst: tuple[Metres, Metres]
    likely: tuple[Metres, Metres]

    @property
    def value(self) -> Metres:
        """Return it with every part as drawn [m]."""
        return self.size.value

    @property
    def either_way(self) -> Metres:
        """Return half of the 95 % range [m]."""
        return (self.likely[1] - self.likely[0]) / 2.0


def closed(size: Quantity) -> Closing:
    """Return a sum of parts with its worst case and its 95 % range.

    Worst case: every tolerance at its end, and what was read at the end of its 95 % band. Likely:
    about the middle of the tolerances, ± √(Σ (a t)² + band²) with t half of each tolerance.

    Args:
        size: the sum [m]; its bases carry tolerances (low, high) or standard deviations.
    """
    middle, squares = size.value, size.band**2
    for slope in size.slopes:
        middle += slope.by * (slope.low + slope.high) / 2.0
        squares += (slope.by * (slope.high - slope.low) / 2.0) ** 2
    half = math.sqrt(squares)
    return Closing(
        size=size,
        worst=(size.low - size.band, size.high + size.band),
        likely=(middle - half, middle + half),
    )


def at_least(
    m: Mounting,
    key: str,
    subject: str,
    question: str,
    has: Closing,
    needed: float,
    *,
    change: str,
    rule: str,
    source: Source = STACK,
    working: tuple[Working, ...] = (),
) -> Check:
    """Return whether what closes a loop is at least what it must be [m].

    Short where it is not with every part as drawn. Tight where it is, but its 95 % range or its
    worst case is not, or where it is within a tenth.

    Args:
        m: the leaf as it hangs.
        key: of the check, under the leaf's own.
        subject, question: what is asked of what.
        has: what closes the loop, with its limits.
        needed: the least that it may be [m].
        change: what would mend it.
        rule: how needed and has came about.
        source: of the rule.
        working: formulas behind it.
    """
    ratio = needed / has.value if has.value > NOTHING else None
    verdict = Verdict.SHORT if ratio is None else graded(ratio)
    words = "" if verdict is Verdict.OK else change
    if verdict is not Verdict.SHORT and has.likely[0] < needed:
        verdict = Verdict.TIGHT
        words = f"it may come out at {small(m, has.likely[0])}, one time in forty less; {change}"
    elif verdict is not Verdict.SHORT and has.worst[0] < needed:
        verdict = Verdict.TIGHT
        words = (
            f"with every part off the wrong way at once it is {small(m, has.worst[0])}; measure "
            f"the parts before they are welded, or {change}"
        )
    limits = (
        f"{small(m, has.value)} as drawn, {small(m, has.likely[0])} to {small(m, has.likely[1])} "
        f"by root sum of squares, {small(m, has.worst[0])} to {small(m, has.worst[1])} at worst"
    )
    return Check(
        key=f"{m.key}/stack/{key}",
        subject=subject,
        question=question,
        verdict=verdict,
        source=source,
        unit="m",
        demand=needed,
        available=has.value if abs(has.value) > NOTHING else 0.0,
        ratio=ratio,
        change=words,
        rule=f"{rule}: {limits}",
        working=working,
    )


def small(m: Mounting, size: float) -> str:
    """Return a small length: thousandths of an inch, or hundredths of a millimetre."""
    inch = m.tape.system != "mm"
    shown = f"{size / 0.0254:.3f}" if inch else f"{1000.0 * size:.2f}"
    return f"{'0' if float(shown) == 0.0 else shown} {'in' if inch else 'mm'}"


def up_to_mark(m: Mounting, size: float) -> str:
    """Return a length that must be no less, at the next mark of the tape."""
    step = float(m.tape.step)
    return show_length(math.ceil(size / step - 1e-6) * step, m.tape)


#: Leaves whose sizes differ by less are alike [m].
ALIKE = 0.002


def _but_for_its_hand(table: LeafTable) -> LeafTable:
    return table.model_copy(update={"hand": None, "name": None})


def asked_of(m: Mounting) -> str:
    """Return whom a question about the mount is asked of; "" where another leaf's asks it already.

    Leaves that are alike but for their hand are asked about once, under the first of them: what is
    said of one then holds for the other.
    """
    own = _but_for_its_hand(m.table)

    def same(place: LeafPlace) -> bool:
        table = next((t for t in m.job.leaf if t.hand == place.hand), None)
        sizes = (
            (place.width.value, m.place.width.value),
            (place.height.value, m.place.height.value),
        )
        alike = all(math.isclose(a, b, abs_tol=ALIKE) for a, b in sizes)
        return table is not None and alike and _but_for_its_hand(table) == own

    alike = [p.key for p in m.room.leaves if p.key == m.key or same(p)]
    if alike[0] != m.key:
        return ""
    return m.who if len(alike) == 1 else "both leaves"
