"""Tilt-in of a pair of leaves, both leaves solved: found, obstructed, and from either side.

The leaves are 44 x 174 in of 2 in tube, clad on one face, each under its own head, with plate and
pin on the floor. Beside it stands a plain grid of poses that a uniform search of the same fineness
would have to look at. The least time of several runs counts.
"""

import math
import os
import platform
import time

os.environ["OPENBLAS_NUM_THREADS"] = "1"

from leafwright.site.poses import Box, Part
from leafwright.site.tilt_in import (
    Building,
    Floor,
    Hang,
    Head,
    PosePath,
    Side,
    SideSection,
    TiltIn,
    Wishes,
    standing_pivot,
    tilt_in,
)

INCH = 0.0254
HEIGHT, WIDTH, HALF = 174 * INCH, 44 * INCH, 1 * INCH
TARGET = 0.2


def section(key: str) -> SideSection:
    frame = Part("the frame", 0.0, HEIGHT, -HALF, HALF)
    boards = Part("the boards", 0.0, HEIGHT, -HALF - 0.75 * INCH, -HALF)
    return SideSection(key, HEIGHT, (frame, boards))


def building(head: float) -> Building:
    """Return what one leaf goes through, its head at a height [in]."""
    pivot = standing_pivot(0.0, 6 * INCH, 0.5 * INCH, 1.5 * INCH, 5 * INCH)
    lift = Box("the scissor lift", -4.0, -2.0, 0.0, 2.0)
    return Building(
        Floor(0.0), Head(head * INCH, -6 * INCH, 6 * INCH, "the transom"), (*pivot, lift)
    )


def pair(heads: tuple[float, float], side: Side | None) -> list[TiltIn]:
    hang, wishes = Hang(1.25 * INCH, 5 * INCH), Wishes(margin=INCH / 8)
    return [
        tilt_in(section(key), WIDTH, building(head), hang, wishes, side)
        for key, head in zip(("left", "right"), heads, strict=True)
    ]


def main() -> None:
    print(f"{platform.machine()}, Python {platform.python_version()}")
    cases: list[tuple[str, tuple[float, float], Side | None]] = [
        ("both go in", (181.25, 181.0), "toward"),
        ("both go in, either side tried", (181.25, 181.0), None),
        ("one is obstructed", (181.25, 180.0), "toward"),
    ]
    for name, heads, side in cases:
        best = math.inf
        for _ in range(7):
            start = time.perf_counter()
            found = pair(heads, side)
            best = min(best, time.perf_counter() - start)
        boxes = sum(answer.boxes_of_poses for one in found for answer in one.sides)
        words = ", ".join(type(one.best).__name__ for one in found)
        print(f"{name:32} {1e3 * best:6.0f} ms  {boxes:5} boxes of poses  ({words})")
        for one in found:
            if isinstance(one.best, PosePath):
                low, high = one.best.headroom
                kicks = one.best.kick_out_at_least, one.best.kick_out
                print(
                    f"    {one.key:5} headroom {low / INCH:.3f} to {high / INCH:.3f} in, foot off "
                    f"the middle {kicks[0] / INCH:.1f} to {kicks[1] / INCH:.1f} in"
                )
    fine = (6.25 * INCH / 1e-3) * (1.8 / 1e-3) * (math.pi / 2 * HEIGHT / 1e-3)
    print(f"a grid of 1 mm would have {fine:.1e} poses")
    print(f"target: a pair in {1e3 * TARGET:.0f} ms")


if __name__ == "__main__":
    main()
