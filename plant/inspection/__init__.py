"""Station events: what a station did with the casing under a label, with its findings.

An event names a label, not a row: the plant may scan a casing before the driver's phone has found
a signal. Event and custody fact are written in one transaction, under the label's lock.
"""
