"""What a mount is proved from, and what its proof hands on."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.doorway import Doorway, LeafPlace
from leafwright.doorway.heel import leaf_words
from leafwright.handbook.aisc360 import Method
from leafwright.job.model import Job, LeafTable
from leafwright.job.steel import Steel
from leafwright.leaf import Leaf
from leafwright.proof import LeafProof, PivotLoad
from leafwright.records import Check
from leafwright.units import Tape


@dataclass(frozen=True, slots=True)
class Mounting:
    """One leaf as it hangs, with all that its mount is proved from.

    ``room`` is the whole doorway, ``place`` the leaf's place in it; ``proof`` holds what each
    pivot and nose stop gives in every case (`PivotLoad`, leaf axes, factors of the method in it).
    ``tape`` is for words.
    """

    job: Job
    room: Doorway
    place: LeafPlace
    table: LeafTable
    leaf: Leaf
    proof: LeafProof
    steel: Steel
    method: Method
    tape: Tape

    @property
    def key(self) -> str:
        """Return the leaf's key: ``left``, ``right`` or ``leaf``."""
        return self.place.key

    @property
    def who(self) -> str:
        """Return what the maker calls the leaf."""
        return leaf_words(self.place.key)

    def loads_at(self, *places: str) -> tuple[PivotLoad, ...]:
        """Return what these places give the leaf, in every case for strength."""
        return tuple(load for load in self.proof.pivot_loads if load.place in places)

    @property
    def pivots(self) -> tuple[str, ...]:
        """Return the places on the axis that hold the leaf, lowest first."""
        return tuple(sorted({p.place for p in self.proof.pivot_loads if "pivot" in p.place}))


def mounting_of(
    job: Job,
    room: Doorway,
    place: LeafPlace,
    leaf: Leaf,
    proof: LeafProof,
    material: Steel,
    tape: Tape,
) -> Mounting:
    """Return a leaf as it hangs, by the method of its job."""
    table = next(table for table in job.leaf if table.hand == place.hand)
    method = Method(job.basis.method)
    return Mounting(job, room, place, table, leaf, proof, material, method, tape)


@dataclass(frozen=True, slots=True)
class Proved:
    """What one link of the load path hands on.

    ``words`` are sentences for the maker, ``cautions`` what can hurt; ``assumptions`` what the
    checks take for granted.
    """

    checks: tuple[Check, ...]
    defaults: tuple[Quantity, ...] = ()
    words: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LeafMount:
    """The proof of how one leaf is held, link by link from the leaf to the building.

    ``links`` names each link with what it hands on, in the order of the load path.
    """

    leaf: str
    links: tuple[tuple[str, Proved], ...]

    @property
    def checks(self) -> tuple[Check, ...]:
        """Return every check of every link, in the order of the load path."""
        return tuple(check for _, proved in self.links for check in proved.checks)

    @property
    def defaults(self) -> tuple[Quantity, ...]:
        """Return every default that was used."""
        return tuple(used for _, proved in self.links for used in proved.defaults)
