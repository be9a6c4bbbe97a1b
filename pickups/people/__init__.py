"""Who works here and with what: users and their roles, sites, enrolled devices, plant keys.

A device has two credentials. The push cookie sends what the phone holds, also while it is locked;
the read token fetches. Both are kept here only as SHA-256. A device is active, then closing (it
may send, not fetch, for DEVICE_CLOSING_DAYS, and says when it holds nothing more), then revoked;
enrolling again keeps its uid.
"""
