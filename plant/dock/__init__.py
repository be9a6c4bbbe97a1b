"""The plant as it is built: its stations and their order, chambers, calendar and shifts, standard
times and repair limits. All of it is data. And what trucks bring and take, held against the scans.

Calendar and standard times are published down into promises whenever they change: the trunk never
asks a plant. The route and the limits go to the plant's devices with every change; no figure among
them is ours.
"""
