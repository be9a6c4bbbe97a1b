"""OpenAPI from the wire's structs, so that the schema and the reader can never differ."""

from typing import Any

import msgspec

from pickups.kernel.problems import CONTENT_TYPE, STATUS

_REF = "#/components/schemas/{name}"
_named: dict[str, type] = {}


def takes(shape: type[msgspec.Struct], media_type: str = "application/json") -> dict[str, Any]:
    """A door's request body, for extend_schema."""
    _named[shape.__name__] = shape
    return {media_type: {"$ref": _REF.format(name=shape.__name__)}}


def answers(shape: type[msgspec.Struct], status: int = 200) -> dict[Any, Any]:
    """A door's good answer, for extend_schema."""
    _named[shape.__name__] = shape
    return {(status, "application/json"): {"$ref": _REF.format(name=shape.__name__)}}


def also(*shapes: type[msgspec.Struct]) -> None:
    """Structs that stand in no door by themselves (payloads in an operation)."""
    _named.update({shape.__name__: shape for shape in shapes})


def complete(result: dict[str, Any], generator: Any, request: Any, public: bool) -> dict[str, Any]:
    """Post-processing hook: the structs as components, the problem answers on every door.

    A door that takes a body takes no request without one.
    """
    _, components = msgspec.json.schema_components(_named.values(), ref_template=_REF)
    schemas = result.setdefault("components", {}).setdefault("schemas", {})
    schemas.update(components)
    schemas["Problem"] = _PROBLEM
    problem = {
        "description": "Problem details (RFC 9457)",
        "content": {CONTENT_TYPE: {"schema": {"$ref": _REF.format(name="Problem")}}},
    }
    for operations in result["paths"].values():
        for operation in operations.values():
            if "requestBody" in operation:
                operation["requestBody"]["required"] = True
            for status in sorted({status for status, _ in STATUS.values()}):
                operation["responses"].setdefault(str(status), problem)
    return result


_PROBLEM = {
    "type": "object",
    "required": ["type", "title", "status", "detail", "code", "faults"],
    "properties": {
        "type": {"type": "string"},
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "detail": {"type": "string"},
        "code": {"type": "string"},
        "faults": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["field", "value", "allowed"],
                "properties": {
                    "field": {"type": "string"},
                    "value": {"type": "string"},
                    "allowed": {"type": "string"},
                },
            },
        },
    },
}
