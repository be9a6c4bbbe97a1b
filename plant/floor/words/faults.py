"""What can be wrong with a chamber's record, in both languages, by its key. Pure."""

from collections.abc import Mapping

EN: Mapping[str, str] = {
    "wrong_no_text": "text in UTF-8",
    "wrong_no_head": "a first row that names the columns",
    "wrong_no_time": "one column named time or minutes",
    "wrong_no_temperature": "a column named temperature_c or temperature_f",
    "wrong_twice": "each gauge in one column",
    "wrong_no_start": "a time column, or a load whose start was told",
    "wrong_no_rows": "at least two readings",
    "wrong_too_many": "at most 20,000 readings",
    "wrong_not_a_time": "a time such as 2026-07-14 06:05:00",
    "wrong_not_a_number": "a number such as 98.5, or nothing",
    "wrong_too_cold_or_hot": "-40 to 300 °C",
    "wrong_pressure_beyond": "-101.325 to 3000 kPa on the gauge",
    "wrong_not_later": "a time later than the row before",
    "wrong_cells": "as many cells as the first row",
}

ES: Mapping[str, str] = {
    "wrong_no_text": "texto en UTF-8",
    "wrong_no_head": "una primera fila que nombra las columnas",
    "wrong_no_time": "una columna llamada time o minutes",
    "wrong_no_temperature": "una columna llamada temperature_c o temperature_f",
    "wrong_twice": "cada instrumento en una sola columna",
    "wrong_no_start": "una columna time, o una carga con su hora de inicio",
    "wrong_no_rows": "por lo menos dos lecturas",
    "wrong_too_many": "hasta 20.000 lecturas",
    "wrong_not_a_time": "una hora como 2026-07-14 06:05:00",
    "wrong_not_a_number": "un número como 98.5, o nada",
    "wrong_too_cold_or_hot": "-40 a 300 °C",
    "wrong_pressure_beyond": "-101.325 a 3000 kPa de manómetro",
    "wrong_not_later": "una hora posterior a la de la fila anterior",
    "wrong_cells": "tantas celdas como la primera fila",
}
