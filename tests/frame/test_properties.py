"""What must hold for every frame: equilibrium, superposition, reciprocity, no choice of axes."""

import dataclasses

import numpy as np
import pytest

from leafwright.frame.element import Floats
from leafwright.frame.equilibrium import balance
from leafwright.frame.model import Case, FrameModel, LineLoad, Node, NodeLoad, PointLoad, Support
from leafwright.frame.solve import FrameResult, solve
from tests.frame.leaves import FIXED, random_leaf, straight, three, with_cases
from tests.sizes import cases

SEEDS = range(cases(25, 500))

# Rounding, magnified by the frames' condition (short elements beside long ones).
TOLERANCE = 1e-8


def solved(model: FrameModel) -> FrameResult:
    result = solve(model)
    assert isinstance(result, FrameResult), result
    return result


def close(ours: Floats, theirs: Floats) -> bool:
    """Return whether two arrays (…, 6) agree, moving and turning each by its own size."""
    kinds = theirs.reshape(*theirs.shape[:-1], -1, 2, 3)
    size = np.abs(kinds).max(axis=tuple(i for i in range(kinds.ndim) if i != kinds.ndim - 2))
    gap = np.abs(ours.reshape(kinds.shape) - kinds)
    return bool((gap <= TOLERANCE * size[:, None]).all())


def turned(vector: tuple[float, float, float], turn: Floats) -> tuple[float, float, float]:
    x, y, z = (turn @ np.array(vector)).tolist()
    return x, y, z


@pytest.mark.parametrize("seed", SEEDS)
def test_the_supports_give_back_what_is_put_on(seed: int) -> None:
    model = random_leaf(seed)
    found = balance(model, solved(model))
    assert found.relative.max() < TOLERANCE
    assert np.abs(found.residual).max() <= TOLERANCE * np.abs(found.loads).max()


def test_the_balance_shows_a_reaction_that_is_wrong() -> None:
    model = random_leaf(0)
    result = solved(model)
    reactions = result.reactions.copy()
    reactions[0, 0, 1] += 50.0
    found = balance(model, dataclasses.replace(result, reactions=reactions))
    assert found.residual[0, 1] == pytest.approx(50.0)
    assert found.relative[0] > 1e-3


def test_the_balance_sums_loads_of_every_kind_by_hand() -> None:
    # A beam from x = 0 to 3 m: 10 N/m growing to 40 N/m down is 75 N at 1.8 m; then 5 N up at
    # 1 m with a moment of 2 N m about z, and 7 N toward the viewer at the tip.
    case = Case(
        "all",
        "all",
        (Support("0", FIXED),),
        node_loads=(NodeLoad("1", (0.0, 0.0, 7.0)),),
        line_loads=(LineLoad("beam/0", (0.0, -10.0, 0.0), (0.0, -40.0, 0.0)),),
        point_loads=(PointLoad("beam/0", 1.0, (0.0, 5.0, 0.0), (0.0, 0.0, 2.0)),),
    )
    model = straight(1, 3.0, (case,))
    found = balance(model, solved(model))
    expected = [0.0, -70.0, 7.0, 0.0, -21.0, -75.0 * 1.8 + 5.0 + 2.0]
    assert found.loads[0] == pytest.approx(expected)
    assert found.reactions[0] == pytest.approx([-x for x in expected])


@pytest.mark.parametrize("seed", SEEDS)
def test_twice_the_load_is_twice_the_answer_and_loads_add_up(seed: int) -> None:
    model = random_leaf(seed)
    case = model.cases[0]
    bare = dataclasses.replace(case, node_loads=(), line_loads=(), point_loads=())
    parts = [
        dataclasses.replace(bare, key="nodes", node_loads=case.node_loads),
        dataclasses.replace(bare, key="lines", line_loads=case.line_loads),
        dataclasses.replace(bare, key="points", point_loads=case.point_loads),
    ]
    double = dataclasses.replace(
        case,
        key="double",
        node_loads=case.node_loads * 2,
        line_loads=case.line_loads * 2,
        point_loads=case.point_loads * 2,
    )
    result = solved(with_cases(model, case, double, *parts))
    for array in (result.displacements, result.reactions, result.end_forces):
        assert close(array[1], 2.0 * array[0])
        assert close(array[2:].sum(axis=0), array[0])


@pytest.mark.parametrize("seed", SEEDS)
def test_work_is_reciprocal(seed: int) -> None:
    # Betti: the loads of one case do the same work on the other's movements as the reverse.
    model = random_leaf(seed)
    rng = np.random.default_rng(seed)
    loads = [
        tuple(NodeLoad(node.key, three(rng, 1e3), three(rng, 1e3)) for node in model.nodes)
        for _ in range(2)
    ]
    held = dataclasses.replace(model.cases[0], line_loads=(), point_loads=())
    result = solved(
        with_cases(
            model, *(dataclasses.replace(held, key=f"{i}", node_loads=loads[i]) for i in (0, 1))
        )
    )
    forces = np.array([[(*load.force, *load.moment) for load in case] for case in loads])
    first = float((forces[0] * result.displacements[1]).sum())
    second = float((forces[1] * result.displacements[0]).sum())
    scale = float(np.abs(forces[0] * result.displacements[1]).sum())
    assert abs(first - second) <= TOLERANCE * scale


