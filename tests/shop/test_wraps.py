"""Templates of round tube: against points of the tube in space, and the saddle of two tubes."""

from __future__ import annotations

import itertools
import math
import random
import re
from pathlib import Path

import numpy as np
import pytest

from leafwright.handbook import outlines
from leafwright.handbook.copes import saddle_reach
from leafwright.job.file import read_job
from leafwright.leaf import Plane, cut_bar
from leafwright.paper.scene import Polyline
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.wraps import _parts, template, wrap_sheets, wrapped_ends
from leafwright.pipeline import plan
from leafwright.shop.wraps import STATIONS, wrap_of
from tests.sizes import cases

EXAMPLES = Path(__file__).parents[2] / "examples"

DEGREE = math.pi / 180


@pytest.mark.parametrize("seed", range(cases(8, 200)))
def test_a_template_is_the_tube_unrolled(seed: int) -> None:
    # A round tube cut by its planes in space, walked round on its outside and inside: what is
    # left of each fibre is cut back to the nearest plane. The paper is unrolled the other way
    # about at either end, for it is read with the end up.
    rng = random.Random(seed)
    outside, wall = rng.uniform(0.02, 0.12), rng.uniform(0.001, 0.006)
    planes = [
        (math.cos(a), math.sin(a))
        for a in ([rng.uniform(0.05, 1.3), -rng.uniform(0.05, 1.3)][: rng.randint(1, 2)])
    ]
    side = rng.choice(["start", "end"])
    tube = outlines.round_tube(outside, wall)
    at_end = [Plane((c, s), c * 1.0) for c, s in planes]
    square = [Plane((1.0, 0.0), 1.0)]
    start = [Plane((-p.normal[0], p.normal[1]), 0.0) for p in at_end]
    left = [Plane((-1.0, 0.0), 0.0)]
    bar = cut_bar(
        tube,
        outside,
        (0.0, 0.0),
        (1.0, 0.0),
        start=start if side == "start" else left,
        end=at_end if side == "end" else square,
    )
    cut = bar.start if side == "start" else bar.end
    wrap = wrap_of(cut.profile, side, outside, wall)  # type: ignore[arg-type]
    assert wrap.around == pytest.approx(math.pi * outside)
    assert len(wrap.stations) == STATIONS + 1
    # Read with the end up: a right end's paper runs to the right over the back first (away from
    # the viewer), a left end's over the face (toward the viewer).
    toward = 1.0 if side == "start" else -1.0
    assert wrap.first == ("face" if side == "start" else "back")
    reach = []
    for around, _ in wrap.line:
        turn = 2 * around / outside
        up, out = -math.cos(turn), toward * math.sin(turn)
        assert math.hypot(up, out) == pytest.approx(1.0)
        fibre = []
        for radius in (outside / 2, outside / 2 - wall):
            y = radius * up
            ends = [
                (p.offset - p.normal[1] * y) / p.normal[0]
                for p in (at_end if side == "end" else start)
            ]
            fibre.append(min(ends) if side == "end" else -max(ends))
        reach.append(fibre)
    found = np.array(reach)
    longest = max(
        max(p[0] for p in bar.outline) if side == "end" else -min(p[0] for p in bar.outline),
        -math.inf,
    )
    back = longest - found.min(axis=1)
    assert np.array([b for _, b in wrap.line]) == pytest.approx(back, abs=1e-9)
    assert wrap.opening == pytest.approx(np.abs(found[:, 0] - found[:, 1]).max(), abs=1e-9)


@pytest.mark.parametrize("seed", range(cases(8, 200)))
def test_a_saddle_lies_on_both_cylinders(seed: int) -> None:
    # The branch's axis leaves the crossing at theta from the other tube's; the point that far
    # along it, on the branch's surface, must lie a radius from the other axis.
    rng = random.Random(seed)
    R = rng.uniform(0.02, 0.1)
    r, theta = R * rng.uniform(0.2, 1.0), rng.uniform(20, 90) * DEGREE
    along = np.array([math.cos(theta), math.sin(theta), 0.0])
    sharp = np.array([math.sin(theta), -math.cos(theta), 0.0])
    for phi in np.linspace(0.0, 2 * math.pi, 37):
        d = saddle_reach(r, R, theta, float(phi))
        point = d * along + r * (math.cos(phi) * sharp + math.sin(phi) * np.array([0.0, 0.0, 1.0]))
        assert math.hypot(point[1], point[2]) == pytest.approx(R)
        assert point[1] >= -1e-12


@pytest.mark.parametrize(("r", "R", "theta"), [(0.0, 1.0, 1.0), (1.1, 1.0, 1.0), (0.5, 1.0, 2.0)])
def test_no_saddle_is_refused_in_words(r: float, R: float, theta: float) -> None:
    with pytest.raises(ValueError, match=r"above 0|no saddle|up to 90"):
        saddle_reach(r, R, theta, 0.0)


def test_a_round_brace_has_its_templates_at_true_size() -> None:
    text = (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")
    round_brace = '[{ pattern = "one diagonal", foot = "hanging stile", section = "Pipe 2 Std" }]'
    text = re.sub(r"(?m)^brace = .*$", f"brace = {round_brace}", text)
    at = desk(plan(read_job(text), upto="shop"))
    ends = wrapped_ends(at)
    assert [name for _, name, _ in ends] == ["left end", "right end"]
    for sheet, (_, _, wrap) in zip(wrap_sheets(at), ends, strict=True):
        assert sheet.block is not None and sheet.block.scale == "full size, 1:1"
        # Pipe of 2.375 in: its line is 189.5 mm long on the paper, to the printed millimetre.
        lines = [p for p in sheet.items if isinstance(p, Polyline) and len(p.points) > 100]
        across = [x for x, _ in lines[0].points]
        assert max(across) - min(across) == pytest.approx(math.pi * 2.375 * 25.4)
        down = [y for _, y in lines[0].points]
        assert max(down) - min(down) == pytest.approx(1000 * wrap.back)


@pytest.mark.parametrize("wide", [0.06, 0.1, 0.1895, 0.4])
def test_the_parts_of_a_template_lap_and_leave_nothing_out(wide: float) -> None:
    wrap = wrap_of(((0.0, 0.0), (0.06, 0.05)), "end", 0.06, 0.004)
    parts = _parts(wrap.around, wide)
    assert parts[0][0] == 0.0
    assert parts[-1][1] == wrap.around
    for (start, stop), (after, _) in itertools.pairwise(parts):
        assert stop - start <= wide + 1e-12
        assert stop - after == pytest.approx(0.015)
    reached = [
        point
        for start, stop in parts
        for item in template(wrap, "", start=start, stop=stop).items
        if isinstance(item, Polyline)
        for point in item.points
    ]
    assert {round(x, 9) for x, _ in wrap.line} <= {round(x, 9) for x, _ in reached}
