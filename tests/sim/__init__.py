"""The fault simulation: the shipped engine on Node against the real server, through real faults."""
