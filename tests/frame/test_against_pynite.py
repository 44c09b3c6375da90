"""Agreement with PyNiteFEA, an independent frame solver, on random leaf-like frames in space.

PyNiteFEA leaves shear deformation out, so the comparison does too; shear has its own exact tests.
"""

import numpy as np
import pytest

from leafwright.frame.element import Floats
from leafwright.frame.solve import FrameResult, solve
from tests.frame.leaves import random_leaf
from tests.frame.pynite import pynite_arrays
from tests.sizes import cases

# Both solve the same equations in double precision; what is left is their conditioning.
TOLERANCE = 1e-6


def difference(ours: Floats, theirs: Floats) -> float:
    """Return the largest difference, relative to the largest of its kind in its case.

    The kinds are the moving and the turning, or the forces and the moments.
    """
    kinds = theirs.reshape(*theirs.shape[:2], -1, 2, 3)
    largest = np.abs(kinds).max(axis=(1, 2, 4), keepdims=True)
    return float((np.abs(ours.reshape(kinds.shape) - kinds) / largest).max())


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_movements_reactions_and_end_forces_agree(seed: int) -> None:
    model = random_leaf(seed)
    result = solve(model, shear=False)
    assert isinstance(result, FrameResult), result
    moved, back, ends = pynite_arrays(model, result)
    assert difference(result.displacements, moved) < TOLERANCE
    assert difference(result.reactions, back) < TOLERANCE
    assert difference(result.end_forces, ends) < TOLERANCE
