"""Cure loads: what went into a chamber together, how hot and under what pressure it was, which lots
went with it; and the trace from a casing to all that and back.

Read and judged against what the plant entered, never against a figure of ours. The software is no
interlock: it opens, starts and releases no pressure vessel and is no proof of lockout.
"""
