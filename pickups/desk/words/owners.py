"""The words of the page that tells whose a casing is, and changes it. Pure."""

EN: dict[str, str] = {
    "owners": "Whose it is",
    "owner_link": "Whose it is, sale, exchange, mix-up",
    "owner_customers": "It belongs to {customer}.",
    "owner_customers_since": "It belongs to {customer}, since a mix-up was settled on {day}.",
    "owner_dealers_sold": "It belongs to {dealer}: bought from {customer} on {day}.",
    "owner_dealers_exchanged": "It belongs to {dealer}: taken in exchange from {customer} on "
    "{day}.",
    "owner_rule": "Only what is written here changes whose it is. A wrong delivery, a rejection or "
    "a long wait does not.",
    "owner_story": "What changed whose it is",
    "owner_nothing": "Nothing has changed it since it was picked up.",
    "owner_sold": "Sold to {dealer}, for {amount}, grade {grade}. {who} wrote it down.",
    "owner_sold_credit": "Sold to {dealer}, for {amount} of casing credit, grade {grade}. {who} "
    "wrote it down.",
    "owner_exchanged": "Taken in exchange: {customer} took one from stock for it. {who} wrote it "
    "down.",
    "owner_settled": "Mix-up settled: it came from {yard}. {who} wrote it down.",
    "owner_undone": "Undone by {who}: “{reason}”",
    "owner_why": "Why: “{reason}”",
    "owner_accepted": "Accepted by {name}",
    "owner_accepted_erased": "Accepted by somebody at the customer whose name was erased",
    "owner_was_undone": "undone",
    "owner_sell": "Buy it from the customer",
    "owner_sell_say": "The customer gives it up for money or for credit on casings.",
    "owner_grade": "Grade",
    "owner_amount": "Amount in {currency}",
    "owner_pays": "Paid as",
    "owner_pays_price": "a price",
    "owner_pays_credit": "casing credit",
    "owner_accepts": "Accepted by, at {customer}",
    "owner_no_contact": "Nobody at {customer} is written down as a contact who may sell, so nobody "
    "can accept a sale. The records of the contacts say who may.",
    "owner_exchange": "It was exchanged",
    "owner_exchange_say": "The work wanted says that one from stock comes back for it. Once the "
    "customer has that one, this one is {dealer}'s.",
    "owner_settle": "It was mixed up with another",
    "owner_settle_say": "Two labels went on each other's casings. Both casings stay where they are "
    "and change places on paper: whose they are and where they go home to.",
    "owner_other": "Label of the other casing",
    "owner_on_sell": "Look over the sale",
    "owner_on_exchange": "Look over the exchange",
    "owner_on_settle": "Look over the mix-up",
    "owner_sure": "Is this right?",
    "owner_sure_sold": "{dealer} buys {label} from {customer} for {amount}, grade {grade}, "
    "accepted by {name}. It does not go back to them, and they are told no more of it.",
    "owner_sure_sold_credit": "{dealer} takes {label} from {customer} for {amount} of casing "
    "credit, grade {grade}, accepted by {name}. It does not go back to them, and they are told no "
    "more of it.",
    "owner_sure_exchanged": "{label} of {customer} becomes {dealer}'s, in exchange. It does not go "
    "back to them, and they are told no more of it.",
    "owner_sure_settled": "{label} came from {there}, and {other} came from {here}. Each goes home "
    "where it came from, and who was told otherwise is told so.",
    "owner_yes": "Yes, write it down",
    "owner_no": "No, go back",
    "owner_undo": "Undo it",
    "owner_undo_why": "Why it was a mistake",
    "owner_told": "Written down. It can be undone below.",
    "owner_undo_told": "Undone. It is whose it was before.",
    "owner_no_gone": "This casing is not there any more: its pickup was taken back.",
    "owner_no_contested": "Its label is on two casings. Decide first which of them wears it.",
    "owner_no_returned": "It is back with its owner. Pick it up before it changes hands.",
    "owner_no_dealers": "It belongs to {dealer} already.",
    "owner_no_not_exchange": "The work wanted does not say exchange, so it stays the customer's.",
    "owner_no_not_entitled": "Choose a contact of this customer who may sell.",
    "owner_no_same": "Both came from the same yard, so there is nothing to change.",
    "owner_no_undone_before": "That was undone already.",
    "owner_no_on_sheet": "It is on a load sheet. Take it off the sheet first.",
    "owner_bad_grade": "Write the grade in 1 to 40 characters.",
    "owner_bad_amount": "“{value}” is no amount. Write it like 45 or 45.50, at most {most}.",
    "owner_bad_pays": "Choose a price or casing credit.",
    "owner_bad_reason": "Write why, in 1 to 500 characters.",
    "owner_bad_other": "No casing that stands wears the label “{value}”.",
}
ES: dict[str, str] = {
    "owners": "De quién es",
    "owner_link": "De quién es, venta, cambio, confusión",
    "owner_customers": "Es de {customer}.",
    "owner_customers_since": "Es de {customer}, desde que se aclaró una confusión el {day}.",
    "owner_dealers_sold": "Es de {dealer}: comprada a {customer} el {day}.",
    "owner_dealers_exchanged": "Es de {dealer}: recibida a cambio de {customer} el {day}.",
    "owner_rule": "Solo lo que se anota aquí cambia de quién es. Una entrega equivocada, un "
    "rechazo o una larga espera no lo cambian.",
    "owner_story": "Qué cambió de quién es",
    "owner_nothing": "Nada lo ha cambiado desde que se recogió.",
    "owner_sold": "Vendida a {dealer}, por {amount}, clase {grade}. Lo anotó {who}.",
    "owner_sold_credit": "Vendida a {dealer}, por {amount} de crédito de carcasas, clase {grade}. "
    "Lo anotó {who}.",
    "owner_exchanged": "Recibida a cambio: {customer} se llevó una de las existencias. Lo anotó "
    "{who}.",
    "owner_settled": "Confusión aclarada: venía de {yard}. Lo anotó {who}.",
    "owner_undone": "Deshecho por {who}: «{reason}»",
    "owner_why": "Por qué: «{reason}»",
    "owner_accepted": "Aceptado por {name}",
    "owner_accepted_erased": "Aceptado por alguien del cliente cuyo nombre se borró",
    "owner_was_undone": "deshecho",
    "owner_sell": "Comprarla al cliente",
    "owner_sell_say": "El cliente la entrega por dinero o por crédito de carcasas.",
    "owner_grade": "Clase",
    "owner_amount": "Importe en {currency}",
    "owner_pays": "Se paga como",
    "owner_pays_price": "un precio",
    "owner_pays_credit": "crédito de carcasas",
    "owner_accepts": "Aceptado por, en {customer}",
    "owner_no_contact": "Nadie de {customer} está anotado como contacto que puede vender, así que "
    "nadie puede aceptar una venta. Los registros de los contactos dicen quién puede.",
    "owner_exchange": "Se cambió",
    "owner_exchange_say": "El trabajo pedido dice que vuelve una de las existencias por ella. "
    "Cuando el cliente tiene esa, esta es de {dealer}.",
    "owner_settle": "Se confundió con otra",
    "owner_settle_say": "Dos etiquetas quedaron cada una en la carcasa de la otra. Las dos se "
    "quedan donde están y cambian de lugar en los papeles: de quién son y a dónde vuelven.",
    "owner_other": "Etiqueta de la otra carcasa",
    "owner_on_sell": "Revisar la venta",
    "owner_on_exchange": "Revisar el cambio",
    "owner_on_settle": "Revisar la confusión",
    "owner_sure": "¿Es correcto?",
    "owner_sure_sold": "{dealer} compra {label} a {customer} por {amount}, clase {grade}, aceptado "
    "por {name}. No vuelve con el cliente, y ya no se le avisa de ella.",
    "owner_sure_sold_credit": "{dealer} recibe {label} de {customer} por {amount} de crédito de "
    "carcasas, clase {grade}, aceptado por {name}. No vuelve con el cliente, y ya no se le avisa "
    "de ella.",
    "owner_sure_exchanged": "{label} de {customer} pasa a ser de {dealer}, a cambio. No vuelve con "
    "el cliente, y ya no se le avisa de ella.",
    "owner_sure_settled": "{label} venía de {there}, y {other} venía de {here}. Cada una vuelve a "
    "donde venía, y a quien se le dijo otra cosa se le avisa.",
    "owner_yes": "Sí, anotarlo",
    "owner_no": "No, volver",
    "owner_undo": "Deshacerlo",
    "owner_undo_why": "Por qué fue un error",
    "owner_told": "Anotado. Se puede deshacer abajo.",
    "owner_undo_told": "Deshecho. Es de quien era antes.",
    "owner_no_gone": "Esta carcasa ya no está: su recogida se retiró.",
    "owner_no_contested": "Su etiqueta está en dos carcasas. Decida primero cuál la lleva.",
    "owner_no_returned": "Ya está con su dueño. Recójala antes de que cambie de dueño.",
    "owner_no_dealers": "Ya es de {dealer}.",
    "owner_no_not_exchange": "El trabajo pedido no dice cambio, así que sigue siendo del cliente.",
    "owner_no_not_entitled": "Elija un contacto de este cliente que pueda vender.",
    "owner_no_same": "Las dos venían del mismo patio, así que no hay nada que cambiar.",
    "owner_no_undone_before": "Eso ya se había deshecho.",
    "owner_no_on_sheet": "Está en una hoja de carga. Quítela primero de la hoja.",
    "owner_bad_grade": "Escriba la clase en 1 a 40 caracteres.",
    "owner_bad_amount": "«{value}» no es un importe. Escríbalo como 45 o 45.50, {most} como "
    "máximo.",
    "owner_bad_pays": "Elija un precio o crédito de carcasas.",
    "owner_bad_reason": "Escriba por qué, en 1 a 500 caracteres.",
    "owner_bad_other": "Ninguna carcasa vigente lleva la etiqueta «{value}».",
}
