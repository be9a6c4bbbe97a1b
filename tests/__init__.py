"""Tests: tests/pickups and tests/plant mirror the areas; tests/config tries the services."""
