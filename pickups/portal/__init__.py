"""What a customer sees: their own casings, where each is and what happened to it; owns no tables.

A mailed link is swapped for a session of its own kind, which opens nothing of the office, as the
office's opens nothing here. Everything is limited to the contact's customer: what belongs to
another is answered exactly as what is not there. While a label is contested nothing of it is
shown; a rejected casing is never shown as finished. Pages are made on the server: no script.
"""
