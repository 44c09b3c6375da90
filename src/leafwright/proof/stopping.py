"""A leaf that turns and is stopped: its energy, the stop's force, and what that does to its frame.

A leaf of inertia I about its axis that turns with ω brings ½ I ω² to its stop. A stop at d from
the axis that gives by s takes that up with a mean force ½ I ω²/s; one that springs, as rubber
does, with twice that at its end. While it stops, the leaf slows by α = F d/I, and every part of it
presses on with its mass × α × its distance from the axis (d'Alembert): with the stop for a support
that is a case of the frame like any other, for members, seams, pins and all that holds them.

The leaf is no stiff plate: it twists about its stop, and what that takes up the stop need not. Of
the work W that those forces do on the leaf at the force of a stiff one, a force k times as large
does k² W, the stop k of its own: ½ I ω² = k ½ I ω² + k² W (Rayleigh: the leaf gives in the shape
of a force at rest).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.doorway import LeafPlace
from leafwright.frame.load_cases import LiveLoads, is_stop, leaf_cases, with_cases
from leafwright.frame.model import FrameModel, LineLoad
from leafwright.frame.of_leaf import GRAVITY, LeafFrame
from leafwright.frame.solve import FrameResult, solve
from leafwright.job.defaults import System, chosen
from leafwright.job.model import LeafTable
from leafwright.leaf import Leaf
from leafwright.records import Held, Kilograms, Metres, NewtonMetres, Newtons, Number, Point2


@dataclass(frozen=True, slots=True)
class Turning:
    """What of a leaf turns about its axis.

    ``mass`` [kg] has its centre ``out`` from the axis [m]; ``inertia`` is about the axis [kg m2],
    ``product`` Σ m x y about the axis and the leaf's bottom [kg m2]. ``percussion`` is where a
    knock is not felt at the axis, from there [m]; ``reach`` is the nose [m].
    """

    mass: Kilograms
    out: Metres
    inertia: float
    product: float
    percussion: Metres
    reach: Metres


@dataclass(frozen=True, slots=True)
class StopLoad:
    """What a stop takes up and gives, without factors.

    ``energy`` of the leaf [N m]; ``even`` is the stop's force where it gives evenly, ``springing``
    at the end of one that springs [N]. ``hinges`` are the forces across the leaf that the lowest
    and the highest hinge must give at that end [N]; ``level`` is both together, which is all that
    is left where the stop is as high as the leaf's middle [N].
    """

    energy: NewtonMetres
    even: Newtons
    springing: Newtons
    hinges: tuple[Newtons, Newtons]
    level: Newtons


def turning_of(leaf: Leaf, axis: float) -> Turning:
    """Return what of a leaf turns about its axis, from its members and infill.

    Each member as the area of its elevation, each infill as a plate that stands off by nothing:
    the square of its distance from the leaf's middle plane is left out (under 1 % of a door's).

    Args:
        leaf: members, infill and size; pivot parts turn about themselves and are left out.
        axis: from the hinge edge to the axis, positive into the leaf [m].
    """
    at = axis if leaf.hand == "left" else leaf.width - axis
    way = 1.0 if leaf.hand == "left" else -1.0
    mass = moment = inertia = product = 0.0
    for member in leaf.members:
        x, y = member.bar.centroid
        mass += member.mass
        moment += member.mass * way * (x - at)
        inertia += member.mass * mean_square(member.bar.outline, at)
        product += member.mass * way * (x - at) * y
    for piece in leaf.infill:
        corners = (
            (piece.left, piece.bottom),
            (piece.right, piece.bottom),
            (piece.right, piece.top),
            (piece.left, piece.top),
        )
        x, y = (piece.left + piece.right) / 2.0, (piece.bottom + piece.top) / 2.0
        mass += piece.mass
        moment += piece.mass * way * (x - at)
        inertia += piece.mass * mean_square(corners, at)
        product += piece.mass * way * (x - at) * y
    return Turning(
        mass=mass,
        out=moment / mass,
        inertia=inertia,
        product=product,
        percussion=inertia / moment,
        reach=leaf.width - axis,
    )


def mean_square(outline: Sequence[Point2], at: float) -> float:
    """Return the mean of (x − at)² over a polygon's area [m2].

    Green's theorem, edge by edge: Σ c (x₁² + x₁x₂ + x₂²)/12 over Σ c/2, c = x₁y₂ − x₂y₁.

    Args:
        outline: corners in order, either way round [m].
        at: where x is measured from [m].
    """
    area = second = 0.0
    for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        a, b = x1 - at, x2 - at
        cross = a * y2 - b * y1
        area += cross / 2.0
        second += cross * (a * a + a * b + b * b) / 12.0
    return second / area


def stop_load(
    turning: Turning,
    *,
    nose_speed: float,
    out: float,
    travel: float,
    hinges: tuple[float, float],
    height: float = 0.0,
) -> StopLoad:
    """Return what a stop takes up and what the hinges then give, all in statics with inertia.

    ½ I ω² = F s (even) or F s/2 (springing). F d = I α; across the leaf F + R₁ + R₂ = m x̄ α;
    about its foot F h + R₁ y₁ + R₂ y₂ = α Σ m x y. The leaf is stiff.

    Args:
        turning: what turns.
        nose_speed: of the nose as it meets the stop [m/s].
        out: d, from the axis to the stop [m].
        travel: s, by how much the stop gives [m].
        hinges: heights of the lowest and highest hinge over the leaf's bottom [m].
        height: h, of the stop over the leaf's bottom [m].
    """
    energy = 0.5 * turning.inertia * (nose_speed / turning.reach) ** 2
    force = 2.0 * energy / travel
    slows = force * out / turning.inertia
    level = turning.mass * turning.out * slows - force
    low, high = hinges
    top = (slows * turning.product - force * height - low * level) / (high - low)
    return StopLoad(energy, force / 2.0, force, (level - top, top), level)


def nose_speed(table: LeafTable, key: str, system: System) -> Quantity:
    """Return how fast a leaf's nose meets its stop [m/s], as wished or by default."""
    typed = table.hold.nose_speed
    where = "stop/nose speed" if typed is None else f"{key}/nose speed"
    return chosen(typed, "nose speed", where, "nose speed", system=system)


