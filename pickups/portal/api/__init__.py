"""The doors of the customer's pages: read the request, call one service or query, render."""
