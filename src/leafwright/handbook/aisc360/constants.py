"""Constants of steel as ANSI/AISC 360-22 takes them, converted exactly to SI.

1 ksi = 1000 lbf/in2, with 1 lb = 0.45359237 kg, 1 in = 0.0254 m (international pound and inch,
1959) and standard gravity 9.80665 m/s2 (3rd CGPM, 1901): all three exact by definition.
"""

from typing import Final

# kip per square inch [Pa]
KSI: Final = 1000.0 * 0.45359237 * 9.80665 / 0.0254**2

# Modulus of elasticity of steel [Pa]: 29,000 ksi (ANSI/AISC 360-22, E3 and Table B4.1). The
# specification rounds it to 200 000 MPa for its own SI use; this is 29,000 ksi itself, 199 948 MPa.
E: Final = 29_000.0 * KSI

# Shear modulus of elasticity of steel [Pa]: 11,200 ksi (ANSI/AISC 360-22, E4, below Eq. E4-7).
G: Final = 11_200.0 * KSI
