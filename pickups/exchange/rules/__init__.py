"""How a list is read from a file, held against what stands, and written to one. Pure: no table, no
screen, no framework."""
