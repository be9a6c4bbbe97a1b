"""How the forecast's inner loops are compiled: once for a machine, by numba, kept beside the
sources. Pure.

numba keeps what it compiled under the age of one source file and does not see that a function which
it calls stands in another that changed. So it is kept in a folder named for the text of all sources
of this package: another text is another folder. Where nothing can be written it is compiled
anew in each process.
"""

import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import numba

_HERE = Path(__file__).parent
_Loop = TypeVar("_Loop", bound=Callable[..., object])


def _sources() -> str:
    told = hashlib.sha256(numba.__version__.encode())
    for source in sorted(_HERE.glob("*.py")):
        told.update(source.name.encode() + b"\0" + source.read_bytes())
    return told.hexdigest()[:16]


_KEPT = _HERE / "__pycache__" / f"compiled-{_sources()}"


def compiled(loop: _Loop) -> _Loop:
    """The same function, compiled at its first call for each kind of arguments; it gives up
    Python's lock while it runs."""
    before = numba.config.CACHE_DIR
    numba.config.CACHE_DIR = str(_KEPT)
    try:
        made: _Loop = numba.njit(cache=True, nogil=True, error_model="numpy")(loop)
    finally:
        numba.config.CACHE_DIR = before
    return made
