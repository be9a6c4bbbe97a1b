"""The words of mails, English and Spanish, by plain substitution. Pure.

What people wrote (names, places, sizes) is put in as it is and never read as a template.
"""

from string import Template

LABEL_TAG = "REJECTED \N{EN DASH} do not mount or inflate"
"""What stands on the tag of a rejected casing, in every language."""

_PAGE = {
    "en": Template(
        "Your casings, and where each of them is:\n$link\n"
        "This link works for 30 days and opens your page for whoever has it."
    ),
    "es": Template(
        "Sus carcasas, y dónde está cada una:\n$link\n"
        "Este enlace sirve 30 días y abre su página a quien lo tenga."
    ),
}


def page(link: str, language: str) -> str:
    """Where the contact sees all of it."""
    return _PAGE[language].substitute(link=link)


def casing_line(number: int, label: str, *more: str) -> str:
    """One casing in a list: number, label in groups of four, whatever else is known."""
    shown = f"{number:3d}.  {label[:4]} {label[4:]}"
    return "   ".join([shown, *(part for part in more if part)])
