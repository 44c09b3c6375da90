"""What holds a pivot's plate: where its anchors or bolts sit, and what the leaf gives each.

The leaf turns, and how the plate lies to it is not in the job; so every force of a case may point
any way, and a layout that is alike about both its middle lines is tried over a quarter turn.
Statics of a rigid plate (`anchor_group`): the plate presses no farther out than the outermost
anchors or the pin's foot with one plate thickness about it, which makes the pulls greater than
pressing at the plate's own edge would.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.frame.load_cases import is_wind
from leafwright.handbook import anchor_group
from leafwright.mount.envelope import PinForce
from leafwright.proof.working import Lines
from leafwright.records import Metres, NewtonMetres, Newtons, Number, Point2, Radians

#: Distance of a hole's centre from the plate's edge in diameters, where no spacing is given.
EDGE_DIAMETERS = 1.5


@dataclass(frozen=True, slots=True)
class Layout:
    """Anchors or bolts of one plate: 1, or an even number in one row or two.

    x runs along the plate's length, y across it, from its middle; ``along`` and ``across`` are the
    greatest spacings each way (0 for a single row). ``half_x`` and ``half_y`` are how far out the
    plate presses. ``edge`` is from the outer holes to the plate's nearest edge.
    """

    points: tuple[Point2, ...]
    along: Metres
    across: Metres
    half_x: Metres
    half_y: Metres
    edge: Metres
    defaults: tuple[Quantity, ...]

    @property
    def corners(self) -> tuple[Point2, ...]:
        """Return the corners of the outline that presses [m]."""
        return tuple(
            (x, y) for x in (-self.half_x, self.half_x) for y in (-self.half_y, self.half_y)
        )

    @property
    def columns(self) -> tuple[float, ...]:
        """Return the places of the rows along the plate's length [m]."""
        return tuple(sorted({x for x, _ in self.points}))

    @property
    def rows(self) -> tuple[float, ...]:
        """Return the places of the rows across the plate [m]."""
        return tuple(sorted({y for _, y in self.points}))


@dataclass(frozen=True, slots=True)
class PlateLoad:
    """What the leaf puts on a plate in one case, factors in it.

    ``shear`` is in the plate's plane and ``moment`` about an axis in it, both in one direction
    that may be any; ``least_press`` is what surely presses the plate on (negative: it is pulled
    off), ``most_press`` what may. ``windy`` is whether wind blows in it.
    """

    case: str
    shear: Newtons
    moment: NewtonMetres
    least_press: Newtons
    most_press: Newtons
    windy: bool = False


@dataclass(frozen=True, slots=True)
class State:
    """One plate load with its force pointing one way, and the pull on each anchor."""

    load: PlateLoad
    toward: Radians
    tension: tuple[Newtons, ...]
    press: Newtons
    press_at: Point2

    @property
    def most(self) -> Newtons:
        """Return the pull on the anchor that pulls hardest [N]."""
        return max(self.tension)


def laid_out(
    key: str,
    number: int,
    d: Metres,
    plate: tuple[Metres, Metres],
    foot: Metres,
    *,
    along: Metres | None = None,
    across: Metres | None = None,
    across_within: Metres = math.inf,
) -> Layout | str:
    """Return where the anchors sit, or why they cannot.

    Args:
        key: of the defaults.
        number: of anchors: 1, 2, or an even number above.
        d: diameter [m].
        plate: length and width [m].
        foot: half-width of what surely presses under the pin [m].
        along, across: spacing between neighbours as typed [m]; None takes the plate's size less
            1.5 d to each edge.
        across_within: how wide what it sits on is, where that is less than the plate [m].
    """
    length, width = plate
    if number != 1 and number % 2:
        return f"{number} in one plate is no pattern of rows; say 2, 4 or 6"
    defaults: list[Quantity] = []
    usable = min(width, across_within)
    two_rows = number >= 4 or (across is not None and number == 2 and along is None)
    if two_rows and across is None:
        across = max(usable - 2.0 * EDGE_DIAMETERS * d, 0.0)
        # A narrow carrier has room for one row only.
        across = 0.0 if across < 3.0 * d else across
        two_rows = across > 0.0
        defaults.append(_default(key, "across", across))
    in_row = number // 2 if two_rows else number
    if in_row > 1 and along is None:
        whole = max(length - 2.0 * EDGE_DIAMETERS * d, 0.0)
        along = whole / (in_row - 1)
        defaults.append(_default(key, "along", along))
    along_row = along if along is not None and in_row > 1 else 0.0
    wide = across if across is not None and two_rows else 0.0
    xs = [(i - (in_row - 1) / 2.0) * along_row for i in range(in_row)]
    ys = [-wide / 2.0, wide / 2.0] if two_rows else [0.0]
    points = tuple((x, y) for x in xs for y in ys)
    out_x, out_y = max(xs), max(ys)
    edge = min(length / 2.0 - out_x, width / 2.0 - out_y)
    if edge <= 0.0 or len(set(points)) != number:
        return "the holes run out of the plate, or into one another; give other spacings"
    return Layout(
        points=points,
        along=along_row,
        across=wide,
        half_x=max(out_x, min(foot, length / 2.0)),
        half_y=max(out_y, min(foot, usable / 2.0)),
        edge=edge,
        defaults=tuple(defaults),
    )


