"""The frame kernel against PyNiteFEA, a general-purpose frame solver, in one run.

The leaf is 1.2 m by 4.4 m of 2 in tube with two mid rails and crossed braces, cut into pieces, in
eight cases that are held in five ways. On both sides only the analysis is timed, not the building
of the model. PyNiteFEA gets its quickest way for a frame of this size: one model for all cases
that are held alike, so that each stiffness matrix is assembled once, the dense solver, and no
stability check. Leafwright's time includes checking the model, turning it into arrays and looking
for mechanisms. Of several runs the quickest counts, on both sides. BLAS has one thread for both:
on matrices as small as these, more are slower.
"""

import itertools
import os
import platform
import sys
import time
from collections.abc import Callable
from pathlib import Path

os.environ["OPENBLAS_NUM_THREADS"] = "1"

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from leafwright.frame.arrays import Variants, variant_model
from leafwright.frame.model import (
    BeamSection,
    Case,
    Element,
    Flags6,
    FrameModel,
    LineLoad,
    Node,
    NodeLoad,
    Support,
)
from leafwright.frame.solve import FrameResult, solve, solve_batch
from tests.frame.pynite import pynite_model

WIDTH, HEIGHT = 1.2, 4.4
PANELS, PIECES = 3, 3
PINS: dict[str, Flags6] = {
    "hang-0": (True, True, True, False, False, False),
    f"hang-{PANELS * PIECES}": (True, False, True, False, False, False),
}
ALONG_Z: Flags6 = (False, False, True, False, False, False)
BLOCK: Flags6 = (False, True, True, False, False, False)
CLAMPED: Flags6 = (True, True, True, True, True, False)
VARIANTS, LOOPED = 1000, 10
SINGLE_TARGET, BATCH_TARGET = 20, 50


def leaf() -> FrameModel:
    """Return the leaf with its eight cases."""
    section = BeamSection("tube", 5.6e-4, 2.07e-7, 2.07e-7, 3.3e-7, 2.4e-4, 2.4e-4, 200e9, 77e9)
    rows = PANELS * PIECES
    at = {}
    for row in range(rows + 1):
        y = HEIGHT * row / rows
        at[f"hang-{row}"] = (0.0, y, 0.0)
        at[f"meet-{row}"] = (WIDTH, y, 0.0)
    chains = {
        "hanging stile": [f"hang-{row}" for row in range(rows + 1)],
        "meeting stile": [f"meet-{row}" for row in range(rows + 1)],
    }
    for level in range(PANELS + 1):
        row = level * PIECES
        at[f"rail-{level}"] = (WIDTH / 2.0, HEIGHT * row / rows, 0.0)
        chains[f"rail-{level}"] = [f"hang-{row}", f"rail-{level}", f"meet-{row}"]
    for panel in range(PANELS):
        low, high = panel * PIECES, (panel + 1) * PIECES
        key = f"cross-{panel}"
        at[key] = (WIDTH / 2.0, HEIGHT * (low + high) / 2.0 / rows, 0.0)
        chains[f"brace-{panel}-through"] = [f"hang-{low}", key, f"meet-{high}"]
        chains[f"brace-{panel}-upper"] = [f"hang-{high}", key]
        chains[f"brace-{panel}-lower"] = [key, f"meet-{low}"]
    elements = tuple(
        Element(f"{member}/{i}", member, a, b, "tube", (0.0, 0.0, 1.0))
        for member, chain in chains.items()
        for i, (a, b) in enumerate(itertools.pairwise(chain))
    )
    return FrameModel(
        tuple(Node(key, place) for key, place in at.items()),
        elements,
        (section,),
        _cases([element.key for element in elements], rows),
    )


