"""Reads for the office's pages: everything is words already, in the reader's language.

One module a page. Nothing here writes, and nobody is named who was erased.
"""
