"""Checks of a measured size against what it must be, with the 95 % band in the verdict."""

from __future__ import annotations

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.records import Check, Source, Verdict

GEOMETRY = Source("geometry of the doorway", "the sum of its parts")


def gap_check(
    key: str,
    subject: str,
    question: str,
    *,
    needed: Quantity,
    has: Quantity,
    change: str,
    source: Source = GEOMETRY,
) -> Check:
    """Return whether a size is at least what it must be [m].

    Short where it is not; tight where the 95 % band of the difference crosses the limit, so that
    the readings cannot tell; ok where even the worst of the band clears it.
    """
    spare = chain.total(f"{key}/spare", "spare", [(1.0, has), (-1.0, needed)])
    verdict = Verdict.OK
    words = ""
    # A size made to be just what is needed is right, not tight: the arithmetic may miss by an ulp.
    if spare.value < -1e-9:
        verdict, words = Verdict.SHORT, change
    elif spare.value - spare.band < -1e-9:
        verdict = Verdict.TIGHT
        words = f"the 95 % band of the readings crosses the limit; {change}"
    ratio = needed.value / has.value if has.value > 1e-9 else None
    if ratio is None:
        verdict, words = Verdict.SHORT, change
    return Check(
        key=key,
        subject=subject,
        question=question,
        verdict=verdict,
        source=source,
        unit="m",
        demand=needed.value,
        available=has.value,
        ratio=ratio,
        change=words,
    )
