"""How a door says no: problem details (RFC 9457)."""

from typing import Any

from tests.world.phone import Reply


def refused(reply: Reply, status: int, code: str) -> dict[str, Any]:
    """The problem document of a refusal (RFC 9457)."""
    assert reply.status == status, reply.body
    assert reply.headers["Content-Type"] == "application/problem+json"
    problem: dict[str, Any] = reply.json
    assert (problem["status"], problem["code"]) == (status, code)
    assert problem["title"]
    assert problem["detail"]
    return problem
