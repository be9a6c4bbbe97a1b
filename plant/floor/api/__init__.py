"""What a browser may ask of the plant's pages. Parse, call one service or query, render."""
