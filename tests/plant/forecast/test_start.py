"""What a web process loads at its start: nothing that compiles, which takes seconds and much room.

Our own cost; no published source.
"""

import os
import subprocess
import sys

from pickups.config import places

LOADED = (
    "import sys, django; django.setup(); import pickups.config.urls, pickups.config.wiring;"
    " print('numba' in sys.modules, 'plant.forecast.making' in sys.modules)"
)


def test_the_compiler_is_loaded_only_where_something_is_computed() -> None:
    told = subprocess.run(
        [sys.executable, "-c", LOADED],
        cwd=places.PROJECT,
        env=os.environ | {"DJANGO_SETTINGS_MODULE": "pickups.config.settings"},
        capture_output=True,
        text=True,
        check=True,
    )
    assert told.stdout.split() == ["False", "True"]
