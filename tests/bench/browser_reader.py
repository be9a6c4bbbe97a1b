"""The browser's reader of symbols, in Node: what each of the scanner's stages reads of pictures."""

import json
import subprocess
import tempfile
from collections.abc import Sequence
from typing import Any

from PIL import Image

from pickups.config.places import PROJECT
from tests.pickups.labels.pictures import TIRE

SCRIPT = PROJECT / "frontend/tests/bridge/read_pictures.mjs"


def read(pictures: Sequence[Image.Image]) -> list[dict[str, Any]]:
    """Of each picture the texts of the `first` stage and of the `full` one, and their `ms`."""
    wide, high = max(p.width for p in pictures), max(p.height for p in pictures)
    with tempfile.NamedTemporaryFile(suffix=".grey") as file:
        for picture in pictures:
            sheet = Image.new("L", (wide, high), TIRE)
            sheet.paste(picture, (0, 0))
            file.write(sheet.tobytes())
        file.flush()
        command = ["node", str(SCRIPT), file.name, str(wide), str(high)]
        said = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    return [json.loads(line) for line in said.splitlines()]
