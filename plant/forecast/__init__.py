"""When casings will be finished: a plant simulated from what is in process now.

The plant's stations with their machines, cycle times, shifts and chambers, and the casings that are
known to be on their way, give a distribution of the finishing time for every casing in process and
for one that arrives on a day to come. What the plant did lately corrects it. What comes out is
published down to the trunk's promises; nothing here knows of trucks to a yard, of customers or of
what was promised.
"""
