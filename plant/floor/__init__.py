"""The plant's own pages: its day, its route, its repair limits, what trucks bring and fetch.

They own no tables: what they show is read from the plant's apps and the trunk, what is decided on
them is written by those apps' services. What a station's tablet shows lives in the frontend.
"""