def turned_model(model: FrameModel, turn: Floats, away: Floats) -> FrameModel:
    """Return the frame turned and moved in space; its supports must hold alike in all axes."""

    def place(node: Node) -> Node:
        x, y, z = (turn @ np.array(node.at) + away).tolist()
        return Node(node.key, (x, y, z))

    return FrameModel(
        tuple(place(node) for node in model.nodes),
        tuple(dataclasses.replace(e, reference=turned(e.reference, turn)) for e in model.elements),
        model.sections,
        tuple(
            dataclasses.replace(
                case,
                node_loads=tuple(
                    NodeLoad(p.node, turned(p.force, turn), turned(p.moment, turn))
                    for p in case.node_loads
                ),
                line_loads=tuple(
                    LineLoad(p.element, turned(p.start, turn), turned(p.end, turn))
                    for p in case.line_loads
                ),
                point_loads=tuple(
                    PointLoad(p.element, p.at, turned(p.force, turn), turned(p.moment, turn))
                    for p in case.point_loads
                ),
            )
            for case in model.cases
        ),
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_turning_the_whole_frame_turns_the_answer(seed: int) -> None:
    rng = np.random.default_rng(seed)
    turn = np.linalg.qr(rng.normal(size=(3, 3)))[0]
    turn *= np.linalg.det(turn)
    model = random_leaf(seed)
    springs = (3e6, 3e6, 3e6, 2e5, 2e5, 2e5)
    supports = (
        Support(model.nodes[0].key, FIXED),
        Support(model.nodes[-1].key, (False,) * 6, springs),
    )
    model = with_cases(model, dataclasses.replace(model.cases[0], supports=supports))
    before = solved(model)
    after = solved(turned_model(model, turn, rng.uniform(-5.0, 5.0, 3)))
    assert close(after.end_forces, before.end_forces)
    for ours, theirs in (
        (after.displacements, before.displacements),
        (after.reactions, before.reactions),
    ):
        both = theirs.reshape(*theirs.shape[:2], 2, 3) @ turn.T
        assert close(ours, both.reshape(theirs.shape))


@pytest.mark.parametrize("seed", SEEDS)
def test_millimetres_give_the_same_answer_as_metres(seed: int) -> None:
    model = random_leaf(seed)
    mm = 1000.0

    def three_times(vector: tuple[float, float, float], scale: float) -> tuple[float, float, float]:
        a, b, c = vector
        return a * scale, b * scale, c * scale

    scaled = FrameModel(
        tuple(Node(n.key, three_times(n.at, mm)) for n in model.nodes),
        model.elements,
        tuple(
            dataclasses.replace(
                s,
                area=s.area * mm**2,
                inertia_y=s.inertia_y * mm**4,
                inertia_z=s.inertia_z * mm**4,
                torsion=s.torsion * mm**4,
                shear_area_y=(s.shear_area_y or 0.0) * mm**2,
                shear_area_z=(s.shear_area_z or 0.0) * mm**2,
                elastic_modulus=s.elastic_modulus / mm**2,
                shear_modulus=s.shear_modulus / mm**2,
            )
            for s in model.sections
        ),
        tuple(
            dataclasses.replace(
                case,
                supports=tuple(
                    dataclasses.replace(
                        s,
                        springs=s.springs
                        and (
                            *three_times(s.springs[:3], 1.0 / mm),
                            *three_times(s.springs[3:], mm),
                        ),
                    )
                    for s in case.supports
                ),
                node_loads=tuple(
                    NodeLoad(p.node, p.force, three_times(p.moment, mm)) for p in case.node_loads
                ),
                line_loads=tuple(
                    LineLoad(
                        p.element, three_times(p.start, 1.0 / mm), three_times(p.end, 1.0 / mm)
                    )
                    for p in case.line_loads
                ),
                point_loads=tuple(
                    PointLoad(p.element, p.at * mm, p.force, three_times(p.moment, mm))
                    for p in case.point_loads
                ),
            )
            for case in model.cases
        ),
    )
    metres, millimetres = solved(model), solved(scaled)
    moves = np.array([mm, mm, mm, 1.0, 1.0, 1.0])
    pushes = np.array([1.0, 1.0, 1.0, mm, mm, mm])
    assert close(millimetres.displacements, metres.displacements * moves)
    assert close(millimetres.reactions, metres.reactions * pushes)
    assert close(millimetres.end_forces, metres.end_forces * np.tile(pushes, 2))


def test_results_cannot_be_written_to() -> None:
    result = solved(random_leaf(1))
    with pytest.raises(ValueError, match="read-only"):
        result.displacements[0, 0, 0] = 1.0
