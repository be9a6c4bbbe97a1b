"""Writing many rows at once: COPY, the fastest door that PostgreSQL has. Knows no table."""

from collections.abc import Iterable, Sequence
from typing import Any

from django.db import connection
from psycopg import sql


def copy_in(table: str, columns: Sequence[str], rows: Iterable[Sequence[Any]]) -> None:
    """Insert rows into a table by COPY, in the transaction that is open.

    A row that a constraint forbids raises IntegrityError and the whole transaction is lost: only
    for rows whose keys were checked under a lock.
    """
    statement = sql.SQL("COPY {} ({}) FROM STDIN").format(
        sql.Identifier(table), sql.SQL(", ").join(map(sql.Identifier, columns))
    )
    with connection.cursor() as c, connection.wrap_database_errors, c.cursor.copy(statement) as out:
        for row in rows:
            out.write_row(row)
