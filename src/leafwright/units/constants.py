"""Exact factors from customary units to the SI, as fractions.

Sources: the international yard and pound (1 yd = 0.9144 m, 1 lb = 0.453 592 37 kg, exact since
1959) and the standard acceleration of free fall (9.806 65 m/s2, exact), all as restated in NIST
SP 811 (2008), Appendix B. Every other factor is worked out from these, so none is rounded.

Multiply a numpy array by ``float(...)`` of one of these: an array times a Fraction becomes an
array of objects.
"""

from fractions import Fraction

INCH = Fraction(254, 10_000)
"""One inch [m]."""
FOOT = 12 * INCH
"""One foot [m]."""
MILE = 5280 * FOOT
"""One mile [m]."""
MILLIMETRE = Fraction(1, 1000)
"""One millimetre [m]."""
POUND = Fraction(45_359_237, 100_000_000)
"""One pound of mass [kg]."""
STANDARD_GRAVITY = Fraction(980_665, 100_000)
"""Standard acceleration of free fall [m/s2]."""
POUND_FORCE = POUND * STANDARD_GRAVITY
"""One pound of force [N]."""
PSI = POUND_FORCE / INCH**2
"""One pound of force on a square inch [Pa]."""
PSF = POUND_FORCE / FOOT**2
"""One pound of force on a square foot [Pa]."""
FAHRENHEIT_DEGREE = Fraction(5, 9)
"""A difference of one degree Fahrenheit [K]."""
CELSIUS_ZERO = Fraction(27_315, 100)
"""0 degrees Celsius [K]."""
FAHRENHEIT_ZERO = Fraction(45_967, 100) * FAHRENHEIT_DEGREE
"""0 degrees Fahrenheit [K]."""
