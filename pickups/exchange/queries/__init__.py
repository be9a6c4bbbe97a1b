"""Reads for lists: what stands, as a list has it; casings and work orders for a spreadsheet."""
