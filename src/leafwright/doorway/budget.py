"""Where each gap goes: what it must allow for, share by share, and what is left of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.records import Metres, Number


@dataclass(frozen=True, slots=True)
class Share:
    """One thing that a gap allows for, so many times; ``amount`` is what that comes to [m]."""

    what: Quantity
    times: Number
    amount: Metres


@dataclass(frozen=True, slots=True)
class GapBudget:
    """A gap with its shares.

    ``unsure`` is the 95 % band that the readings leave it [m]; ``spare`` what is left of it after
    shares and band, negative where it is too small [m].
    """

    gap: Quantity
    shares: tuple[Share, ...]
    unsure: Metres
    spare: Metres


def budget(gap: Quantity, parts: Sequence[tuple[float, Quantity]]) -> GapBudget:
    """Return what a gap is spent on: each part that it must hold, and how unsure it is."""
    shares = tuple(Share(part, times, times * part.value) for times, part in parts)
    spare = gap.value - sum(share.amount for share in shares) - gap.band
    return GapBudget(gap, shares, gap.band, spare)
