"""What the proof hands on: forces, movements, reactions, checks and the bracing compared."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.frame.load_cases import LeafCase, Situation
from leafwright.frame.model import FrameModel
from leafwright.frame.solve import FrameResult
from leafwright.proof.infill_heat import InfillRoom
from leafwright.proof.seam_records import Seam
from leafwright.proof.stopping import Stopping
from leafwright.proof.wind import LeafWind
from leafwright.records import Check, Held, Metres, NewtonMetres, Newtons, Number, Radians


@dataclass(frozen=True, slots=True)
class BraceForce:
    """The axial force in a brace or rod in one situation, tension positive [N].

    ``middle`` is at mid length; its own weight makes the force vary along it from ``least`` to
    ``greatest``.
    """

    member: str
    mark: str
    situation: Situation
    middle: Newtons
    least: Newtons
    greatest: Newtons
    slack: bool


@dataclass(frozen=True, slots=True)
class Movement:
    """How a leaf moves in one situation, loads as they are [m].

    ``nose_drop`` is how far the nose goes down, ``nose_shift`` how far its top leans away from
    the hinge over its bottom, ``diagonals`` the change of the difference of the diagonals (the
    one rising from the hinge less the other), ``handle`` how far the handle goes out of plane.
    """

    situation: Situation
    nose_drop: Metres
    nose_shift: Metres
    diagonals: Metres
    handle: Metres


@dataclass(frozen=True, slots=True)
class Reaction:
    """What one place that holds the leaf gives in one situation, in leaf axes [N]."""

    situation: Situation
    place: str
    x: Newtons
    y: Newtons
    z: Newtons


@dataclass(frozen=True, slots=True)
class PivotLoad:
    """What one place gives a standing or shut leaf in one case for strength, in leaf axes.

    ``x`` to ``z`` are forces [N] and ``mx`` to ``mz`` moments [N m] on the leaf, with the case's
    factors; what the leaf gives its pivot is the opposite. Where the pins are free the moments
    are none and ``turn_x`` and ``turn_z`` say how far the stile tilts there [rad].
    """

    case: str
    situation: Situation
    place: str
    clamped: bool
    x: Newtons
    y: Newtons
    z: Newtons
    mx: NewtonMetres
    my: NewtonMetres
    mz: NewtonMetres
    turn_x: Radians
    turn_z: Radians


@dataclass(frozen=True, slots=True)
class Bracing:
    """One way of bracing the leaf, to compare: what it weighs, how it moves, what braces carry."""

    name: str
    lift_mass: Number
    nose_drop_standing: Metres
    nose_drop_person: Metres
    forces: tuple[BraceForce, ...]


@dataclass(frozen=True, slots=True)
class ProofWishes:
    """Loads and limits of the proof, each a wish or a listed default.

    ``bow_limit`` is a length, or without a unit how many times its bow the leaf's longer side
    must be; ``taken`` is what else the proof of wind, infill and holding rests on.
    """

    person: Quantity
    push: Quantity
    handle_height: Quantity
    sag_limit: Quantity
    racking_limit: Quantity
    bow_limit: Quantity
    taken: tuple[Quantity, ...] = ()


@dataclass(frozen=True, slots=True)
class LeafProof:
    """The proof of one leaf, with the whole analysis it rests on.

    ``wind`` is what wind does to the shut leaf, or why that is not known; ``stopping`` the leaf at
    the end of its open stop, where one is told; ``infill`` the room that its infill needs for
    heat; ``seams`` every seam of its frame.
    """

    leaf: str
    basis: str
    wishes: ProofWishes
    assumptions: tuple[str, ...]
    cases: tuple[LeafCase, ...]
    model: FrameModel
    result: FrameResult
    checks: tuple[Check, ...]
    brace_forces: tuple[BraceForce, ...]
    movements: tuple[Movement, ...]
    reactions: tuple[Reaction, ...]
    pivot_loads: tuple[PivotLoad, ...]
    bracings: tuple[Bracing, ...]
    wind: LeafWind | Held
    stopping: Stopping | None
    infill: tuple[InfillRoom, ...]
    seams: tuple[Seam, ...]
    imbalance: Number