@dataclass(frozen=True, slots=True)
class Stopping:
    """A leaf at the end of its open stop, without factors.

    ``slows`` is how fast it slows [rad/s2], ``force`` the stop's [N], ``stiff`` what that would be
    if the leaf gave nothing [N]; ``lines`` are what its mass presses on with.
    """

    slows: Number
    force: Newtons
    stiff: Newtons
    lines: tuple[LineLoad, ...]


def stopping(
    place: LeafPlace, table: LeafTable, frame: LeafFrame, axis: Metres, speed: float
) -> Stopping | None:
    """Return a leaf at the end of its open stop; None where no stop is told.

    Of a stiff leaf ½ I ω² = F s/2 and F d = I α, so that α = ω² d/s.

    Args:
        place: for the axis.
        table: for where the stop stands and how far it gives.
        frame: the leaf's, with a place for its stop.
        axis: x of the axis as seen [m].
        speed: of the nose as it meets the stop [m/s].
    """
    out, travel = table.hold.stop_out, table.hold.stop_travel
    if out is None or travel is None:
        return None
    reach = frame.leaf.width - place.axis.value
    alpha = (speed / reach) ** 2 * min(out.si, reach) / travel.si
    lines = _mass_lines(frame, axis, alpha)
    cases = tuple(c for c in leaf_cases("ASD", clamped=True, stop=True) if is_stop(c.situation))
    model = with_cases(frame, cases, LiveLoads(0.0, 0.0, stopping=lines))
    result = solve(model)
    if isinstance(result, Held):
        # The proof's own frame says why.
        return Stopping(alpha, 0.0, 0.0, lines)
    node = result.nodes.index(frame.places["open stop"])
    stiff = float(abs(result.reactions[0, node, 2]))
    k = eased(0.5 * stiff * travel.si, min(_work(model, result, c) for c in range(len(cases))))
    return Stopping(k * alpha, k * stiff, stiff, tuple(_scaled(line, k) for line in lines))


