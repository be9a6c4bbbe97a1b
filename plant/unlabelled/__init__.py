"""Casings that are found in the plant without a label: searched for among what is missing, else
kept on the owner-unknown rack.

Nothing here says by itself whose a casing is. What is seen of it is held against casings that ought
to be in the plant; a supervisor confirms one of them and how it was told, and a new label goes on.
What nobody recognises stays on the rack, with an open question, and is nobody's to retread.
"""
