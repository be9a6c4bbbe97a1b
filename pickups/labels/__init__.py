"""Labels: their grammar and check, and which codes were printed for whom.

A label names one work order while it lasts; which one is read from the facts that custody keeps,
never from here. A range is two symbols; rolls are spans of serials in it. A store prints in the
range of its newest roll; its devices ask for labels and their drawing at /api/labels/. A roll is
its store's until it is allocated to a driver. A label found damaged before use is void from here;
one that a casing wore gives way by custody's relabel.
"""
