"""What every app may rest on: clock, ids, refusals, locks, wire. No tables, no noun of the trade.

clock, ids and wire are pure (no Django); locks and problems know Django and DRF, nothing above.
"""
