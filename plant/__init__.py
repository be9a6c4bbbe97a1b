"""The retread plant: stations, findings, loads. A branch that imports the trunk (pickups/).

What a station did becomes custody and progress only through pickups.custody.services.
"""
