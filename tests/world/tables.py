"""What stands in the tables, for tests that say "nothing was written"."""

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection


def contents() -> dict[str, str]:
    """Every table by name: how many rows it has and a digest of all of them."""
    with connection.cursor() as c:
        tables = connection.introspection.table_names(c)
        each = " UNION ALL ".join(
            f"SELECT '{t}', count(*) || ' rows ' || coalesce(md5(string_agg(r, '' ORDER BY r)), '')"
            f" FROM (SELECT t::text r FROM {t} t) {t}_rows"
            for t in tables
        )
        c.execute(each)
        return dict(c.fetchall())


@contextmanager
def nothing_written() -> Iterator[None]:
    """Fails where any row of any table was added, changed or removed meanwhile."""
    before = contents()
    yield
    after = contents()
    assert {t: v for t, v in after.items() if v != before[t]} == {}
