"""What the server did, in order, and what still has to be told because of it.

A journal row is written in the transaction that did the thing and is never changed afterwards
(the database refuses it). Beside it stand delivery rows, one for each reaction that config wired
to its kind; a worker claims and drains them. So a crash between commit and queue loses nothing:
the queue is only a poke, the rows are the truth. Reactions must be safe to repeat.
"""
