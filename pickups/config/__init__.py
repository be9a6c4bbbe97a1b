"""The composition root: settings, addresses, wiring, and the supervisor that starts it all.

The only place that sees both areas, pickups/ and plant/. Two deployments differ by their
environment only; every variable is read in settings.py and named there.
It holds no rule of the trade.
"""
