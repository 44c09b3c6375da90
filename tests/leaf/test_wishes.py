"""What a maker wishes of a leaf: what is made of it, under what keys and marks, and what is held."""

from __future__ import annotations

import random
from typing import Any

import pytest

from leafwright.leaf import Leaf, design_leaf
from leafwright.records import Held
from tests.leaves import INCH, STEEL, made, place, random_leaf, random_wishes, table
from tests.sizes import cases

ROD = {"pattern": "rod", "section": "round bar 1/2 in"}


def designed(width: float, height: float, **wishes: Any) -> Leaf | Held:
    return design_leaf(place(width, height), table(**wishes), STEEL, system="metric", pair=True)


def held(width: float, height: float, **wishes: Any) -> Held:
    leaf = designed(width, height, **wishes)
    assert isinstance(leaf, Held), leaf
    return leaf


@pytest.mark.parametrize(
    ("wishes", "why", "needs"),
    [
        (
            {"frame": "round mechanical tube 2 x 0.120 in"},
            "a frame of round tube needs its ends coped, which is not there yet",
            "a frame of square or rectangular tube",
        ),
        (
            {"frame": "angle 2 x 2 x 1/4 in"},
            "a frame of angle 2 x 2 x 1/4 in is not there yet: which way its legs point cannot "
            "be said",
            "a frame of square or rectangular tube",
        ),
        (
            {"mid_rail": [{"height": "3.2 m"}]},
            "top rail centre is not above mid rail 1 centre by more than a tube",
            "mid rails inside the leaf and apart from one another",
        ),
        (
            {"mid_rail": [{"height": "1.03 m"}, {"height": "1.0 m"}]},
            "mid rail 2 centre is not above mid rail 1 centre by more than a tube",
            "mid rails inside the leaf and apart from one another",
        ),
        (
            {"mid_rail": [{"at": "half"}, {"at": "half"}]},
            "mid rail 2 centre is not above mid rail 1 centre by more than a tube",
            "mid rails inside the leaf and apart from one another",
        ),
        (
            {"brace": [{"pattern": "X", "panel": 2}]},
            "there is no panel 2 to brace",
            "a panel from 1 (the lowest) to 1",
        ),
        (
            {"brace": [{"pattern": "X", "panel": 0}]},
            "there is no panel 0 to brace",
            "a panel from 1 (the lowest) to 1",
        ),
        (
            {"brace": [{"pattern": "X"}, {"pattern": "one diagonal"}]},
            "each panel is braced twice",
            'one brace for each panel; two tubes that cross are pattern = "X"',
        ),
        (
            {
                "brace": [
                    {**ROD, "panel": "whole leaf"},
                    {**ROD, "panel": "whole leaf", "foot": "hanging stile"},
                ]
            },
            "the whole leaf is braced twice",
            'one brace for the whole leaf; two tubes that cross are pattern = "X"',
        ),
        (
            {"brace": [{"pattern": "rod", "panel": 1}]},
            "the rod over panel 1 has no section",
            'its section, as in section = "round bar 1/2 in"',
        ),
        (
            {"brace": [{"pattern": "X", "section": "round mechanical tube 2 x 0.120 in"}]},
            "an X of round mechanical tube 2 x 0.12 in needs the halves coped to the round bar "
            "between them, which is not there yet",
            "an X of square or rectangular tube, one diagonal, or a rod",
        ),
        (
            {"brace": [{"pattern": "one diagonal", "section": "angle 2 x 2 x 1/4 in"}]},
            "a brace of angle 2 x 2 x 1/4 in is not there yet: which way its legs point cannot "
            "be said",
            "a brace of tube, flat or round bar",
        ),
        (
            {"mid_rail": [{"height": "150 mm"}], "brace": [{"pattern": "one diagonal"}]},
            "",
            "",
        ),
    ],
)
def test_what_cannot_be_made_is_held_with_what_would_do(
    wishes: dict[str, Any], why: str, needs: str
) -> None:
    found = designed(1.2, 3.0, **wishes)
    if not why:
        assert isinstance(found, Leaf)
        return
    assert isinstance(found, Held)
    assert (found.why, found.needs) == (why, (needs,))
