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
from typing import Any, TypeVar, cast

import numba
import numpy as np
from numba.core import cgutils, types
from numba.extending import intrinsic
from numpy.typing import NDArray

_HERE = Path(__file__).parent
_Loop = TypeVar("_Loop", bound=Callable[..., object])
_Table = TypeVar("_Table", bound=NDArray[Any])


def _sources() -> str:
    told = hashlib.sha256(numba.__version__.encode())
    for source in sorted(_HERE.glob("*.py")):
        told.update(source.name.encode() + b"\0" + source.read_bytes())
    return told.hexdigest()[:16]


_KEPT = _HERE / "__pycache__" / f"compiled-{_sources()}"


def compiled(loop: _Loop) -> _Loop:
    """The same function, compiled at its first call for each kind of arguments; it gives up
    Python's lock while it runs."""
    return _made(loop, inside=False)


def inlined(part: _Loop) -> _Loop:
    """A part of such loops, put where it is called."""
    return _made(part, inside=True)


def _made(loop: _Loop, *, inside: bool) -> _Loop:
    config: Any = numba.config
    before = config.CACHE_DIR
    config.CACHE_DIR = str(_KEPT)
    try:
        made: Any = numba.njit(cache=True, nogil=True, error_model="numpy", forceinline=inside)(
            loop
        )
    finally:
        config.CACHE_DIR = before
    return cast(_Loop, made)


def whole(value: int) -> int:
    """A number of 64 bits, which the loops count in: an int to whoever reads types. With Python's
    own each loop would be compiled twice, since numba takes those for literals."""
    return cast(int, np.int64(value))


def _address(_context: Any, address: Any) -> Any:
    def made(_: Any, builder: Any, __: Any, values: Any) -> Any:
        return builder.inttoptr(values[0], cgutils.voidptr_t)

    return types.voidptr(address), made


_pointer: Any = intrinsic(_address)
carray: Any = numba.carray  # type: ignore[attr-defined]


@inlined
def bare(table: _Table) -> _Table:
    """The same array without a count of who holds it: counting took most of the time where arrays
    go from part to part. Only for what the caller of the loop holds until it returns."""
    same: _Table = carray(_pointer(table.ctypes.data), table.shape, table.dtype)
    return same
