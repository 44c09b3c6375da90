"""Cut lengths of braces worked by hand: the examples' own, and one of each kind of end.

Square tube of width b; the clear panel between the tubes is W wide and H high, and the brace
slopes by a over the rails.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from leafwright import load_job, plan
from leafwright.leaf import Leaf
from tests.leaves import INCH, made

EXAMPLES = Path(__file__).parents[2] / "examples"
MM = 1e-3


def example(name: str) -> list[Leaf]:
    found = plan(load_job(EXAMPLES / f"{name}.toml").job, upto="leaf").leaves
    return [leaf for leaf in found if isinstance(leaf, Leaf)]


def lengths(leaf: Leaf) -> dict[str, float]:
    return {m.key.split("/", 1)[1]: m.length.value for m in leaf.members}


def test_braces_of_the_boathouse() -> None:
    # Each leaf is 58.929 in wide and 165 in high, of 2-1/2 in tube, with a mid rail half way up.
    # W = 58.929 - 2 x 2.5 = 53.929 in. The mid rail takes 2.5 in of the 160 in between bottom and
    # top rail, and two panels share the rest: H = (165 - 3 x 2.5) / 2 = 78.75 in.
    # sqrt(53.929^2 + 78.75^2) = sqrt(2908.3 + 6201.6) = sqrt(9109.9) = 95.446 in.
    for leaf in example("boathouse"):
        assert leaf.width / INCH == pytest.approx(58.929, abs=5e-4)
        assert leaf.height / INCH == pytest.approx(165.0)
        for brace in ("brace-1", "brace-2"):
            assert lengths(leaf)[brace] / INCH == pytest.approx(95.446, abs=1e-3)


def test_braces_of_the_kiln_shed() -> None:
    # 973.6 x 2269.05 mm of 40 mm tube, a mid rail half way up. W = 973.6 - 80 = 893.6 mm,
    # H = (2269.05 - 120) / 2 = 1074.5 mm, sqrt(893.6^2 + 1074.5^2) = sqrt(798.5e3 + 1154.6e3)
    # = 1397.5 mm.
    (leaf,) = example("kiln-shed")
    assert (leaf.width / MM, leaf.height / MM) == pytest.approx((973.6, 2269.05), abs=0.05)
    for brace in ("brace-1", "brace-2"):
        assert lengths(leaf)[brace] / MM == pytest.approx(1397.5, abs=0.06)


def test_rods_of_the_yard_gate() -> None:
    # 118 x 78 in of 2 in tube: the rod crosses 114 x 74 in of clear leaf and stops 3 in short of
    # each corner: sqrt(114^2 + 74^2) - 6 = sqrt(12996 + 5476) - 6 = 135.912 - 6 = 129.912 in.
    for leaf in example("yard-gate"):
        assert (leaf.width / INCH, leaf.height / INCH) == pytest.approx((118.0, 78.0))
        assert lengths(leaf)["brace-0"] / INCH == pytest.approx(129.912, abs=1e-3)


# Every panel below is chosen so that the brace's triangle is 3 : 4 : 5, b = 40 mm.
#
# A wedged end's long point is the corner. A root gap g keeps both its faces off theirs: g cos a
# + g sin a along the bar. Room c for the corner's bead leaves the farther of the two points
# (c, g) and (g, c) from the corner: c times the lesser of cos a and sin a, g times the greater.
# An end on the stile alone, e clear of the rail, covers b / cos a of the stile's face; its centre
# line starts e + b / (2 cos a) up and its long point is b/2 tan a beyond. On the rail likewise,
# with sin for cos and cot for tan.
BY_HAND = [
    # W 1200, H 900: 1500
    ("wedged", 1200, 900, {}, 0, 1500.0),
    # 1500 - 2 x 2 (0.8 + 0.6)
    ("wedged, root gap 2", 1200, 900, {}, 2, 1494.4),
    # 1500 - 2 x 6 x 0.6
    ("wedged, bead 6", 1200, 900, {"bead_clearance": "6 mm"}, 0, 1492.8),
    # 1500 - 2 (6 x 0.6 + 2 x 0.8)
    ("wedged, bead 6, root gap 2", 1200, 900, {"bead_clearance": "6 mm"}, 2, 1489.6),
    # On both stiles 25 clear: each covers 40/0.8 = 50, so the line rises 1000 - 2 x 50 = 900 over
    # 1200: 1500; and each long point is 20 x 3/4 = 15 beyond.
    ("stile and stile", 1200, 1000, {"lower_end": "stile", "upper_end": "stile"}, 0, 1530.0),
    # The same turned round, on the rails.
    ("rail and rail", 1000, 1200, {"lower_end": "rail", "upper_end": "rail"}, 0, 1530.0),
    # Stile below: starts 25 + 25 up. Rail above: ends 25 + 20/0.6 = 58.33 in. It rises 925 - 50
    # = 875 over 1225 - 58.33 = 1166.67: 1458.33; long points 20 x 3/4 = 15 and 20 x 4/3 = 26.67.
    ("stile and rail", 1225, 925, {"lower_end": "stile", "upper_end": "rail"}, 0, 1500.0),
    # Root gap 2 on both stiles: cut at 2 and 1198, each 25 clear and covering 50, so it rises
    # 997 - 100 = 897 over 1196, of which 3/4 is 897: 1495; long points 15 beyond.
    ("stiles, root gap 2", 1200, 997, {"lower_end": "stile", "upper_end": "stile"}, 2, 1525.0),
]


@pytest.mark.parametrize(("what", "wide", "high", "wishes", "gap", "long"), BY_HAND)
def test_one_brace_of_each_kind(
    what: str, wide: float, high: float, wishes: dict[str, str], gap: float, long: float
) -> None:
    leaf = made(
        (wide + 80) * MM,
        (high + 80) * MM,
        frame="SHS 40 x 40 x 3",
        root_gap=f"{gap} mm",
        brace=[{"pattern": "one diagonal", "clear_of_corner": "25 mm", **wishes}],
    )[2]
    brace = leaf.members[-1]
    assert brace.length.value / MM == pytest.approx(long, abs=1e-9), what
    c, s = (abs(v) for v in brace.direction)
    assert {round(c, 9), round(s, 9)} == {0.6, 0.8}


@pytest.mark.parametrize(
    ("gap", "half"),
    [
        # Crossing at 2a: sin 0.96, cos 0.28. 1500/2 - 20/0.96 + 20 x 0.28/0.96 = 735.
        (0, 735.0),
        # Less 2 (0.8 + 0.6) in the corner and 2/0.96 at the bar between: 730.117.
        (2, 735.0 - 2.8 - 2 / 0.96),
    ],
)
def test_halves_of_an_x(gap: float, half: float) -> None:
    leaf = made(
        1.28, 0.98, frame="SHS 40 x 40 x 3", root_gap=f"{gap} mm", brace=[{"pattern": "X"}]
    )[2]
    found = lengths(leaf)
    assert found["brace-1/lower"] / MM == pytest.approx(half, abs=1e-9)
    assert found["brace-1/upper"] / MM == pytest.approx(half, abs=1e-9)


def test_rails_and_stiles_are_shorter_by_the_root_gap_at_each_end() -> None:
    for corners, stile, rail in (
        ("stiles run through", 3.0, 1.2 - 2 * 0.04 - 2 * 0.002),
        ("rails run through", 3.0 - 2 * 0.04 - 2 * 0.002, 1.2),
        # Half of the gap on either side of the mitre, which lies at 45 degrees.
        ("mitred", 3.0 - 0.002 * math.sqrt(2), 1.2 - 0.002 * math.sqrt(2)),
    ):
        leaf = made(1.2, 3.0, frame="SHS 40 x 40 x 3", corners=corners, root_gap="2 mm")[2]
        assert lengths(leaf)["hanging stile"] == pytest.approx(stile, abs=1e-12)
        assert lengths(leaf)["bottom rail"] == pytest.approx(rail, abs=1e-12)
