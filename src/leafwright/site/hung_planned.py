"""What each gap of a hung leaf should be, the least that it may be, and how unsure the first is.

Gaps are planned against a floor and an opening that were read, posts and a head that were set, and
leaves that came out a little otherwise than drawn. A leaf that was read welded is taken as it came
out, place by place; of one that was not, as far off as the pad lets it be.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leafwright.chain import BAND_95
from leafwright.doorway import Doorway, LeafPlace
from leafwright.doorway.swing import Swing
from leafwright.job.defaults import chosen
from leafwright.job.model import Job
from leafwright.job.on_site import HungGap
from leafwright.job.tape import tape_of
from leafwright.records import Metres
from leafwright.site.as_built import Sized
from leafwright.site.in_doorway import sweep_of
from leafwright.site.made import built_of
from leafwright.site.pose import planned_gap
from leafwright.site.taken import Planned
from leafwright.site.wished import Wished
from leafwright.survey import Survey, floor_heights, floor_of


@dataclass(frozen=True, slots=True)
class _Shape:
    """How far a leaf falls short of its widest or tallest along it, and how surely [m]."""

    at: tuple[Metres, ...]
    less: tuple[Metres, ...]
    sd: Metres

    def at_place(self, along: float) -> Metres:
        return float(np.interp(along, self.at, self.less))


def _shape(sizes: tuple[Sized, ...], most: float, unread: float) -> _Shape:
    """Return how far a leaf falls short of its largest size, from what was read of it welded."""
    known = [(s.at, s.value, s.sd or 0.0) for s in sizes if s.value is not None]
    if len(known) < 2:
        return _Shape((0.0,), (0.0,), unread)
    return _Shape(
        tuple(at for at, _, _ in known),
        tuple(most - size for _, size, _ in known),
        max(sd for _, _, sd in known),
    )


def planned_of(
    job: Job,
    found: Survey,
    room: Doorway,
    place: LeafPlace,
    wished: Wished,
    swings: Swing,
) -> Callable[[HungGap, float], Planned]:
    """Return the function that says what a gap of a leaf should be at an opening."""
    floor = floor_of(job, found, sweep_of(place, wished.opens.value))
    sign = 1.0 if place.hand == "left" else -1.0
    axis = place.hinge_edge.value + sign * place.axis.value
    spent = {b.gap.key: sum(s.amount for s in b.shares) for b in room.budgets}
    least_nose = min((v for k, v in spent.items() if k.endswith("as hung")), default=0.0)
    # What is set to its figure by a tape may be half a mark less.
    mark = float(tape_of(job).step) / 2
    name = "setting tolerance"
    # Tolerances are 95 % bands.
    setting = chosen(None, name, f"stack/{name}", name, system=job.job.system).value / BAND_95
    out = wished.limits()
    across, up = [], []
    line = max(p.bottom.value + p.height.value for p in room.leaves)
    for one in room.leaves:
        built = built_of(job, one)
        sizes = ((), ()) if built is None else (built.widths, built.heights)
        across.append(_shape(sizes[0], one.width.value, out.taper / BAND_95))
        high = line - one.bottom.value
        shape = _shape(sizes[1], high, out.taper / BAND_95)
        if len(shape.at) < 2:
            shape = _Shape((0.0,), (high - one.height.value,), shape.sd)
        up.append(shape)
    own = up[[p.key for p in room.leaves].index(place.key)]
    welded = built_of(job, place)
    risen = None if welded is None else welded.risen
    slope = 0.0 if risen is None or risen.value is None else risen.value / place.width.value
    slope_sd = 0.0 if risen is None or risen.sd is None else risen.sd / place.width.value

    def planned(reading: HungGap, opening: float) -> Planned:
        running, along = wished.margin.value, reading.at.si
        if reading.where == "floor":
            away = along - place.axis.value
            x = np.array([axis + sign * away * math.cos(opening)])
            z = np.array([away * math.sin(opening)])
            height, unsure = floor_heights(floor, x, z)
            # Tops are to agree: what is not known of a leaf's height is at its bottom.
            sd = math.hypot(float(unsure[0]), setting, own.sd, slope_sd * along)
            stands = place.bottom.value + slope * along
            return Planned(stands - float(height[0]), running - mark, sd)
        if reading.where == "heel" and abs(opening) > 1e-9:
            return Planned(_open_heel(swings, place, opening), running - mark, setting)
        should, least, sd = planned_gap(room, place, reading.where), running, setting
        if reading.where == "heel":
            least = spent.get(f"{place.key}/heel gap", running)
        elif reading.where == "closing":
            least = least_nose
            if should is not None:
                should += sum(shape.at_place(along) for shape in across)
                sd = math.hypot(setting, *(shape.sd for shape in across))
        elif should is not None:
            should += own.at_place(along) - slope * along
            sd = math.hypot(setting, slope_sd * (place.width.value - along))
        return Planned(should if should is not None else reading.is_.si, least - mark, sd)

    return planned


def _open_heel(swings: Swing, place: LeafPlace, opening: float) -> float:
    """Return the heel gap of an open leaf, off the curve of its swing [m]; NaN without one."""
    way = "toward" if opening > 0.0 else "away"
    for one in swings.leaves:
        for turn in one.turns:
            if one.key == place.key and turn.way == way:
                return float(np.interp(abs(opening), turn.heel.angles, turn.heel.gaps))
    return math.nan
