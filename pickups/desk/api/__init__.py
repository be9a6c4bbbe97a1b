"""The doors of the office's pages: read the request, call one service or query, render.

One module a page. Who may pass is said by `office` in door.py beside each view.
"""