def _default(key: str, way: str, spacing: Metres) -> Quantity:
    return chain.base(
        "default",
        f"{key} {way}",
        f"{key.split('/')[-1]} {way} the plate",
        spacing,
        note="the plate less 1-1/2 diameters to each edge; common practice, no source",
    )


def plate_load(
    force: PinForce, *, lever: Metres, up: Number, wind_up: Number, hold: Number
) -> PlateLoad:
    """Return what one case puts on a plate, brought to the strength that it is held against.

    Args:
        force: of the leaf on the pin.
        lever: from where the sleeve presses to the plate's far side [m].
        up: what shear, moment and pressing are multiplied by [-].
        wind_up: the same in a case of wind [-].
        hold: what a weight that holds the plate down is multiplied by [-].
    """
    factor = wind_up if is_wind(force.situation) else up
    shear = factor * force.shear
    axial = force.axial
    return PlateLoad(
        case=force.words,
        shear=shear,
        moment=factor * force.moment + shear * lever,
        least_press=(hold if axial > 0.0 else factor) * axial,
        most_press=factor * axial,
        windy=is_wind(force.situation),
    )


def states(layout: Layout, loads: Sequence[PlateLoad]) -> tuple[State, ...]:
    """Return every load pointing each way, with the pull on each anchor [N]."""
    # Along, across, at a corner, and square to the line to a corner.
    corner = math.atan2(layout.half_y, layout.half_x)
    ways = sorted({0.0, corner, math.pi / 2.0 - corner, math.pi / 2.0})
    return tuple(_state(layout, load, way) for load in _hardest(loads) for way in ways)


def _hardest(loads: Sequence[PlateLoad]) -> list[PlateLoad]:
    """Return the loads that no other one outdoes, or equals before them, in everything."""
    kept: list[PlateLoad] = []
    for i, load in enumerate(loads):
        others = [*kept, *loads[i + 1 :]]
        if not any(_outdone(load, other, strictly=other not in kept) for other in others):
            kept.append(load)
    return kept


def _outdone(load: PlateLoad, by: PlateLoad, *, strictly: bool) -> bool:
    """Return whether a load asks nothing that another does not ask more of."""
    more = (
        (by.shear, load.shear),
        (by.moment, load.moment),
        (by.most_press, load.most_press),
        (load.least_press, by.least_press),
    )
    alike = all(a == b for a, b in more)
    return all(a >= b for a, b in more) and not (strictly and alike)


def strip(layout: Layout, b: float) -> float:
    """Return the width of plate that goes with one anchor or bolt [m].

    Not over the least spacing, nor 2 b (AISC Manual, part 9, remembered; here both ways together).
    """
    gaps = [gap for gap in (layout.along, layout.across) if gap > 0.0]
    return min([2.0 * b, *gaps, b + layout.edge])


def worked_state(layout: Layout, state: State, lines: Lines) -> None:
    """Keep how a state's pulls and shears were worked."""
    M_x, M_y = _moments(state.load, state.toward)
    lines.work(
        anchor_group.plate_forces,
        anchors=layout.points,
        corners=layout.corners,
        N=-state.load.least_press,
        M_x=M_x,
        M_y=M_y,
    )


def worked_shear(layout: Layout, state: State, lines: Lines) -> Newtons:
    """Return the shear on the anchor that takes most [N], and keep how it was worked."""
    V = state.load.shear
    shears = lines.work(
        anchor_group.shear_forces,
        anchors=layout.points,
        V_x=V * math.cos(state.toward),
        V_y=V * math.sin(state.toward),
        at=(0.0, 0.0),
    )
    return max(math.hypot(x, y) for x, y in shears)


def _moments(load: PlateLoad, toward: Radians) -> tuple[NewtonMetres, NewtonMetres]:
    # A push over the plate along +x lifts what is at x < 0, which M_y > 0 does (`plate_forces`).
    return -load.moment * math.sin(toward), load.moment * math.cos(toward)


def _state(layout: Layout, load: PlateLoad, toward: Radians) -> State:
    M_x, M_y = _moments(load, toward)
    pressed = load.least_press
    if pressed > 0.0:
        at = (M_y / pressed, -M_x / pressed)
        if abs(at[0]) <= layout.half_x and abs(at[1]) <= layout.half_y:
            # The weight alone holds the plate down: nothing pulls.
            most = load.most_press
            return State(load, toward, (0.0,) * len(layout.points), most, (M_y / most, -M_x / most))
    found = anchor_group.plate_forces(layout.points, layout.corners, -pressed, M_x, M_y)
    total = found.total_press
    where = (0.0, 0.0)
    if total > 0.0:
        where = (
            sum(force * place[0] for place, force in found.presses) / total,
            sum(force * place[1] for place, force in found.presses) / total,
        )
    return State(load, toward, found.tension, total + load.most_press - pressed, where)
