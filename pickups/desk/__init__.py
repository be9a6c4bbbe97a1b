"""What counter, dispatcher and office see and decide; owns no tables.

Pages are made on the server: no script, no style of their own, keyboard first, English and
Spanish. A dispatcher and an administrator decide; a sales manager looks. What is decided becomes
a fact through the services below, never a change of one. The page behind a label's QR is here
too: the same bytes for every label that there is or is not.
"""
