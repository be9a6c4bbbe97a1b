"""Customers, their yards and the people there who are told things.

Names, addresses and e-mail of contacts lie here and only here; facts name them by uid, so that
they can be erased without touching a fact.
"""
