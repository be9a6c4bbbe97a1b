"""What was promised, on what basis, and the tables from which a promise is offered.

Plants publish their standard times and calendar here, runs its timetable; from both a table is
computed for each store's devices, so that a driver without signal offers what the office would.
A promise names its work order, never the other way round; none is ever overwritten.
"""
