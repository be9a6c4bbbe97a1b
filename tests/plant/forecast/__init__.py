"""The forecast: held against published results, a plain reference, and plants that it does not know."""
