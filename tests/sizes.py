"""How many seeded random cases a test runs: few in `make test`, many in `make sweep`."""

import os


def cases(usual: int, sweep: int) -> int:
    """Return ``usual``, or ``sweep`` when the environment asks for the long run."""
    return sweep if os.environ.get("LEAFWRIGHT_SWEEP") == "1" else usual
