"""The forecast: against published results, a plain reference, plants that it does not know."""
