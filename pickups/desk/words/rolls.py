"""The words of the page where rolls of labels are printed, in English and Spanish, by key."""

EN: dict[str, str] = {
    "rolls": "Labels",
    "rolls_say": "A roll lies ready at a counter or on a truck, for when nothing can be printed on "
    "the spot. Every code is printed once; each label comes twice, one for either sidewall.",
    "rolls_none": "No roll has been printed yet. Print one below: it will stand here, with how "
    "many of its labels are on casings.",
    "roll_printed": "Printed",
    "roll_span": "Labels",
    "roll_span_said": "{n} labels, {first} to {last}",
    "roll_span_one": "1 label, {first}",
    "roll_used": "On casings",
    "roll_used_said": "{used} of {n}",
    "roll_used_all": "all {n}",
    "roll_pdf_roll": "PDF for a label printer",
    "roll_pdf_sheet": "PDF for letter paper",
    "roll_new": "Print a roll",
    "roll_count": "How many labels (1 to {most})",
    "roll_stock": "Printed on",
    "roll_stock_roll": "a roll of labels of 100 by 50 mm",
    "roll_stock_sheet": "letter paper, to be cut",
    "roll_go": "Make the roll",
    "roll_open": "Open the PDF",
    "roll_no_store": "Choose a store; “{value}” is none.",
    "roll_no_count": "“{value}” labels cannot be made: a whole number from 1 to {most}.",
    "roll_no_stock": "Choose what they are printed on; “{value}” is neither.",
    "roll_made_one": "1 label for {store}. Open its PDF to print it.",
    "roll_made": "{n} labels for {store}. Open their PDF to print them.",
    "roll_full": "Every range of labels is used up: no more can be printed.",
    "roll_other": "This form was sent before with other values. Look at the roll that it made, "
    "then fill the form in anew.",
    "roll_too_long": "Nothing was drawn: {why}. An administrator sets DEALER_NAME, DEALER_PHONE "
    "and PUBLIC_BASE_URL.",
}

ES: dict[str, str] = {
    "rolls": "Etiquetas",
    "rolls_say": "Un rollo está a mano en un mostrador o en un camión, para cuando no se puede "
    "imprimir en el momento. Cada código se imprime una vez; cada etiqueta sale dos veces, una "
    "para cada costado.",
    "rolls_none": "Todavía no se ha impreso ningún rollo. Imprima uno abajo: quedará aquí, con "
    "cuántas de sus etiquetas están en carcasas.",
    "roll_printed": "Impreso",
    "roll_span": "Etiquetas",
    "roll_span_said": "{n} etiquetas, de {first} a {last}",
    "roll_span_one": "1 etiqueta, {first}",
    "roll_used": "En carcasas",
    "roll_used_said": "{used} de {n}",
    "roll_used_all": "todas ({n})",
    "roll_pdf_roll": "PDF para impresora de etiquetas",
    "roll_pdf_sheet": "PDF para papel carta",
    "roll_new": "Imprimir un rollo",
    "roll_count": "Cuántas etiquetas (de 1 a {most})",
    "roll_stock": "Se imprime en",
    "roll_stock_roll": "un rollo de etiquetas de 100 por 50 mm",
    "roll_stock_sheet": "papel carta, para cortar",
    "roll_go": "Hacer el rollo",
    "roll_open": "Abrir el PDF",
    "roll_no_store": "Elija una tienda; «{value}» no es ninguna.",
    "roll_no_count": "No se pueden hacer «{value}» etiquetas: un número entero de 1 a {most}.",
    "roll_no_stock": "Elija en qué se imprimen; «{value}» no es ni lo uno ni lo otro.",
    "roll_made_one": "1 etiqueta para {store}. Abra su PDF para imprimirla.",
    "roll_made": "{n} etiquetas para {store}. Abra su PDF para imprimirlas.",
    "roll_full": "Todas las series de etiquetas están usadas: no se pueden imprimir más.",
    "roll_other": "Este formulario ya se envió con otros valores. Mire el rollo que hizo y "
    "rellénelo de nuevo.",
    "roll_too_long": "No se dibujó nada: {why}. Un administrador fija DEALER_NAME, DEALER_PHONE "
    "y PUBLIC_BASE_URL.",
}
