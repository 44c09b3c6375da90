"""Many variants at once: the same answers as one by one, and clear words about bad arrays."""

import dataclasses

import numpy as np
import pytest

from leafwright.frame.arrays import Variants, variant_model
from leafwright.frame.forces import extreme_places, forces_along, internal_forces
from leafwright.frame.model import BeamSection, Case, FrameError, FrameModel, NodeLoad, Support
from leafwright.frame.solve import VARIANTS_AT_ONCE, FrameResult, solve, solve_batch
from leafwright.records import Held
from tests.frame.leaves import FIXED, PINNED, random_leaf, straight
from tests.sizes import cases

ARRAYS = ("displacements", "reactions", "end_forces", "lengths", "axes", "line_loads")


def row(section: BeamSection) -> list[float]:
    return [
        section.area,
        section.inertia_y,
        section.inertia_z,
        section.torsion,
        section.shear_area_y or np.inf,
        section.shear_area_z or np.inf,
        section.elastic_modulus,
        section.shear_modulus,
    ]


def all_arrays(model: FrameModel, seed: int, count: int) -> Variants:
    """Return variants in which every number differs from the model's own."""
    rng = np.random.default_rng(seed)
    at = np.array([node.at for node in model.nodes])
    sections = np.array([row(section) for section in model.sections])
    points = [point for case in model.cases for point in case.point_loads]
    c, n, e, p = len(model.cases), len(model.nodes), len(model.elements), len(points)
    return Variants(
        coordinates=at + rng.uniform(-0.05, 0.05, (count, n, 3)),
        sections=sections * rng.uniform(0.5, 2.0, (count, *sections.shape)),
        node_loads=rng.uniform(-1e3, 1e3, (count, c, n, 6)),
        line_loads=rng.uniform(-5e2, 5e2, (count, c, e, 6)),
        point_at=np.array([0.5 * point.at for point in points]) * rng.uniform(0.1, 1.0, (count, p)),
        point_loads=rng.uniform(-1e3, 1e3, (count, p, 6)),
        load_scale=rng.uniform(-2.0, 2.0, (count, c)),
    )


@pytest.mark.parametrize("seed", range(cases(25, 500)))
@pytest.mark.parametrize("shear", [True, False])
def test_a_batch_equals_a_loop(seed: int, shear: bool) -> None:
    model = random_leaf(seed)
    variants = all_arrays(model, seed, 3)
    batch = solve_batch(model, variants, shear=shear)
    assert not batch.held
    for v in range(3):
        alone = solve(variant_model(model, variants, v), shear=shear)
        assert isinstance(alone, FrameResult)
        for name in ARRAYS:
            ours, theirs = getattr(batch, name)[v], getattr(alone, name)
            assert np.abs(ours - theirs).max() <= 1e-10 * np.abs(theirs).max(), name


def test_more_variants_than_go_together_are_all_solved() -> None:
    model = random_leaf(3)
    count = 2 * VARIANTS_AT_ONCE + 3
    scale = np.linspace(-1.0, 1.0, count)[:, None] * np.ones(len(model.cases))
    batch = solve_batch(model, Variants(load_scale=scale))
    alone = solve(model)
    assert isinstance(alone, FrameResult)
    assert batch.displacements.shape == (count, *alone.displacements.shape)
    expected = scale[:, :, None, None] * alone.displacements
    size = np.abs(alone.displacements).max()
    assert batch.displacements == pytest.approx(expected, abs=1e-10 * size)


def test_a_variant_that_cannot_stand_does_not_stop_the_others() -> None:
    # Two hinged supports hold a cranked beam, but not a straight one, from turning about x.
    hinge = (True, True, True, False, False, False)
    case = Case(
        "c",
        "c",
        (Support("0", hinge), Support("1", hinge), Support("2", PINNED)),
        (NodeLoad("1", (0.0, 0.0, 5.0), (1.0, 1.0, 1.0)),),
    )
    model = straight(2, 2.0, (case,), reference=(0.0, 0.0, 1.0))
    at = np.array([[node.at for node in model.nodes]] * 3)
    at[[0, 2], 1, 1] = 0.5
    batch = solve_batch(model, Variants(coordinates=at))
    ((which, why),) = batch.held
    assert which == 1
    assert isinstance(why, Held)
    assert why.why == (
        "case 'c': nothing holds the frame as a whole (all 3 nodes) from turning about x"
    )
    assert np.isnan(batch.displacements[1]).all()
    assert np.isfinite(batch.displacements[[0, 2]]).all()
    assert isinstance(solve(variant_model(model, Variants(coordinates=at), 0)), FrameResult)


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_internal_forces_of_a_batch_are_those_along_each_element(seed: int) -> None:
    model = random_leaf(seed)
    bare = tuple(dataclasses.replace(case, point_loads=()) for case in model.cases)
    model = dataclasses.replace(model, cases=bare)
    variants = dataclasses.replace(all_arrays(model, seed, 2), point_at=None, point_loads=None)
    batch = solve_batch(model, variants)
    places = extreme_places(batch.end_forces, batch.line_loads, batch.lengths[:, None])
    found = internal_forces(
        batch.end_forces[..., None, :],
        batch.line_loads[..., None, :],
        batch.lengths[:, None, :, None],
        places,
    )
    alone_model = variant_model(model, variants, 1)
    alone = solve(alone_model)
    assert isinstance(alone, FrameResult)
    size = np.abs(found[1]).max()
    for c, case in enumerate(model.cases):
        for e, element in enumerate(model.elements):
            along = forces_along(alone_model, alone, case.key, element.key, places[1, c, e])
            expected = np.stack(
                [along.N, along.V_y, along.V_z, along.T, along.M_y, along.M_z], axis=-1
            )
            assert np.abs(found[1, c, e] - expected).max() <= 1e-8 * size


@pytest.mark.parametrize(
    ("variants", "message"),
    [
        (
            Variants(),
            "the arrays of the variants have {} variants; give at least one array and one variant, "
            "and all with the same length of the first axis",
        ),
        (
            Variants(load_scale=np.ones((0, 1))),
            "the arrays of the variants have {'load_scale': 0} variants; give at least one array "
            "and one variant, and all with the same length of the first axis",
        ),
        (
            Variants(load_scale=np.ones((2, 1)), node_loads=np.ones((3, 1, 3, 6))),
            "the arrays of the variants have {'node_loads': 3, 'load_scale': 2} variants; give at "
            "least one array and one variant, and all with the same length of the first axis",
        ),
        (
            Variants(node_loads=np.ones((4, 1, 3, 3))),
            "node_loads of the variants has the shape (4, 1, 3, 3); this model needs (4, 1, 3, 6)",
        ),
        (
            Variants(line_loads=np.full((1, 1, 2, 6), np.nan)),
            "line_loads of the variants holds numbers that are not finite",
        ),
        (
            Variants(sections=np.array([[[1e-3, 0.0, 1e-6, 1e-6, np.inf, np.inf, 2e11, 8e10]]])),
            "variant 0, section 'tube': inertia_y is 0.0; it must be a positive number",
        ),
        (
            Variants(coordinates=np.zeros((2, 3, 3))),
            "variant 0: element 'beam/0' is 0.0 m long or lies along its own reference; "
            "move its nodes",
        ),
    ],
)
def test_arrays_that_do_not_fit_are_refused(variants: Variants, message: str) -> None:
    model = straight(2, 2.0, (Case("c", "c", (Support("0", FIXED),)),))
    with pytest.raises(FrameError) as caught:
        solve_batch(model, variants)
    assert str(caught.value) == message
