"""Area M of the check values: what a door may take to open. Row M01; the others name nothing here.

M03, M04, M06, M07 and M09 (sweep of a closer, threshold, hot work, smooth toe) are for wording: the
sheets send their reader to the local rules and give no figure.
"""

from __future__ import annotations

import pytest

from leafwright.site.drift import ADA, LIMITS
from leafwright.units.constants import POUND_FORCE


def test_force_to_open_an_inside_door() -> None:
    # M01: 2010 ADA Standards 404.2.9 (search excerpt): 5 lbf, 22.2 N, interior hinged doors.
    limits = [force for force, _, source in LIMITS if source == ADA]
    assert limits == [5.0]
    assert ADA.clause == "404.2.9"
    assert limits[0] * float(POUND_FORCE) == pytest.approx(22.2, abs=0.05)
