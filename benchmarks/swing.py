"""How long the swing of a pair takes, its floor included.

Prints each figure beside its target on two cores and their ratio, and names the machine.
"""

from __future__ import annotations

import platform
import statistics
import time
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from leafwright.doorway.outline import Cover, DoorwayPlan, LeafPlan, ScrewHeads, block
from leafwright.doorway.swing import Swing, swing

INCH = 0.0254
WIDTH = 2.5


def milliseconds(work: Callable[[], object], runs: int) -> float:
    """Return the median time of some work [ms]."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(1000 * (time.perf_counter() - start))
    return statistics.median(times)


def _leaf(swings: str) -> LeafPlan:
    return LeafPlan(
        key="left",
        hand="left",
        swing=swings,
        hinge_edge=0.022,
        width=WIDTH / 2 - 0.022 - 0.004,
        axis=INCH,
        frame_half=INCH,
        bottom=0.02,
        height=4.4,
        covers=(Cover("face", 0.010, 0.02), Cover("back", 0.006)),
        screw_heads=(ScrewHeads("face", 0.003, 0.01, 0.04),),
    )


def _doorway() -> DoorwayPlan:
    depth = {"back": -INCH, "front": INCH}
    wall = {"back": -0.25, "front": 0.15}
    return DoorwayPlan(
        (
            block("left/jamb", "left jamb post", "jamb", left=-0.05, right=0, side="left", **depth),
            block(
                "right/jamb",
                "right jamb post",
                "jamb",
                left=WIDTH,
                right=WIDTH + 0.05,
                side="right",
                **depth,
            ),
            block(
                "left/reveal",
                "left side of the reveal",
                "reveal",
                left=-0.4,
                right=-0.06,
                side="left",
                **wall,
            ),
            block(
                "right/reveal",
                "right side of the reveal",
                "reveal",
                left=WIDTH + 0.06,
                right=WIDTH + 0.4,
                side="right",
                **wall,
            ),
            block("bench", "bench", "obstacle", left=-0.9, right=-0.5, back=0.3, front=1.0),
        )
    )


def _floor(x: np.ndarray, z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    return 0.004 * np.sin(2 * x + z), np.full(x.shape, 0.001)


def _swung(swings: str, *, meeting: float = 0.008) -> Swing:
    left = replace(_leaf(swings), width=WIDTH / 2 - 0.022 - meeting / 2)
    right = replace(left, key="right", hand="right", hinge_edge=WIDTH - left.hinge_edge)
    return swing([left, right], _doorway(), running_clearance=0.005, floor=_floor)


def _row(name: str, took: float, target: float) -> None:
    print(f"{name:46} {took:8.1f} ms   target {target:6.0f} ms   ratio {took / target:5.2f}")


def main() -> None:
    """Time a pair and print the table."""
    print(f"{platform.machine()}, {platform.python_implementation()} {platform.python_version()}")
    _row("pair, one way, 181 angles", milliseconds(lambda: _swung("toward"), 15), 60)
    _row("pair, both ways, 181 angles", milliseconds(lambda: _swung("both"), 15), 60)
    _row(
        "pair that needs a bevel, one way",
        milliseconds(lambda: _swung("toward", meeting=0.0006), 15),
        60,
    )


if __name__ == "__main__":
    main()
