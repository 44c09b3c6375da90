"""What the work on site goes by where the maker has not said: wishes, and the stated defaults."""

from __future__ import annotations

from dataclasses import dataclass, fields

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway.up import opens_to
from leafwright.job.defaults import chosen
from leafwright.job.model import BarrelHinge, DepthReading, Job
from leafwright.site.out_of_shape import Limits
from leafwright.units import Typed


@dataclass(frozen=True, slots=True)
class Wished:
    """Every wish and default of the site stage.

    Attributes:
        reveal: the wall's depth [m].
        opens: how far the leaves are to open [rad].
        reach: how far a leaf's foot may be kicked out [m].
        leaning: how far it may come off the floor while the leaf leans [m].
        kept: how far a pin must stay in [m].
        clear: how far a leaf is raised beyond its pin [m].
        hinge_pin: how far a barrel hinge's pin is in [m].
        margin: what a leaf keeps from everything [m].
        hand_height: how high hands push [m].
        floor_friction: what a foot has on this floor [-].
        keep_out: how many times the leaf's reach nobody stands within [-].
        least_friction, most_friction: of greased or dirty pins [-].
        shape: how far diagonals, sizes and edges may be out on the pad [m].
        twist: the same of the fourth corner over the plane of the rest [m].
        off_plane: how far a packed stand may be off the plane [m].
    """

    reveal: Quantity
    opens: Quantity
    reach: Quantity
    leaning: Quantity
    kept: Quantity
    clear: Quantity
    hinge_pin: Quantity
    margin: Quantity
    hand_height: Quantity
    floor_friction: Quantity
    keep_out: Quantity
    least_friction: Quantity
    most_friction: Quantity
    shape: Quantity
    twist: Quantity
    off_plane: Quantity

    def limits(self) -> Limits:
        """Return how far a leaf on the pad may be out [m]."""
        one = self.shape.value
        return Limits(diagonals=one, size=one, taper=one, bow=one, twist=self.twist.value)


def wished_of(job: Job) -> Wished:
    """Return what the work on site of a job goes by."""

    def usual(name: str) -> Quantity:
        return chosen(None, name, f"site/{name}", name, system=job.job.system)

    def said(typed: Typed | None, name: str, key: str = "site") -> Quantity:
        return chosen(typed, name, f"{key}/{name}", name, system=job.job.system)

    grip = job.site.floor_friction
    return Wished(
        reveal=_reveal(job),
        opens=opens_to(job),
        reach=said(job.site.kick_out, "kick-out"),
        leaning=usual("leaning lift"),
        kept=usual("pin kept in"),
        clear=usual("lift over pin"),
        hinge_pin=usual("hinge pin length"),
        margin=said(job.doorway.running_clearance, "running clearance", "doorway"),
        hand_height=said(job.site.hand_height, "hand height"),
        floor_friction=usual("floor friction")
        if grip is None
        else chain.base(
            "wish", "site/floor friction", "floor friction", float(grip), unit="1", note="[site]"
        ),
        keep_out=usual("keep-out"),
        least_friction=usual("least pin friction"),
        most_friction=usual("greatest pin friction"),
        shape=usual("shape limit"),
        twist=usual("twist limit"),
        off_plane=usual("off plane"),
    )


def _reveal(job: Job) -> Quantity:
    """Return the wall's depth [m]: as stated, or as deep as it was read, or the default."""
    key, name = "site/reveal depth", "reveal depth"
    read = [r for r in job.reading if isinstance(r, DepthReading) and not r.set_aside]
    if job.opening.reveal_depth is not None or not read:
        typed = job.opening.reveal_depth
        return chosen(typed, name, key, name, system=job.job.system)
    deepest = max(read, key=lambda r: r.is_.si)
    note = f"{deepest.is_.text}, the deepest that was read, at {deepest.at}"
    return chain.base("reading", key, name, deepest.is_.si, note=note)


def defaults_used(job: Job, wished: Wished) -> tuple[Quantity, ...]:
    """Return the defaults among them that this job goes by."""
    barrels = any(isinstance(leaf.mount, BarrelHinge) for leaf in job.leaf)
    without = {"site/pin kept in", "site/lift over pin"} if barrels else {"site/hinge pin length"}
    every = [getattr(wished, field.name) for field in fields(wished)]
    return tuple(q for q in every if q.kind == "default" and q.key not in without)
