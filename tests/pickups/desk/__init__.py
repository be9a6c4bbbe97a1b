"""The office's pages, by HTTP."""
