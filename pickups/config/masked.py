"""Lines of the log, with the token of a customer's mailed link left out wherever it stands.

Whoever reads the log could open the link. What is written is masked as a whole, tracebacks too,
since Django names the address of every request that it refuses.
"""

import logging
import re

_TOKEN = re.compile(r"(/(?:c|R)/)[^\s'\"<>]+", re.IGNORECASE)


class Masked(logging.Formatter):
    """The usual line, after masking."""

    def format(self, record: logging.LogRecord) -> str:
        """One record as text without tokens."""
        return _TOKEN.sub(r"\1…", super().format(record))
