"""manage.py commands of the journal."""
