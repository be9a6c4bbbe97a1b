"""Casings and their work orders: identity, and what is lasting about a tire body.

A casing outlives its treads; a work order is one trip of it through the plant. How far a work
order has come is a projection that custody writes here from its facts; nothing else may.
"""
