"""Who sees the plant's pages, who decides on them, and the ways between them. Pure."""

SEES = frozenset({"plant", "admin", "dispatcher", "sales"})
DECIDES = frozenset({"plant", "admin"})
"""Who answers for the plant: its supervisors, who are in the role of an operator, and
administrators."""
STOPS = frozenset({"plant", "dispatcher", "admin"})
"""Who writes to owners to take casings out of service, and follows it up."""

WAYS: tuple[tuple[str, str], ...] = (
    ("floor", "way_day"),
    ("plant-forecast", "way_forecast"),
    ("suppose", "way_suppose"),
    ("rush", "way_rush"),
    ("unlabelled", "way_unlabelled"),
    ("plant-loads", "way_loads"),
    ("plant-trace", "way_trace"),
    ("plant-adjustments", "way_adjustments"),
    ("trucks", "way_trucks"),
    ("plant-route", "way_route"),
    ("repair-limits", "way_limits"),
    ("tread-targets", "way_targets"),
)
"""The navigation: name of an address and key of its word, in the order in which they stand."""
