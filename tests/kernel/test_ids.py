"""UUIDv7 as RFC 9562 lays it out; ids derived from a name."""

import secrets
import time
import uuid

import pytest

from pickups.kernel.ids import derived, uuid7


def test_it_is_laid_out_as_the_vector_of_the_standard(monkeypatch: pytest.MonkeyPatch) -> None:
    """RFC 9562, appendix A.6, which also gives the random bits."""
    chance = 0xCC3 << 64 | 0x18C4DC0C0C07398F
    monkeypatch.setattr(secrets, "randbits", lambda bits: chance & (1 << bits) - 1)
    made = uuid7(0x017F22E279B0)
    assert made == uuid.UUID("017F22E2-79B0-7CC3-98C4-DC0C0C07398F")
    assert (made.version, made.variant) == (7, uuid.RFC_4122)


def test_it_says_when_it_was_made_and_is_never_the_same() -> None:
    before = time.time_ns() // 1_000_000
    made = [uuid7() for _ in range(2000)]
    after = time.time_ns() // 1_000_000
    assert len(set(made)) == 2000
    assert all(before <= uid.int >> 80 <= after for uid in made)
    assert {(uid.version, uid.variant) for uid in made} == {(7, uuid.RFC_4122)}


def test_ids_of_later_milliseconds_are_greater() -> None:
    assert uuid7(1_000) < uuid7(1_001) < uuid7(2**47)


def test_a_derived_id_is_that_of_the_standard_and_the_same_every_time() -> None:
    """RFC 9562, appendix A.4: www.example.com in the namespace of DNS names."""
    made = derived(uuid.NAMESPACE_DNS, "www.example.com")
    assert made == uuid.UUID("2ed6657d-e927-568b-95e1-2665a8aea6a2")
