"""What a gap must allow for beside the sweep: heat, and the play of the pins in their sleeves."""

from __future__ import annotations

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway.heel import Heel, leaf_words
from leafwright.handbook import thermal
from leafwright.job.defaults import chosen
from leafwright.job.model import BarrelHinge, Job

#: What steel is taken to grow by [1/K], with its source.
STEEL_NOTE = "steel, EN 1993-1-1:2005, 3.2.6(1): 12e-6 a degree"


def warmer(job: Job) -> Quantity:
    """Return how much warmer a leaf may become than when the opening was read [K], not below 0.

    The greatest temperature of the building less that of the survey's day; where the first is not
    said, a default for the difference.
    """
    most = job.building.greatest_temperature
    name = "heat over survey"
    if most is None:
        return chosen(None, name, "doorway/heat", name, system=job.job.system)
    start = chosen(
        job.opening.survey_temperature,
        "survey temperature",
        "doorway/survey temperature",
        "survey temperature",
        system=job.job.system,
    )
    hottest = chain.base(
        "wish", "doorway/hottest", "greatest temperature", most.si, unit="K", note=most.text
    )
    parts = [(1.0, hottest), (-1.0, start)]
    difference = chain.total("doorway/heat", name, parts)
    if difference.value >= 0:
        return difference
    none = chain.base("table", "doorway/no heat", "never warmer", 0.0, unit="K")
    return chain.largest("doorway/heat at most", name, [difference, none])


def heat_growth(key: str, name: str, length: Quantity, heat: Quantity) -> Quantity:
    """Return by how much a steel length grows by the heat [m].

    The building's own growth is not set against it: that is on the safe side.
    """
    return chain.worked(
        key,
        name,
        f"{length.name} × 12e-6 × {heat.name} ({STEEL_NOTE})",
        lambda size, kelvin: float(thermal.thermal_growth(size, thermal.STEEL, kelvin)),
        [length, heat],
    )


def pin_play(job: Job, heel: Heel) -> Quantity:
    """Return how far a leaf may sit off the middle of its pins, either way [m].

    Half of bore less pin where the maker gave both; a barrel hinge's own clearance, halved.
    """
    mount = heel.table.mount
    key, name = f"{heel.key}/pin play", f"play of {leaf_words(heel.key)} on its pins"
    if isinstance(mount, BarrelHinge):
        if mount.clearance is not None:
            typed = mount.clearance
            whole = chain.base(
                "wish", f"{heel.key}/pin clearance", "hinge clearance", typed.si, note=typed.text
            )
            return chain.total(key, name, [(0.5, whole)])
    elif mount.sleeve_bore is not None and mount.pin_diameter is not None:
        bore = chain.base(
            "wish",
            f"{heel.key}/sleeve bore",
            "sleeve bore",
            mount.sleeve_bore.si,
            note=mount.sleeve_bore.text,
        )
        pin = chain.base(
            "wish",
            f"{heel.key}/pin diameter",
            "pin",
            mount.pin_diameter.si,
            note=mount.pin_diameter.text,
        )
        if bore.value >= pin.value:
            return chain.total(key, name, [(0.5, bore), (-0.5, pin)])
    usual = chosen(None, "pin play", f"{heel.key}/usual play", "pin play", system=job.job.system)
    return chain.renamed(usual, key, name)
