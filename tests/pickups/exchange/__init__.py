"""Lists that come in and go out as files."""
