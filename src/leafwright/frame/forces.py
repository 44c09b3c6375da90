"""The internal forces along an element or a member, exact at any station.

Signs. Cut the element at a station and look at the part toward its start. The forces are what the
other part exerts on that cut, in the local axes of `leafwright.frame.model`:

- ``N`` along x: positive pulls, tension.
- ``V_y``, ``V_z`` along y and z: positive pushes the cut toward positive y, z.
- ``T`` about x: positive turns the cut from y toward z.
- ``M_z`` about z: positive turns the cut from x toward y, so that an element held at its start
  and seen with x to the right and y up curls up at the end: fibres on the positive y side are
  pressed, those on the negative y side pulled. This is the sagging moment of a beam loaded down.
- ``M_y`` about y: positive turns the cut from z toward x, so that fibres on the positive z side
  are pulled.

The stress along x at a point (y, z) of the section is therefore
N / A + M_y z / I_y - M_z y / I_z; and dM_z/dx = -V_y, dM_y/dx = V_z where no moment is put on.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.frame.arrays import case_of
from leafwright.frame.element import Bools, Floats
from leafwright.frame.model import Case, FrameError, FrameModel
from leafwright.frame.solve import FrameResult
from leafwright.records import read_only


@dataclass(frozen=True, slots=True, eq=False)
class Stations:
    """Places along an element: ``at`` metres from its start, and on which side of a jump.

    Where a point load sits at a station, ``after`` (True) means the forces just past it.
    """

    at: Floats
    after: Bools


@dataclass(frozen=True, slots=True, eq=False)
class Forces:
    """Internal forces at stations, signs as in `leafwright.frame.forces`.

    ``at`` [m] from the start of the element or member; ``after`` as in `Stations`; ``element``
    names the element of each station; N, V_y, V_z [N]; T, M_y, M_z [N m]. One length for all.
    """

    at: Floats
    after: Bools
    element: tuple[str, ...]
    N: Floats
    V_y: Floats
    V_z: Floats
    T: Floats
    M_y: Floats
    M_z: Floats


def internal_forces(end_forces: Floats, line_loads: Floats, lengths: Floats, at: Floats) -> Floats:
    """Return N, V_y, V_z, T, M_y, M_z (…, 6) of elements without point loads [N, N m].

    All arguments broadcast, so that a batch is one call: ``end_forces`` (…, 12), ``line_loads``
    (…, 6) in local axes and ``lengths`` (…) as in `leafwright.frame.solve.FrameResult` and
    `BatchResult`; ``at`` (…) from the element's start [m].
    """
    x = np.asarray(at, dtype=np.float64)
    start = line_loads[..., :3]
    slope = (line_loads[..., 3:] - start) / lengths[..., None]
    x = x[..., None]
    force = -end_forces[..., :3] - x * (start + slope * x / 2.0)
    # The moment of the loads on 0…x about the cut, as if each were a force along y.
    lever = x * end_forces[..., :3] + x**2 * (start / 2.0 + slope * x / 6.0)
    moment = -end_forces[..., 3:6]
    turned = np.stack([np.zeros_like(lever[..., 0]), -lever[..., 2], lever[..., 1]], axis=-1)
    return np.concatenate([force, moment + turned], axis=-1)


def forces_along(
    model: FrameModel,
    result: FrameResult,
    case: str,
    element: str,
    stations: Stations | Sequence[float] | Floats,
) -> Forces:
    """Return the internal forces of an element at stations, exact for all its loads.

    ``case`` and ``element`` are keys; ``stations`` as `extreme_stations` gives them, or just
    distances from the start [m], at which the forces are those just past a point load. Raises
    FrameError for a key that is not there or a station off the element.
    """
    c, e = _place(result, case, element)
    if not isinstance(stations, Stations):
        at = np.asarray(stations, dtype=np.float64)
        stations = Stations(at, np.ones(at.shape, dtype=np.bool_))
    at, after = stations.at, stations.after
    length = float(result.lengths[e])
    if at.size and not (at.min() >= 0.0 and at.max() <= length * (1.0 + 1e-12)):
        raise FrameError(
            f"stations of element {element!r} run from {float(at.min())!r} to "
            f"{float(at.max())!r} m; it is {length!r} m long"
        )
    forces = internal_forces(
        result.end_forces[c, e], result.line_loads[c, e], result.lengths[e], at
    )
    for place, force, moment in _local_points(case_of(model, case), result, element, e):
        past = np.where(after, at >= place, at > place)
        x = (at - place) * past
        forces[:, 0] -= past * force[0]
        forces[:, 1] -= past * force[1]
        forces[:, 2] -= past * force[2]
        forces[:, 3] -= past * moment[0]
        forces[:, 4] -= past * moment[1] + x * force[2]
        forces[:, 5] += x * force[1] - past * moment[2]
    return Forces(
        read_only(at.copy()),
        read_only(after.copy()),
        (element,) * at.size,
        *(read_only(column) for column in forces.T.copy()),
    )


def extreme_places(end_forces: Floats, line_loads: Floats, lengths: Floats) -> Floats:
    """Return the places (…, 9) of elements without point loads where a force can be extreme [m].

    Arguments as for `internal_forces`, and they broadcast as there. The nine are both ends; where
    the line load along x, y, z is zero (there N, V_y, V_z is extreme); where V_y and V_z are zero,
    twice each (there M_z, M_y is extreme). A place that the element does not have is given as its
    start, 0.
    """
    length = np.asarray(lengths)[..., None]
    load = line_loads[..., :3]
    slope = (line_loads[..., 3:] - load) / length
    half_slope, across = slope[..., 1:] / 2.0, load[..., 1:]
    shear = end_forces[..., 1:3]
    # Zeros of the shear: slope / 2 x^2 + load x + shear = 0, by the form that does not cancel.
    with np.errstate(divide="ignore", invalid="ignore"):
        unloaded = -load / slope
        root = np.sqrt(across**2 - 4.0 * half_slope * shear)
        part = -0.5 * (across + np.copysign(root, across))
        found = (part / half_slope, shear / part)
    leading = np.broadcast_shapes(end_forces.shape[:-1], line_loads.shape[:-1], np.shape(lengths))
    columns = (np.zeros(1), length, unloaded, *found)
    places = np.concatenate(
        [np.broadcast_to(array, (*leading, array.shape[-1])) for array in columns], axis=-1
    )
    return np.where((places > 0.0) & (places <= length), places, 0.0)


def extreme_stations(model: FrameModel, result: FrameResult, case: str, element: str) -> Stations:
    """Return the stations of an element at which some internal force can be extreme.

    Both ends; each point load, before and after it; and the `extreme_places` between them. Every
    one of N, V_y, V_z, T, M_y, M_z has its largest and its smallest value in the element at one of
    the stations; a sum of several, such as a stress, need not. ``case`` and ``element`` are keys;
    raises FrameError for one that is not there. Where no element carries a point load,
    `extreme_places` and `internal_forces` do the same for all cases and elements in one call.
    """
    c, e = _place(result, case, element)
    length = float(result.lengths[e])
    points = _local_points(case_of(model, case), result, element, e)
    cuts = sorted({0.0, length, *(place for place, _, _ in points)})
    found = {(0.0, False), (length, True)}
    found |= {(place, side) for place in cuts for side in (False, True)}
    lows = np.array(cuts[:-1])
    sizes = np.diff(cuts)
    here = forces_along(model, result, case, element, lows)
    starts = -np.stack([here.N, here.V_y, here.V_z], axis=-1)
    load = result.line_loads[c, e]
    slope = (load[3:] - load[:3]) / length
    low_loads = load[:3] + slope * lows[:, None]
    loads = np.concatenate([low_loads, low_loads + slope * sizes[:, None]], axis=-1)
    places = extreme_places(starts, loads, sizes)
    inside = (places > 0.0) & (places < sizes[:, None])
    found |= {(float(x), True) for x in (lows[:, None] + places)[inside]}
    ordered = sorted(found)
    return Stations(
        read_only(np.array([x for x, _ in ordered])), read_only(np.array([a for _, a in ordered]))
    )


def member_forces(
    model: FrameModel,
    result: FrameResult,
    case: str,
    member: str,
    stations: Mapping[str, Stations] | None = None,
) -> Forces:
    """Return the internal forces along a whole member, its elements joined in order.

    ``member`` is the key that the elements carry. ``stations`` gives each element's stations by
    its key; None takes the `extreme_stations`. ``at`` of the result runs from the member's start,
    which is the one end of the chain where an element starts and none ends. Raises FrameError if
    there is no such member or its elements are no chain, each starting where the last one ends.
    """
    parts = []
    offset = 0.0
    for element in _chain(model, member):
        _, e = _place(result, case, element)
        if stations is None:
            here = extreme_stations(model, result, case, element)
        else:
            here = stations[element]
        forces = forces_along(model, result, case, element, here)
        parts.append(dataclasses.replace(forces, at=forces.at + offset))
        offset += float(result.lengths[e])
    return Forces(
        element=tuple(key for part in parts for key in part.element),
        **{
            name: read_only(np.concatenate([getattr(part, name) for part in parts]))
            for name in ("at", "after", "N", "V_y", "V_z", "T", "M_y", "M_z")
        },
    )


def every_member_force(
    model: FrameModel, result: FrameResult, members: Sequence[str]
) -> dict[tuple[str, str], Forces]:
    """Return the internal forces along members in every case, by member and case key.

    At the `extreme_places` of each element, in order; the same as `member_forces`, in one call
    for all. ``members`` are keys that the elements carry. Raises FrameError if a case has a point
    load on an element, or as `member_forces` does.
    """
    for case in model.cases:
        if case.point_loads:
            raise FrameError(
                f"case {case.key!r} has point loads on elements; put a node under each, or use "
                "member_forces"
            )
    places = np.sort(extreme_places(result.end_forces, result.line_loads, result.lengths), axis=-1)
    found = internal_forces(
        result.end_forces[:, :, None, :],
        result.line_loads[:, :, None, :],
        result.lengths[None, :, None],
        places,
    )
    index = {key: e for e, key in enumerate(result.elements)}
    count = places.shape[-1]
    forces: dict[tuple[str, str], Forces] = {}
    for member in members:
        chain = _chain(model, member)
        rows = [index[key] for key in chain]
        starts = np.concatenate([[0.0], np.cumsum(result.lengths[rows])[:-1]])
        elements = tuple(key for key in chain for _ in range(count))
        after = read_only(np.zeros(len(elements), dtype=bool))
        for c, case in enumerate(model.cases):
            values = found[c, rows].reshape(-1, 6)
            forces[member, case.key] = Forces(
                read_only((places[c, rows] + starts[:, None]).reshape(-1)),
                after,
                elements,
                *(read_only(values[:, column].copy()) for column in range(6)),
            )
    return forces


def _chain(model: FrameModel, member: str) -> list[str]:
    """Return the keys of a member's elements from its start to its end."""
    elements = [element for element in model.elements if element.member == member]
    if not elements:
        known = sorted({element.member for element in model.elements})
        raise FrameError(f"there is no member {member!r}; the frame has {known!r}")
    follows = {element.start: element for element in elements}
    ends = {element.end for element in elements}
    starts = [element.start for element in elements if element.start not in ends]
    chain = []
    at = starts[0] if len(starts) == 1 else None
    while at in follows:
        chain.append(follows[at].key)
        at = follows.pop(at).end
    if len(chain) != len(elements):
        raise FrameError(
            f"the elements of member {member!r} are no chain: "
            + ", ".join(f"{e.key!r} from {e.start!r} to {e.end!r}" for e in elements)
            + "; let each start where another ends"
        )
    return chain


def _place(result: FrameResult, case: str, element: str) -> tuple[int, int]:
    """Return the places of a case and an element in the result's arrays."""
    for kind, key, keys in (("case", case, result.cases), ("element", element, result.elements)):
        if key not in keys:
            raise FrameError(f"there is no {kind} {key!r} in the result; it has {list(keys)!r}")
    return result.cases.index(case), result.elements.index(element)


def _local_points(
    case: Case, result: FrameResult, element: str, e: int
) -> list[tuple[float, Floats, Floats]]:
    """Return the place, force and moment in local axes of each point load on an element."""
    length = float(result.lengths[e])
    return [
        (
            min(load.at, length),
            result.axes[e] @ np.array(load.force),
            result.axes[e] @ np.array(load.moment),
        )
        for load in case.point_loads
        if load.element == element
    ]
