"""The trunk and the field side: identity, custody, people, sync and what reaches customers.

Everything that a casing needs outside the plant lives here; plant/ imports it, never the
other way. The apps and the direction of their imports are listed in DEVELOPERS.md.
"""
