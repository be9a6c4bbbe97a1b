"""Several things at once, each in a thread with a connection of its own to the database."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from django.db import connections

T = TypeVar("T")


def at_once(*jobs: Callable[[], T]) -> list[T]:
    """Run the jobs together; their results in order. The first that raised, raises here."""

    def run(job: Callable[[], T]) -> T:
        try:
            return job()
        finally:
            connections.close_all()

    with ThreadPoolExecutor(len(jobs)) as pool:
        return [future.result() for future in [pool.submit(run, job) for job in jobs]]
