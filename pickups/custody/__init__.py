"""The ledgers: who had which casing when, kept as facts that are never changed.

A fact says what happened; the server cannot refuse it. State is a pure function of the set of
facts (fold.py), whatever the order, repetition or delay of their arrival. Facts are keyed by
label: a plant may speak of a label before the driver's phone has found a signal; such facts wait
and are adopted when the label's pick_up arrives. A label on two casings is contested: its facts
stay with the label and nothing about it leaves the house until a person has decided.

Every write takes the lock keys of its labels and pickups first (pickups.kernel.locks).
"""
