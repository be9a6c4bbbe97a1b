"""The fixed cast: one plant, two stores, two customers, two drivers, a stranger who sees nothing.

Build it once a test with `build()`; a Phone speaks to the server as the shipped app does, over
whatever HTTP client it is given.
"""

from tests.world.cast import World, build
from tests.world.phone import Phone

__all__ = ["Phone", "World", "build"]
