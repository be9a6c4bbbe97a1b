"""Temperatures and pressures: kept in °C and kPa, read and shown as a gauge is marked. Pure.

Pressures are gauge pressures, as a chamber's dial shows them: 0 is the air around it.
Sources: 0 °C is 32 °F and 1 °F is 5/9 °C; 1 lbf/in² is 4.448 221 615 260 5 N on 0.0254 m squared,
1 bar is 100 kPa (NIST SP 811, appendix B.8; all exact).
"""

PSI_KPA = 4.4482216152605 / 0.0254**2 / 1000
KELVIN = 273.15

TEMPERATURES = ("c", "f")
PRESSURES = ("kpa", "psi", "bar")
_KPA = {"kpa": 1.0, "psi": PSI_KPA, "bar": 100.0}


def celsius(value: float, unit: str) -> float:
    """A temperature in °C from one in `c` or `f`."""
    return value if unit == "c" else (value - 32) * 5 / 9


def fahrenheit(celsius: float) -> float:
    """The same temperature in °F."""
    return celsius * 9 / 5 + 32


def kpa(value: float, unit: str) -> float:
    """A pressure in kPa from one in `kpa`, `psi` or `bar`."""
    return value * _KPA[unit]


def psi(kpa: float) -> float:
    """The same pressure in psi."""
    return kpa / PSI_KPA
