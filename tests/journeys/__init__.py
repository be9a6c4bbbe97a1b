"""A real browser against the whole product: few, slow, whole."""
