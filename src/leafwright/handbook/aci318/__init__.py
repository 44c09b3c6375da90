"""Anchoring to concrete by ACI 318-19, chapter 17, one module a subject; and bearing (22.8.3).

ACI 318-19, *Building Code Requirements for Structural Concrete*, and its metric edition ACI
318M-19. The clauses quoted were read in two public design guides to chapter 17 of ACI 318-19 and in
public notes of ACI 318M-19, which agree; what was not read there is marked *remembered* where it
stands. The standard itself was not at hand.

Strengths are nominal, at the 5 % fractile; `strength` holds the factors phi that turn one into what
may be used. The chapter knows strength design only: demands are *factored* (ACI 318, chapter 5),
never service loads. All quantities are SI (Pa, m, m2, N), floats or numpy arrays that broadcast;
the constants of the two editions carry units and are converted inside, and `Edition` says which are
meant (they differ by up to 3 %).

What belongs to a product (effective embedment, category, k_c, pull-out and bond, least edge,
spacing and thickness) is an argument from its data sheet or evaluation report, never a default
of this package; where it is missing the result is `Held`.

Not covered: hooked bolts, anchor reinforcement (17.5.2.1), earthquake (17.10), shear lugs (17.11),
fatigue and impact (outside the chapter, 17.1.4).
"""

from leafwright.handbook.aci318 import bearing, bond, limits, shear, strength, tension
from leafwright.handbook.aci318.kinds import CONSTANTS, Constants, Edition, Kind

__all__ = [
    "CONSTANTS",
    "Constants",
    "Edition",
    "Kind",
    "bearing",
    "bond",
    "limits",
    "shear",
    "strength",
    "tension",
]
