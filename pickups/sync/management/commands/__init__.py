"""Started as `manage.py backup` and `manage.py restore`."""
