"""The default route of a precure plant, and bounds of what a plant enters. Pure.

The route is common practice, no published source. A plant starts from it and changes it as data;
nothing in the code depends on a station being there. Standard times have no default: what a plant
needs only the plant can say, and until it has nothing is promised.
"""

LONGEST_DAYS = 60
"""Working days; a standard time beyond is taken for a slip. Our own figure."""


def monday_to_friday() -> list[int]:
    """The days that a calendar begins with, to be changed on the same page."""
    return list(range(5))


DEFAULT_ROUTE: tuple[tuple[str, str, str], ...] = (
    ("receiving", "Receiving", "Falling stacks, forklifts, standing water, wire ends."),
    ("cleaning", "Cleaning and drying", ""),
    ("initial-inspection", "Initial inspection", "Spreader pinch points, wires."),
    ("electrical-test", "Electrical test", "High voltage: dry casing, guards closed."),
    ("shearography", "Shearography", "Laser class of the machine, chamber lid."),
    ("buffing", "Buffing", "Eyes, ears, no loose gloves; rubber dust burns."),
    ("skiving", "Skiving", "Eyes, cuts."),
    ("repair", "Repair", ""),
    ("cementing", "Cementing", "Solvent vapour: no ordinary tablet or scanner in the booth."),
    ("cushion-gum", "Cushion gum", ""),
    ("building", "Building", ""),
    ("enveloping", "Enveloping", ""),
    ("curing", "Curing", "Pressure vessel: interlock and lockout are the machine's."),
    ("stripping", "Stripping", "Hot casings."),
    ("final-ndt", "Final NDT", ""),
    (
        "final-inspection",
        "Final inspection",
        "Inflate only in a restraining device (29 CFR 1910.177).",
    ),
    ("paint", "Paint and brand", ""),
    ("shipping", "Shipping", "Lifting, rolling tires."),
)
