"""What a splice is made with beside its two pieces: a sleeve inside, or two plates outside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.handbook import sections
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.steel import STEEL_DENSITY
from leafwright.leaf import Leaf
from leafwright.records import Kilograms, Metres


@dataclass(frozen=True, slots=True)
class Joiner:
    """The sleeve or the plates of one splice, ``count`` alike, each so long.

    ``section`` is that of the member it joins. ``inside`` are the width and depth that a sleeve
    has to fit, by the nominal wall, from which the bead of the tube's own seam comes off; None
    for plates [m]. ``sleeve`` is the sleeve's own section, ``plate`` width and thickness of each
    plate, where the job gives them; ``mass`` is of one, None where it does not.
    """

    key: str
    mark: str
    by: Literal["inner sleeve", "plates"]
    count: int
    joins: tuple[str, str]
    section: CatalogueSection
    length: Quantity
    inside: tuple[Metres, Metres] | None
    sleeve: CatalogueSection | None = None
    plate: tuple[Metres, Metres] | None = None
    grade: str = ""

    @property
    def mass(self) -> Kilograms | None:
        """What one weighs, None where its size is not given."""
        if self.sleeve is not None:
            return self.sleeve.mass_per_metre * self.length.value
        if self.plate is not None:
            return self.plate[0] * self.plate[1] * self.length.value * STEEL_DENSITY
        return None


def joiners_of(leaves: Sequence[Leaf]) -> tuple[Joiner, ...]:
    """Return the sleeves and plates of all splices, leaf by leaf."""
    found = []
    for leaf in leaves:
        by_key = {m.key: m for m in leaf.members}
        for splice in leaf.splices:
            member = by_key[splice.member]
            section, sleeve = member.section, splice.by == "inner sleeve"
            key = f"{splice.key}/{'sleeve' if sleeve else 'plates'}"
            what = "sleeve" if sleeve else "plates"
            name = f"length of the {what} of {member.mark}, as far each way from the splice"
            room = (
                section.width - 2.0 * section.nominal_wall,
                section.height - 2.0 * section.nominal_wall,
            )
            found.append(
                Joiner(
                    key=key,
                    mark=f"{member.mark}{'s' if sleeve else 'p'}",
                    by=splice.by,
                    count=1 if sleeve else 2,
                    joins=(splice.pieces[0].mark, splice.pieces[1].mark),
                    section=section,
                    length=chain.total(f"{key}/length", name, [(2.0, splice.reach)]),
                    inside=room if sleeve else None,
                    sleeve=splice.sleeve,
                    plate=splice.plate,
                    grade=splice.grade,
                )
            )
    return tuple(found)


def is_round(joiner: Joiner) -> bool:
    """Return whether the tube that a joiner joins is a round one."""
    return joiner.section.shape == sections.ROUND_TUBE
