"""Commands that keep the data: backup and restore."""
