"""What the plant's pages show, one module a page."""
