"""Lists that come in and go out as files: customers, yards, contacts and specifications both ways,
casings and work orders outward.

What comes in is read (`rules.reading`), held against what stands (`rules.planning`) and shown;
nothing is written until somebody agrees to exactly what was shown. Then it is written through the
services of `customers`, at most 1,000 rows a commit, each step owed by the one before it, so that
it can be left, found again and repeated. What goes out has the form that comes in.
"""
