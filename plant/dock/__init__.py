"""The plant as it is built: its stations and the order of its route. All of it is data.

Receiving and shipping against a truck's list, the calendar and standard times will live here.
"""
