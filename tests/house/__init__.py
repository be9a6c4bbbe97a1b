"""Laws of the house itself, each shown to bite."""
