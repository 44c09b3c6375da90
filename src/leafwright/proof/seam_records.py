"""A seam as the proof hands it on: where it lies, what it is, and what it carries."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.records import (
    Metres,
    NewtonsPerMetre,
    Number,
    Point3,
    Radians,
)


@dataclass(frozen=True, slots=True)
class Seam:
    """One seam round the end of a member, in leaf axes.

    ``key`` is the end's with the seam's own ``face``; ``joint`` the joint of the leaf, ``onto``
    the member that it joins to ``member`` at its ``end``. ``path`` runs along it. ``angle`` is
    the one that the weld fills between the two surfaces; ``leg`` is that of a fillet, None for
    others; ``throat`` is its effective one, 0 where it is no weld; ``length`` is all of it and
    ``counted`` the part that carries. ``at_start`` and ``at_end`` are the force on each length
    where and when the seam is used most: at both ends of it, or of the part of it that carries.
    ``holds`` is what each length may have there and ``used`` the greater of them over it, None
    where nothing is counted on. ``rests_on_trial`` says that a trial joint has to show the throat.
    """

    key: str
    joint: str
    member: str
    mark: str
    end: str
    onto: str
    face: str
    kind: str
    path: tuple[Point3, ...]
    angle: Radians
    leg: Metres | None
    throat: Metres
    length: Metres
    counted: Metres
    at_start: NewtonsPerMetre
    at_end: NewtonsPerMetre
    holds: NewtonsPerMetre
    used: Number | None
    case: str
    rests_on_trial: bool
