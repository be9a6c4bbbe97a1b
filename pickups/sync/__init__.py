"""How a phone's operations reach the server and what is new reaches the phone. Mechanism only.

It knows devices, operations, scope keys, versions and bytes; it knows no casing and no customer.
What an operation means is wired in by config (COMMANDS), as is what a row of the feed holds
(BODIES) and which scope keys a device may see (SCOPES). The protocol stands in wire.py.
Bound: no entered fact lost, none applied twice, all phones equal once connected.
"""
