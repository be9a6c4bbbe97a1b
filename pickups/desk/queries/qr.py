"""A QR code as a page draws it: one path of unit squares."""

import qrcode


def drawn(text: str) -> tuple[str, int]:
    """The path, and how many squares wide it is, with the quiet zone of four around."""
    code = qrcode.QRCode(border=4, error_correction=qrcode.constants.ERROR_CORRECT_M)
    code.add_data(text)
    squares = code.get_matrix()
    path = "".join(
        f"M{x} {y}h1v1h-1z" for y, row in enumerate(squares) for x, dark in enumerate(row) if dark
    )
    return path, len(squares)
