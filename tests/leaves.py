"""Leaves made for tests: by size, or at random from a seed."""

from __future__ import annotations

import random
from typing import Any

from leafwright import chain
from leafwright.doorway import LeafPlace
from leafwright.job.model import LeafTable
from leafwright.job.steel import Steel, _catalogue
from leafwright.leaf import Leaf, design_leaf

INCH = 0.0254
LB = 4.4482216152605

STEEL = Steel(_catalogue(), ())

TUBES = (
    "mechanical tube 2 x 2 x 0.120 in",
    "HSS 2-1/2 x 2-1/2 x 3/16",
    "HSS 3 x 3 x 3/16",
    "SHS 40 x 40 x 3",
    "SHS 60 x 60 x 4",
    "SHS 80 x 80 x 4",
)


def table(**wishes: Any) -> LeafTable:
    given = {"hand": "left", "frame": TUBES[0], "mount": {"kind": "floor pivot"}, **wishes}
    return LeafTable.model_validate(given)


def place(
    width: float, height: float, *, hand: str = "left", axis: float = INCH, key: str = "leaf"
) -> LeafPlace:
    """Return a leaf's place of a given size [m], with everything else at nothing."""

    def of(name: str, value: float) -> chain.Quantity:
        return chain.base("wish", f"{key}/{name}", name, value)

    return LeafPlace(
        key=key,
        hand="left" if hand == "left" else "right",
        swing="both",
        width=of("width", width),
        height=of("height", height),
        hinge_edge=of("hinge edge", 0.0),
        bottom=of("bottom", 0.0),
        axis=of("axis", axis),
        heel_gap=of("heel gap", 0.0),
        packing=None,
        half_face=of("half face", axis),
        half_back=of("half back", axis),
    )


def made(
    width: float, height: float, *, hand: str = "left", pair: bool = True, **wishes: Any
) -> tuple[LeafPlace, LeafTable, Leaf]:
    """Return a leaf of a given size [m] with its place and table; it must be makeable."""
    where, what = place(width, height, hand=hand), table(hand=hand, **wishes)
    leaf = design_leaf(where, what, STEEL, system="feet-inch", pair=pair)
    assert isinstance(leaf, Leaf), leaf
    return where, what, leaf


def random_wishes(rng: random.Random) -> dict[str, Any]:
    """Return the size [m] and wishes of a leaf that a shop might build, and that can be made."""
    tube = rng.choice(TUBES)
    width, height = rng.uniform(0.9, 3.2), rng.uniform(1.8, 5.5)
    mids = rng.choice([0, 1, 1, 2])
    rails = [
        {"height": f"{1000 * height * (i + rng.uniform(0.7, 1.1)) / (mids + 1):.0f} mm"}
        for i in range(mids)
    ]
    braces: list[dict[str, Any]] = []
    for panel in range(1, mids + 2):
        pattern = rng.choice(["none", "one diagonal", "X", "one diagonal", "X"])
        braces.append(
            {
                "pattern": pattern,
                "panel": panel,
                "foot": rng.choice(["hanging stile", "closing stile"]),
                "through": rng.choice(["rising", "falling"]),
                "section": tube if rng.random() < 0.6 else "SHS 40 x 40 x 3",
            }
        )
    return {
        "width": width,
        "height": height,
        "hand": rng.choice(["left", "right"]),
        "frame": tube,
        "corners": rng.choice(["mitred", "stiles run through", "rails run through"]),
        "mid_rail": rails,
        "brace": braces,
    }


def random_kinds(rng: random.Random) -> dict[str, Any]:
    """Return `random_wishes` with every kind of brace end and root gap that can be wished."""
    wishes = random_wishes(rng)
    wishes["root_gap"] = rng.choice(["0 mm", "1 mm", "1/16 in", "3 mm"])
    for brace in wishes["brace"]:
        brace["crossing"] = rng.choice(["one through", "half lapped"])
        brace["lower_end"] = rng.choice(["corner", "corner", "stile", "rail"])
        brace["upper_end"] = rng.choice(["corner", "corner", "stile", "rail"])
        brace["clear_of_corner"] = rng.choice(["0 mm", "10 mm", "1 in", "60 mm"])
        brace["bead_clearance"] = rng.choice(["0 mm", "0 mm", "4 mm", "1/4 in"])
    return wishes


def leaf_of_kinds(seed: int, **more: Any) -> tuple[LeafPlace, LeafTable, Leaf]:
    """Return a leaf of `random_kinds` from a seed, with its place and table; ``more`` wins."""
    wishes = {**random_kinds(random.Random(seed)), **more}
    return made(wishes.pop("width"), wishes.pop("height"), **wishes)


def random_leaf(seed: int, **more: Any) -> tuple[LeafPlace, LeafTable, Leaf]:
    """Return a leaf of `random_wishes` from a seed, with its place and table; ``more`` wins."""
    wishes = {**random_wishes(random.Random(seed)), **more}
    return made(wishes.pop("width"), wishes.pop("height"), **wishes)
