"""What a plant owes for what it ruined, and retreads that failed on the road: found by tag or by
retread TIN, kept as evidence, decided with grounds, made good by a casing or by pro-rata credit.

Arithmetic is shown with its figures; nothing here says why a tire failed.
"""
