"""How the wall of a tube gives under what stands on it: the limit states of ANSI/AISC 360-22, K.

One by one, by the load it is for: a pull or push square to the wall, a moment in the leaf's
plane, one out of it, and the shear that a moment in the plane makes in the side walls between the
branch's two edges. Each takes the values of a `Wall` under the names of its formula.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final, Literal

from leafwright.handbook.aisc360 import (
    LimitState,
    Method,
    available,
    connecting,
    face_moments,
    hss_joints,
)
from leafwright.proof.seam_walls import Wall
from leafwright.proof.working import Lines
from leafwright.records import Number, Working

Load = Literal["pull", "push", "in", "out", "across"]


@dataclass(frozen=True, slots=True)
class State:
    """One limit state.

    ``given`` are the formula's arguments, ``renamed`` those that a `Wall` has under another name.
    ``by_chord`` says that the chord's own stress lowers it, by Q_f. ``whole`` says that it is the
    branch's own, whose load is all that the branch carries and not the share of one wall.
    """

    load: tuple[Load, ...]
    words: str
    clause: str
    limit_state: LimitState
    formula: Callable[..., Any]
    given: tuple[str, ...]
    applies: Callable[[Wall], bool]
    renamed: Mapping[str, str] = field(default_factory=dict)
    by_chord: bool = False
    whole: bool = False


_FORCE: Final[tuple[Load, ...]] = ("pull", "push")
_FACE: Final = ("F_y", "t", "B", "B_b", "l_b")
_UNEVEN: Final = "the branch yielding unevenly"


def _narrow(wall: Wall) -> bool:
    return not wall.wide


def _wide(wall: Wall) -> bool:
    return wall.wide


def _tube(wall: Wall) -> bool:
    return wall.tube


STATES: Final[tuple[State, ...]] = (
    State(
        _FORCE,
        "the face bending",
        "J10.10",
        LimitState.FACE_PLASTIFICATION,
        hss_joints.face_plastification,
        _FACE,
        _narrow,
        by_chord=True,
    ),
    State(
        _FORCE,
        "punching through the face",
        "J4.2",
        LimitState.HSS_PUNCHING,
        hss_joints.face_punching,
        _FACE,
        lambda wall: wall.B_b <= wall.B - 2.0 * wall.t,
    ),
    State(
        _FORCE,
        "the side walls yielding",
        "J10.2",
        LimitState.WEB_LOCAL_YIELDING,
        hss_joints.sidewall_yielding,
        ("F_y", "t", "l_b", "k", "H", "distance_to_end"),
        _wide,
        {"k": "radius", "distance_to_end": "to_end"},
    ),
    State(
        ("push",),
        "the side walls crumpling",
        "J10.3",
        LimitState.WEB_LOCAL_CRIPPLING,
        hss_joints.sidewall_crippling,
        ("F_y", "t", "l_b", "H", "distance_to_end", "E"),
        lambda wall: wall.wide and not wall.cross,
        {"distance_to_end": "to_end"},
        by_chord=True,
    ),
    State(
        ("push",),
        "the side walls squeezed",
        "J10.5",
        LimitState.WEB_COMPRESSION_BUCKLING,
        hss_joints.sidewall_buckling,
        ("F_y", "t", "H", "E"),
        lambda wall: wall.wide and wall.cross,
        by_chord=True,
    ),
    State(
        _FORCE,
        _UNEVEN,
        "J4.1",
        LimitState.TENSION_YIELDING,
        hss_joints.branch_yielding,
        ("F_yb", "A_b", "B_b", "H_b", "B_e"),
        _tube,
        whole=True,
    ),
    State(
        ("in",),
        "the face bending",
        "J10.10 for each half",
        LimitState.FACE_PLASTIFICATION,
        face_moments.face_moment_along,
        _FACE,
        _narrow,
        by_chord=True,
    ),
    State(
        ("in",),
        "the side walls yielding",
        "Table K4.2",
        LimitState.HSS_SIDEWALL_MOMENT,
        hss_joints.sidewall_yielding_in_plane,
        ("F_y", "t", "H_b", "cross"),
        _wide,
        {"H_b": "spread"},
    ),
    State(
        ("in",),
        _UNEVEN,
        "Table C-K1.1",
        LimitState.BENDING,
        hss_joints.branch_yielding_in_plane,
        ("F_yb", "Z_b", "B_b", "H_b", "t_b", "B_e"),
        _tube,
        {"Z_b": "Z_in"},
        whole=True,
    ),
    State(
        ("out",),
        "the face bending",
        "K1",
        LimitState.FACE_PLASTIFICATION,
        face_moments.face_moment_across,
        _FACE,
        _narrow,
        by_chord=True,
    ),
    State(
        ("out",),
        "the side walls yielding",
        "Table K4.2",
        LimitState.HSS_SIDEWALL_MOMENT,
        hss_joints.sidewall_yielding_out_of_plane,
        ("F_y", "t", "B", "H_b", "cross"),
        _wide,
        {"H_b": "spread"},
    ),
    State(
        ("out",),
        "the tube going out of square",
        "Table K4.2",
        LimitState.HSS_DISTORTION,
        hss_joints.chord_distortion,
        ("F_y", "t", "B", "H", "H_b"),
        _wide,
        {"H_b": "spread"},
    ),
    State(
        ("out",),
        _UNEVEN,
        "Table C-K1.1",
        LimitState.BENDING,
        hss_joints.branch_yielding_out_of_plane,
        ("F_yb", "Z_b", "B_b", "t_b", "B_e"),
        _tube,
        {"Z_b": "Z_out"},
        whole=True,
    ),
    State(
        ("across",),
        "the side walls in shear between its edges",
        "J10.6",
        LimitState.SHEAR,
        connecting.element_shear_yielding,
        ("F_y", "A_gv"),
        lambda wall: True,
        {"A_gv": "side_area"},
    ),
)


@dataclass(frozen=True, slots=True)
class Holds:
    """What a wall holds in one limit state [N, or N m for a moment], and how it came about."""

    state: State
    value: float
    working: tuple[Working, ...]


def _strength(state: State, wall: Wall, Q_f: Number, method: Method) -> Holds:
    lines = Lines()
    given: dict[str, Any] = {}
    for name in state.given:
        if name == "B_e":
            given[name] = lines.work(
                hss_joints.effective_width,
                B=wall.B,
                t=wall.t,
                F_y=wall.F_y,
                B_b=wall.B_b,
                t_b=wall.t_b,
                F_yb=wall.F_yb,
            )
        else:
            given[name] = getattr(wall, state.renamed.get(name, name))
    if state.by_chord:
        given["Q_f"] = Q_f
    nominal = float(lines.work(state.formula, **given))
    has = lines.work(available, nominal=nominal, limit_state=state.limit_state, method=method)
    return Holds(state, float(has), lines.kept())


@functools.lru_cache(maxsize=512)
def strengths(wall: Wall, method: Method, Q_f: Number = 1.0) -> tuple[Holds, ...]:
    """Return the available strength of a wall in every limit state that it has.

    ``Q_f`` is the factor for the stress in the chord's own wall [-].
    """
    return tuple(_strength(state, wall, Q_f, method) for state in STATES if state.applies(wall))
