"""What everything rests on: bytes in, one form, one hash, ids, order of locks."""