def _cases(elements: list[str], rows: int) -> tuple[Case, ...]:
    nose_low, nose_high = "meet-0", f"meet-{rows}"
    pins = tuple(Support(node, fixed) for node, fixed in PINS.items())
    clamped = tuple(Support(node, CLAMPED) for node in PINS)
    latched = (*pins, Support(nose_low, ALONG_Z), Support(nose_high, ALONG_Z))
    open_hung = (*pins, Support(nose_low, ALONG_Z))
    propped = (*pins, Support(nose_low, BLOCK))
    lying = tuple(
        Support(node, (node == "hang-0", node != "meet-0", True, False, False, False))
        for node in ("hang-0", "meet-0", f"hang-{rows}", nose_high)
    )

    def everywhere(force: tuple[float, float, float]) -> tuple[LineLoad, ...]:
        return tuple(LineLoad(element, force, force) for element in elements)

    weight, wind = everywhere((0.0, -55.0, 0.0)), everywhere((0.0, 0.0, 90.0))
    rider = (NodeLoad(nose_low, (0.0, -900.0, 0.0)),)
    return (
        Case("hung", "own weight", open_hung, (), weight),
        Case("rider", "a rider at the nose", open_hung, rider, weight),
        Case("wind", "wind, pins free", latched, (), (*weight, *wind)),
        Case("suction", "wind from behind", latched, (), (*weight, *everywhere((0, 0, -90.0)))),
        Case("bind", "wind, pins clamped", (*clamped, latched[2]), (), (*weight, *wind)),
        Case("prop", "nose on a block", propped, (), weight),
        Case("kick", "a kick at the nose", latched, (NodeLoad(nose_high, (0, 0, 400.0)),), weight),
        Case("flat", "lying on stands", lying, (), everywhere((0.0, 0.0, -55.0))),
    )


def least_time(work: Callable[[], object], runs: int) -> float:
    """Return the least time of several runs [s]."""
    work()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def pynite_time(model: FrameModel, runs: int) -> float:
    """Return PyNiteFEA's least time to analyse all cases of the model [s]."""
    alike: dict[tuple[Support, ...], list[Case]] = {}
    for case in model.cases:
        alike.setdefault(case.supports, []).append(case)
    times = []
    for _ in range(runs):
        twins = [pynite_model(model, tuple(cases)) for cases in alike.values()]
        start = time.perf_counter()
        for twin in twins:
            twin.analyze_linear(check_stability=False, sparse=False)
        times.append(time.perf_counter() - start)
    return min(times)


def random_variants(model: FrameModel) -> Variants:
    """Return a thousand leaves of other sizes, tubes and loads."""
    rng = np.random.default_rng(1)
    at = np.array([node.at for node in model.nodes])
    section = model.sections[0]
    row = np.array(
        [
            section.area,
            section.inertia_y,
            section.inertia_z,
            section.torsion,
            section.shear_area_y or np.inf,
            section.shear_area_z or np.inf,
            section.elastic_modulus,
            section.shear_modulus,
        ]
    )
    share = rng.uniform(0.7, 2.0, (VARIANTS, 1, 1))
    sizes = np.ones((VARIANTS, 1, 8))
    sizes[..., :6] = share
    lines = np.zeros((1, len(model.cases), len(model.elements), 6))
    places = {element.key: i for i, element in enumerate(model.elements)}
    for c, case in enumerate(model.cases):
        for load in case.line_loads:
            lines[0, c, places[load.element]] += (*load.start, *load.end)
    return Variants(
        coordinates=at * rng.uniform(0.7, 1.4, (VARIANTS, 1, 3)),
        sections=row * sizes,
        line_loads=lines * share[..., None],
    )


def main() -> None:
    """Print the ratios of both solvers' times."""
    model = leaf()
    result = solve(model)
    assert isinstance(result, FrameResult), result
    held = len({case.supports for case in model.cases})
    print(
        f"{platform.machine()}, {os.cpu_count()} processors, Python {platform.python_version()}, "
        f"numpy {np.__version__}"
    )
    print(
        f"leaf: {len(model.nodes)} nodes, {len(model.elements)} elements, "
        f"{len(model.cases)} cases held in {held} ways"
    )
    theirs = pynite_time(model, 5)
    ours = least_time(lambda: solve(model), 100)
    print(f"one leaf: {1e3 * ours:.2f} ms, PyNiteFEA {1e3 * theirs:.0f} ms")
    print(f"  ratio {theirs / ours:.0f} (target {SINGLE_TARGET})")
    variants = random_variants(model)
    batch = least_time(lambda: solve_batch(model, variants), 5)
    some = [variant_model(model, variants, v) for v in range(LOOPED)]
    looped = sum(pynite_time(one, 1) for one in some) * VARIANTS / LOOPED
    print(
        f"{VARIANTS} variants: {batch:.3f} s, {1e3 * batch / VARIANTS:.3f} ms each; "
        f"PyNiteFEA {looped:.0f} s (from the first {LOOPED} of them, one run each)"
    )
    print(f"  ratio {looped / batch:.0f} (target {BATCH_TARGET})")


if __name__ == "__main__":
    main()
