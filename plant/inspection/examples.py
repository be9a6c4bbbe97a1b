"""Examples of what a plant's system posts, for the published schema. Pure."""

from typing import Any

FINDING_EXAMPLE: dict[str, Any] = {
    "id": "019d1a50-7c00-7a11-9b6e-3d5f0a7c2e01",
    "label": "K7000Y02",
    "station": "initial-inspection",
    "outcome": "repair",
    "happened_at": "2026-04-21T08:14:00-05:00",
    "operator": "17",
    "findings": [
        {"zone": "crown", "kind": "nail hole", "size_mm": 6.5, "action": "section repair"}
    ],
}
BATCH_EXAMPLE: dict[str, Any] = {
    "events": [
        FINDING_EXAMPLE,
        {
            "id": "019d1a50-8f40-7c52-8a01-6b1e9d3f4a02",
            "label": "K7000Y02",
            "station": "buffing",
            "outcome": "passed",
            "happened_at": "2026-04-21T08:31:00-05:00",
            "machine": "buffer-2",
            "measured": {"circumference_mm": 3182.5, "crown_width_mm": 228},
        },
    ]
}
LINES_EXAMPLE: dict[str, Any] = BATCH_EXAMPLE["events"][1]
