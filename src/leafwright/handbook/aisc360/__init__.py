"""Strength of steel members to ANSI/AISC 360-22, one module a chapter.

ANSI/AISC 360-22, *Specification for Structural Steel Buildings*, August 1, 2022. Clause and
equation numbers were read in two public transcriptions of that edition; where they differ (the
exponent of D/t in F8-4, the root in F7-10, G5-2a and H3-2a) the reading kept here is the one that
joins its neighbouring branch and gives the numbers printed in AISC's Design Examples, v16.0.

All quantities are SI (Pa, m, m2, m3, m4, N, N m). Every argument may be a float or a numpy array;
arguments broadcast, floats give a float (or np.float64) and arrays an array. Strengths are
nominal: `available` turns one into what may be used, by ASD or LRFD. Strengths and demands are
magnitudes, as the specification takes them; a negative one is refused. Outside the limits that a
section states for itself the result is nan, never a number; nan in gives nan out wherever the
argument counts.

A hollow section's t is the *design* wall of B4.2: 0.93 of nominal, except nominal itself for
A1065 and A1085 (and for box sections, which this package does not cover).
"""

from leafwright.handbook.aisc360 import (
    bending,
    classification,
    combined,
    compression,
    constants,
    shear,
    tension,
)
from leafwright.handbook.aisc360.safety import LimitState, Method, available

__all__ = [
    "LimitState",
    "Method",
    "available",
    "bending",
    "classification",
    "combined",
    "compression",
    "constants",
    "shear",
    "tension",
]
