"""The plant as it is built: its stations and their order, its calendar and standard times. All of
it is data.

Calendar and standard times are published down into promises whenever they change: the trunk never
asks a plant. Receiving and shipping against a truck's list will live here.
"""
