"""What a person has to decide. Nothing is dropped because a rule did not foresee it.

A question has a kind, a subject, the facts that raised it, an owner (a role) and an age. The same
question about the same subject is open at most once. Any app above may ask; an answer never
changes a fact, it leads to new ones.
"""
