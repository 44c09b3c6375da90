"""What the site stage hands on: each leaf brought in, stood up, hung, read and put right."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.doorway.records import Side
from leafwright.doorway.swing import Swing
from leafwright.records import Check, Held, Stop
from leafwright.site.as_built import AsBuilt, Resplit
from leafwright.site.drift import Drift
from leafwright.site.fit_up import FitUp
from leafwright.site.hung import Hung
from leafwright.site.method import Hanging
from leafwright.site.packers import Packing
from leafwright.site.stand_up import StandUp
from leafwright.site.tilt_in import TiltIn
from leafwright.site.wished import Wished


@dataclass(frozen=True, slots=True)
class LeafOnSite:
    """One leaf on site.

    Attributes:
        key: the leaf.
        hand: the side on which it hangs.
        hanging: ways of getting it onto its pins.
        tilt_in: how it goes in under the head, from the side on which it lies.
        stand_up: what standing it up asks of the crew.
        drift: whether it swings by itself, and how hard it is to push.
        let_go: what was tried with it, beside what was foretold, in words.
        packing: packers for the pad it is built on; None where its floor was not read.
        tacked, welded: its shape from readings at that stage; None where none was taken.
        as_built: its sizes as welded; None where none was taken.
        hung: how it hangs, and what to move; None where nothing was read.
    """

    key: str
    hand: Side
    hanging: Hanging | Held
    tilt_in: TiltIn | Held
    stand_up: StandUp
    drift: Drift | Held
    let_go: tuple[str, ...]
    packing: Packing | Held | None
    tacked: FitUp | Held | None
    welded: FitUp | Held | None
    as_built: AsBuilt | None
    hung: Hung | Held | None


@dataclass(frozen=True, slots=True)
class Site:
    """The leaves on site.

    ``resplit`` is the second leaf's width once the first is made; None where neither or both are.
    ``wished`` is what the stage went by. ``stops`` keep steel from being cut: a leaf that does not
    swing, or cannot be got in.
    """

    swing: Swing
    leaves: tuple[LeafOnSite, ...]
    resplit: Resplit | Held | None
    wished: Wished
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    defaults: tuple[Quantity, ...]
