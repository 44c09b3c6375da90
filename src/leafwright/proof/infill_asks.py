"""What of infill only a data sheet, an official or a licensed trade can answer."""

from __future__ import annotations

from collections.abc import Sequence

from leafwright.handbook import screws
from leafwright.job.model import Infill, Job, LeafTable
from leafwright.leaf import Leaf
from leafwright.proof.compared import asked, leaf_subject
from leafwright.proof.infill_stuff import PLASTIC, Stuff, infill_of, is_steel, stuff_of
from leafwright.records import COMMON_PRACTICE, Check, Source

_DATA = Source("the infill maker's data sheet")


def infill_questions(job: Job, table: LeafTable, leaf: Leaf) -> list[Check]:
    """Return what a data sheet or a licensed trade must answer, once for each kind of infill."""
    checks: list[Check] = []
    kinds: dict[str, list[Infill]] = {}
    for piece in leaf.infill:
        infill = infill_of(table, piece)
        held = kinds.setdefault(piece.kind, [])
        if infill not in held:
            held.append(infill)
    for kind, infills in kinds.items():
        key, subject = f"{leaf.key}/{kind}", f"{kind} of {leaf_subject(leaf.key)}"
        if kind == "glass":
            checks.append(
                asked(
                    f"{key}/glazing",
                    subject,
                    "is it safety glass, thick enough and safely held",
                    source=Source("IBC chapter 24; 16 CFR 1201", "from memory; the local code"),
                    change=(
                        "broken glass in a swinging leaf cuts: have a licensed glazier choose "
                        "safety glass, its thickness and its beads, and warrant it"
                    ),
                )
            )
            continue
        if kind in PLASTIC:
            checks.append(
                asked(
                    f"{key}/fire",
                    subject,
                    "may a plastic that burns be used here",
                    source=Source("IBC 2606", "from memory; the local building code"),
                    change=(
                        "ask the building official; it burns and drips: no welding or grinding "
                        "near it, and not in a fire-rated wall"
                    ),
                )
            )
        checks += _data_asked(job, key, subject, infills)
        if any(i.screw is None or i.fixing_spacing is None for i in infills):
            checks.append(
                asked(
                    f"{key}/fixings",
                    subject,
                    "do its fixings hold it in the wind",
                    source=_DATA if kind != "sheet" else COMMON_PRACTICE,
                    change=(
                        "give screw and fixing_spacing in its infill, or say in an [[answer]] how "
                        "it is welded or beaded on"
                    ),
                )
            )
        elif not all(is_steel(i) for i in infills) or any(
            i.screw is not None and i.screw.si > screws.SIZES[1] * (1.0 + 1e-9) for i in infills
        ):
            checks.append(
                asked(
                    f"{key}/fixings",
                    subject,
                    "does it hold under the heads of its fixings",
                    source=_DATA,
                    change="ask its maker what head or washer it needs, and how far from its edge",
                )
            )
    return checks


def _data_asked(job: Job, key: str, subject: str, infills: Sequence[Infill]) -> list[Check]:
    if infills[0].kind == "mesh":
        return [
            asked(
                f"{key}/strength",
                subject,
                "is it stiff enough in wind and where somebody leans on it",
                source=_DATA,
                change="ask its maker how far this wire and opening may span",
            )
        ]
    missing = {
        name
        for infill in infills
        for found in [stuff_of(infill, "", job.job.system)]
        if not isinstance(found, Stuff)
        for name in found
    }
    if not missing:
        return []
    return [
        asked(
            f"{key}/strength",
            subject,
            "is it stiff and strong enough in wind and where somebody leans on it",
            source=_DATA,
            change=f"give in its infill, from its data sheet: {', '.join(sorted(missing))}",
        )
    ]
