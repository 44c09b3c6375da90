"""What `problems` says about a frame that cannot be analysed."""

import dataclasses
import math

import pytest

from leafwright.frame.model import (
    NOT_RELEASED,
    Case,
    Element,
    Flags6,
    FrameError,
    FrameModel,
    LineLoad,
    Node,
    NodeLoad,
    PointLoad,
    Support,
    problems,
)
from leafwright.frame.solve import solve
from tests.frame.leaves import FIXED, straight, tube

SPUN: Flags6 = (False, False, False, True, False, False)
SLID: Flags6 = (True, False, False, False, False, False)
SWUNG: Flags6 = (False, True, False, False, False, True)


def sound() -> FrameModel:
    return straight(2, 2.0, (Case("held", "held", (Support("0", FIXED),)),))


def changed(model: FrameModel, element: int, **changes: object) -> FrameModel:
    elements = list(model.elements)
    elements[element] = dataclasses.replace(elements[element], **changes)  # type: ignore[arg-type]
    return dataclasses.replace(model, elements=tuple(elements))


def loaded(model: FrameModel, **loads: object) -> FrameModel:
    case = dataclasses.replace(model.cases[0], **loads)  # type: ignore[arg-type]
    return dataclasses.replace(model, cases=(case,))


def test_a_sound_frame_has_none() -> None:
    assert problems(sound()) == []


@pytest.mark.parametrize(
    ("model", "message"),
    [
        (
            changed(sound(), 1, end="22"),
            "element 'beam/1' of 'beam': there is no node '22'; did you mean '2'?",
        ),
        (
            changed(sound(), 0, section="tub"),
            "element 'beam/0' of 'beam': there is no section 'tub'; did you mean 'tube'?",
        ),
        (
            changed(sound(), 0, section="flat bar"),
            "element 'beam/0' of 'beam': there is no section 'flat bar'; the frame has 1 sections",
        ),
        (
            changed(sound(), 1, end="1"),
            "element 'beam/1' of 'beam' is 0.0 m long between '1' and '1'; "
            "join them in one node or part them",
        ),
        (
            changed(sound(), 0, reference=(-3.0, 0.0, 0.0)),
            "element 'beam/0' of 'beam': the reference (-3.0, 0.0, 0.0) does not point away from "
            "the element's own axis; give a vector that crosses it",
        ),
        (
            changed(sound(), 0, releases_start=SPUN, releases_end=SPUN),
            "element 'beam/0' of 'beam' can spin about its own axis; hold rx at one end",
        ),
        (
            changed(sound(), 0, releases_start=SLID, releases_end=SLID),
            "element 'beam/0' of 'beam' can slide along its own axis; hold u at one end",
        ),
        (
            changed(sound(), 0, releases_start=SWUNG, releases_end=SWUNG),
            "element 'beam/0' of 'beam' is released so far that it can swing loose; "
            "hold more of v or rz",
        ),
        (
            changed(sound(), 0, releases_start=SLID, tension_only=True),
            "element 'beam/0' of 'beam' pulls only along its axis, and that is released; "
            "hold u at both ends",
        ),
        (
            dataclasses.replace(sound(), nodes=(*sound().nodes, Node("spare", (9.0, 0.0, 0.0)))),
            "node 'spare' is joined to no element; join it or leave it out",
        ),
        (
            dataclasses.replace(sound(), nodes=(*sound().nodes, Node("1", (9.0, 0.0, 0.0)))),
            "node '1' is there twice; every node needs its own key",
        ),
        (
            dataclasses.replace(sound(), cases=()),
            "the frame has no load case; give it at least one",
        ),
        (
            dataclasses.replace(sound(), sections=(dataclasses.replace(tube(), torsion=0.0),)),
            "section 'tube': torsion is 0.0; it must be a positive number",
        ),
        (
            dataclasses.replace(sound(), sections=(tube(shear_area=-1.0),)),
            "section 'tube': shear_area_y is -1.0; it must be a positive number",
        ),
        (
            loaded(sound(), supports=(Support("heel", FIXED),)),
            "case 'held', support: there is no node 'heel'; the frame has 3 nodes",
        ),
        (
            loaded(sound(), supports=(Support("0", FIXED), Support("0", FIXED))),
            "case 'held': node '0' has two supports; make them one",
        ),
        (
            loaded(sound(), supports=(Support("0", FIXED, (5.0, 0.0, 0.0, 0.0, 0.0, 0.0)),)),
            "case 'held': node '0' is both fixed and sprung in one direction; choose one",
        ),
        (
            loaded(
                sound(), supports=(Support("0", NOT_RELEASED, (-5.0, 0.0, 0.0, 0.0, 0.0, 0.0)),)
            ),
            "case 'held': the springs at node '0' are (-5.0, 0.0, 0.0, 0.0, 0.0, 0.0); "
            "give stiffnesses of zero or more",
        ),
        (
            loaded(sound(), line_loads=(LineLoad("beam", (0.0,) * 3, (0.0,) * 3),)),
            "case 'held', line load: there is no element 'beam'; did you mean 'beam/1'?",
        ),
        (
            loaded(sound(), point_loads=(PointLoad("beam/0", 1.5, (0.0, 1.0, 0.0)),)),
            "case 'held': the point load at 1.5 m is off element 'beam/0', which is 1.0 m long; "
            "place it from 0 to there",
        ),
        (
            loaded(sound(), node_loads=(NodeLoad("2", (0.0, math.nan, 0.0)),)),
            "case 'held': the load on node '2' is not finite: "
            "NodeLoad(node='2', force=(0.0, nan, 0.0), moment=(0.0, 0.0, 0.0))",
        ),
        (
            loaded(
                changed(sound(), 0, tension_only=True),
                point_loads=(PointLoad("beam/0", 0.5, (0.0, 1.0, 0.0), (0.0, 0.0, 7.0)),),
            ),
            "case 'held': element 'beam/0' is a rod and takes no moment, but one of "
            "(0.0, 0.0, 7.0) N m is put on it; put it on a node",
        ),
    ],
)
def test_each_problem_says_what_and_where(model: FrameModel, message: str) -> None:
    assert message in problems(model)


def test_all_problems_are_reported_together_and_stop_the_solver() -> None:
    model = changed(sound(), 0, section="bar")
    model = loaded(model, supports=(Support("x", FIXED),))
    with pytest.raises(FrameError) as caught:
        solve(model)
    assert str(caught.value) == (
        "this frame cannot be analysed: element 'beam/0' of 'beam': there is no section 'bar'; "
        "the frame has 1 sections; case 'held', support: there is no node 'x'; "
        "the frame has 3 nodes"
    )


def test_a_release_that_leaves_an_element_held_is_no_problem() -> None:
    hinged: Flags6 = (False, False, False, False, True, True)
    guided: Flags6 = (False, True, False, False, False, False)
    model = sound()
    assert problems(changed(model, 0, releases_start=hinged, releases_end=hinged)) == []
    assert problems(changed(model, 0, releases_start=guided)) == []
    rod = Element("rod", "rod", "0", "2", "tube", (0.0, 1.0, 0.0), tension_only=True)
    assert problems(dataclasses.replace(model, elements=(*model.elements, rod))) == []
