"""Coped ends against points of two tubes in space: lengths, volume, touch and no overlap."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from numpy.typing import NDArray

from leafwright.handbook import outlines
from leafwright.handbook.copes import common_volume, saddle_nearest, saddle_reach
from leafwright.leaf import Plane, Saddle, cut_bar
from tests.leaves import INCH, made
from tests.sizes import cases

Floats = NDArray[np.float64]
PIPE = "pipe 1-1/2 STD"
TALL = {"height": 3.2, "width": 1.4}


def fibres(outside: float, inside: float, count: int = 400) -> tuple[Floats, Floats, Floats]:
    """Return u, z and area of pieces of a ring, by rings and turns."""
    edges = np.linspace(inside, outside, 41)
    radii, rings = (edges[:-1] + edges[1:]) / 2, np.diff(edges)
    turns = 2 * np.pi * (np.arange(count) + 0.5) / count
    r, a = np.meshgrid(radii, turns, indexing="ij")
    area = r * rings[:, None] * (2 * np.pi / count)
    return (r * np.cos(a)).ravel(), (r * np.sin(a)).ravel(), area.ravel()


@pytest.mark.parametrize("seed", range(cases(10, 200)))
def test_a_coped_bar_is_what_its_fibres_add_up_to(seed: int) -> None:
    # Each fibre is followed until it meets the other bar's outside, held back by the gap along
    # that bar's normal; half of the cases are of equal bars, whose tips run out to nothing.
    rng = random.Random(seed)
    outside = rng.uniform(0.015, 0.05)
    bore = outside - rng.uniform(0.0015, 0.006)
    other = outside if seed % 2 else outside * rng.uniform(1.02, 2.0)
    theta, gap = rng.uniform(0.5, math.pi - 0.5), rng.choice([0.0, 0.0016])
    at_end = rng.random() < 0.5
    turned = rng.uniform(0, 2 * math.pi)
    along = np.array([math.cos(turned), math.sin(turned)])
    across = np.array([-along[1], along[0]])
    foot = np.array([rng.uniform(-1, 1), rng.uniform(-1, 1)])
    normal = math.sin(theta) * along + math.cos(theta) * across
    far = 0.7
    sign = 1.0 if at_end else -1.0
    middle = float(normal @ (foot + far * along)) * sign
    saddle = Saddle(tuple(sign * normal), middle - gap, other, bore)
    square = [Plane(tuple(-sign * along), float(-sign * (along @ foot)))]
    if not at_end:
        square = [Plane(tuple(along), float(along @ (foot + 1.5 * along)))]
    bar = cut_bar(
        outlines.round_tube(2 * outside, outside - bore),
        2 * outside,
        tuple(foot),
        tuple(along),
        start=square if at_end else saddle,
        end=saddle if at_end else square,
    )
    u, z, area = fibres(outside, bore)
    # Where a fibre meets the axis' plane, and how much sooner it meets the bar round it.
    reach = far - u / math.tan(theta) - sign * (gap + np.sqrt(other**2 - z**2)) / math.sin(theta)
    begin, end = (np.zeros_like(u), reach) if at_end else (reach, np.full_like(u, 1.5))
    volume = float((area * (end - begin)).sum())
    assert bar.volume == pytest.approx(volume, rel=2e-5)
    s = float((area * (end**2 - begin**2) / 2).sum()) / volume
    v = float((area * u * (end - begin)).sum()) / volume
    assert bar.centroid == pytest.approx(tuple(foot + s * along + v * across), abs=2e-5)
    turn = 2 * np.pi * np.arange(4000) / 4000
    u, z = outside * np.cos(turn), outside * np.sin(turn)
    edge = far - u / math.tan(theta) - sign * (gap + np.sqrt(other**2 - z**2)) / math.sin(theta)
    long = edge.max() if at_end else 1.5 - edge.min()
    short = edge.min() if at_end else 1.5 - edge.max()
    assert bar.long == pytest.approx(long, abs=1e-7)
    assert bar.short == pytest.approx(short, abs=1e-9)
    cut = bar.end if at_end else bar.start
    assert cut.saddle == saddle
    back = np.interp(u + outside, *np.array(cut.profile).T)
    found = edge.max() - edge if at_end else edge - edge.min()
    # Of unequal bars the edge is curved and drawn in straight lines.
    assert np.abs(back - found).max() < (1e-9 if other == outside else outside / 100)
    # The published saddle, from the side of the sharper angle.
    sharp = min(theta, math.pi - theta)
    k = saddle_nearest(outside, other, sharp)
    for turned_by in (0.0, 1.0, 2.0, math.pi):
        d = saddle_reach(outside, other, sharp, turned_by)
        u_at = outside * math.cos(turned_by) * sign * (1.0 if theta < math.pi / 2 else -1.0)
        assert np.interp(u_at + outside, *np.array(cut.profile).T) == pytest.approx(
            d - k, abs=1e-9 if other == outside else outside / 100
        )


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("through", ["rising", "falling"])
@pytest.mark.parametrize("gap", ["0 mm", "1/16 in"])
def test_an_x_of_round_tube_closes(hand: str, through: str, gap: str) -> None:
    # Points round the edge and through the wall of each half, as the drawing's numbers make them:
    # none inside the through bar, and the outside edge no farther off than the root gap.
    brace = {"pattern": "X", "section": PIPE, "through": through}
    _, _, leaf = made(1.4, 3.2, hand=hand, root_gap=gap, brace=[brace])
    by_key = {m.key.split("/")[-1]: m for m in leaf.members if "brace" in m.key}
    bar = by_key["through"]
    r = bar.section.width / 2
    wide = {"0 mm": 0.0, "1/16 in": INCH / 16}[gap]
    for name in ("lower", "upper"):
        half = by_key[name]
        assert half.bar.long == pytest.approx(half.length.value, abs=1e-9)
        cut = half.bar.end if name == "lower" else half.bar.start
        assert cut.saddle is not None
        sign = 1.0 if name == "lower" else -1.0
        d, f = np.array(half.direction), np.array(half.foot)
        a = np.array([-d[1], d[0]])
        ends = [(np.array(p) - f) @ d for p in half.bar.outline]
        long = max(ends) if name == "lower" else min(ends)
        turn = np.linspace(0, 2 * np.pi, 721)
        for radius in np.linspace(cut.saddle.bore, r, 5):
            u, z = radius * np.cos(turn), radius * np.sin(turn)
            n = np.array(cut.saddle.normal)
            s = (cut.saddle.offset - np.sqrt(r**2 - z**2) - n @ f - u * (n @ a)) / (n @ d)
            assert (sign * (long - s)).min() > -1e-9
            at = f + s[:, None] * d + u[:, None] * a - np.array(bar.foot)
            t = np.array(bar.direction)
            off = np.hypot(at[:, 1] * t[0] - at[:, 0] * t[1], z) - r
            assert off.min() > -1e-9
            if radius == r:
                assert off.max() == pytest.approx(wide, abs=1e-9)
                back = np.interp(u + r, *np.array(cut.profile).T)
                assert sign * (long - s) == pytest.approx(back, abs=1e-9)


def test_the_shared_solid_refuses_what_is_none() -> None:
    with pytest.raises(ValueError, match="smaller radius first"):
        common_volume(0.2, 0.1)
    with pytest.raises(ValueError, match="r = 0"):
        common_volume(0.0, 0.1)
