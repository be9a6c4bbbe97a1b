"""Commands of `manage.py` that see the whole house."""