def eased(energy: NewtonMetres, work: NewtonMetres) -> Number:
    """Return what part of a stiff leaf's force a stop gives one that gives itself [-].

    E = k E + k² W.

    Args:
        energy: E, that the leaf brings.
        work: W, that it takes up itself under a stiff one's force.
    """
    if work <= 1e-9 * energy:
        return 1.0
    return (math.sqrt(energy * energy + 4.0 * work * energy) - energy) / (2.0 * work)


def _work(model: FrameModel, result: FrameResult, case: int) -> NewtonMetres:
    """Return the work done across the leaf, its elements straight between their ends.

    What they bow besides is left out, which makes the stop's force greater.
    """
    at = {node.key: node.at for node in model.nodes}
    ends = {e.key: (e.start, e.end) for e in model.elements}
    number = {key: i for i, key in enumerate(result.nodes)}
    work = 0.0
    for line in model.cases[case].line_loads:
        start, end = ends[line.element]
        long = math.dist(at[start], at[end])
        a, b = line.start[2], line.end[2]
        u, v = (float(result.displacements[case, number[node], 2]) for node in (start, end))
        work += 0.5 * long * ((2.0 * a + b) * u + (a + 2.0 * b) * v) / 6.0
    return work


def _scaled(line: LineLoad, by: float) -> LineLoad:
    return LineLoad(line.element, (0.0, 0.0, by * line.start[2]), (0.0, 0.0, by * line.end[2]))


def _mass_lines(frame: LeafFrame, axis: Metres, alpha: float) -> tuple[LineLoad, ...]:
    """Return what the mass of a leaf presses on with as it slows, square to the leaf [N/m].

    Members where they are. A piece of infill is shared between the two stiles beside it, so that
    its force m α r and its moment m α r² about the axis stay what they are.

    Args:
        frame: the leaf's frame.
        axis: x of the axis as seen [m].
        alpha: how fast the leaf slows [rad/s2].
    """
    leaf = frame.leaf
    away = 1.0 if leaf.hand == "left" else -1.0
    at = {node.key: node.at for node in frame.model.nodes}
    found = []

    def put(element: str, start: float, end: float) -> None:
        found.append(LineLoad(element, (0.0, 0.0, -start), (0.0, 0.0, -end)))

    ends = {e.key: (at[e.start], at[e.end]) for e in frame.model.elements}
    for own in frame.own:
        per_metre = own.weight / GRAVITY * alpha
        start, end = (per_metre * away * (point[0] - axis) for point in ends[own.element])
        put(own.element, start, end)
    stiles = [m for m in leaf.members if m.role.endswith("stile")]
    for piece in leaf.infill:
        left, right = (away * (x - axis) for x in (piece.left, piece.right))
        force = piece.mass * alpha * (left + right) / 2.0
        moment = piece.mass * alpha * (left * left + left * right + right * right) / 3.0
        one, other = (away * (stile.foot[0] - axis) for stile in stiles)
        shares = ((moment - force * other) / (one - other), (force * one - moment) / (one - other))
        for stile, share in zip(stiles, shares, strict=True):
            of_stile = [e.key for e in frame.model.elements if e.member == stile.key]
            beside = [
                key
                for key in of_stile
                if piece.bottom < (ends[key][0][1] + ends[key][1][1]) / 2.0 < piece.top
            ] or of_stile
            long = sum(math.dist(*ends[key]) for key in beside)
            for key in beside:
                put(key, share / long, share / long)
    return tuple(found)
