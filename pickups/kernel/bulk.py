"""Many rows or keys at once: COPY, the fastest door that PostgreSQL has, and what a statement over
hundreds of them is given. Knows no table."""

from collections.abc import Iterable, Sequence
from typing import Any
from uuid import UUID

import msgspec
from django.db import connection
from psycopg import sql
from psycopg.types.json import Jsonb


def array(values: Iterable[UUID | int]) -> str:
    """Ids or whole numbers as one array literal, for `%s::uuid[]` or `%s::bigint[]`: the driver
    looks at each element of a list, which in a batch of 500 costs more than finding the rows."""
    return "{" + ",".join(v.hex if isinstance(v, UUID) else str(v) for v in values) + "}"


def texts(values: Iterable[str]) -> str:
    """Texts as one array literal, for `%s::text[]`."""
    quoted = (v.replace("\\", "\\\\").replace('"', '\\"') for v in values)
    return "{" + ",".join(f'"{v}"' for v in quoted) + "}"


def jsonb(value: object) -> Jsonb:
    """Plain values for a column of jsonb, by the quick encoder; or rows of many columns, of which
    ids and moments may be some, for `jsonb_to_recordset(%s)`."""
    return Jsonb(value, msgspec.json.encode)


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
