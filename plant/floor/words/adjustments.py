"""What the plant owes, and claims about retreads that failed. Pure."""

from collections.abc import Mapping

EN: Mapping[str, str] = {
    "way_adjustments": "Owed and claims",
    "adjust": "Owed and claims",
    "adjust_owed": "What the plant ruined",
    "adjust_owed_say": "A casing that was rejected by the plant's own doing is owed to its owner: "
    "another one from stock, or a credit. It is no reject of the fleet's.",
    "adjust_owed_none": "Nothing is owed.",
    "adjust_since": "Since",
    "adjust_reason": "Reason",
    "adjust_how": "Make good by",
    "adjust_exchange": "a casing from stock; the ruined one becomes the dealer's",
    "adjust_credit": "a credit of",
    "adjust_amount": "Amount in {currency}",
    "adjust_said": "What was agreed, and with whom",
    "adjust_you_not": "Only whom the plant has named qualified for failed retreads and what is "
    "owed for them settles this, or an administrator; see the page of the cure specification.",
    "adjust_settle": "Settle",
    "adjust_settled": "Settled.",
    "adjust_settled_exchange": "Settled {when}: a casing from stock. {said}",
    "adjust_settled_credit": "Settled {when}: credited {amount}. {said}",
    "adjust_settled_released": "Owed no more since {when}: the rejection stands no longer.",
    "adjust_gone": "That was settled or decided already; nothing was changed.",
    "adjust_cannot": "This casing cannot change hands now: look at its page in the office.",
    "adjust_no": "“{value}” is not taken for {field}. Allowed: {allowed}.",
    "adjust_money": "an amount such as 57.46",
    "adjust_depths": "whole numbers from 0 to 40, with a space between",
    "adjust_words": "some words",
    "adjust_whole": "a whole number of 32nds; the pull depth below the depth when new",
    "claims": "Failed retreads",
    "claims_say": "Found by its tag or its retread TIN, kept as evidence, measured, decided with "
    "grounds. While a claim is open the tire is on hold: it is not shipped and not scrapped.",
    "claims_none": "No claim yet.",
    "claim_open": "waits for a decision",
    "claim_new": "Open a claim",
    "claim_found": "Finished tag, label or retread TIN on it",
    "claim_not_found": "“{value}” is no tag, label or retread TIN that was told at this plant, or "
    "several tires carry it: then type the tag.",
    "claim_complaint": "What failed",
    "claim_tread": "Remaining tread in 32nds, each reading",
    "claim_go": "Keep as evidence",
    "claim_opened": "The claim is open and the tire on hold.",
    "claim": "Claim",
    "claim_of": "Claim about {label}",
    "claim_evidence": "Evidence: do not ship, scrap, buff or cut it while the claim is open.",
    "claim_counsel": "Somebody hurt, or a defect suspected: call counsel now, before anything is "
    "written.",
    "claim_by": "Found by",
    "claim_mean": "Mean of the readings",
    "claim_32nds": "{n}/32",
    "claim_trace": "Trace this tire",
    "claim_decide": "Decide",
    "claim_honoured": "Honoured: credited pro rata",
    "claim_refused": "Not honoured",
    "claim_price": "Price of the retread without casing, in {currency}",
    "claim_original": "Tread when new, in 32nds",
    "claim_pull": "Pull depth, in 32nds: where it would have been taken off",
    "claim_formula": "Credit = price x (remaining - pull) / (when new - pull), between nothing and "
    "the price. Common practice, no published source: what was agreed otherwise goes first.",
    "claim_grounds": "Grounds",
    "claim_go_decide": "Decide for good",
    "claim_decided": "Decided.",
    "claim_you_not": "You are not named as qualified for failed retreads; see the page of the cure "
    "specification.",
    "claim_said_honoured": "Honoured {when} by {who}: {credit} = {price} x ({left} - {pull}) / "
    "({original} - {pull}). {grounds}",
    "claim_said_refused": "Not honoured {when} by {who}. {grounds}",
}

ES: Mapping[str, str] = {
    "way_adjustments": "Deudas y reclamos",
    "adjust": "Deudas y reclamos",
    "adjust_owed": "Lo que arruinó la planta",
    "adjust_owed_say": "Una carcasa rechazada por culpa de la planta se le debe a su dueño: otra "
    "del inventario, o un crédito. No es un rechazo de la flota.",
    "adjust_owed_none": "No se debe nada.",
    "adjust_since": "Desde",
    "adjust_reason": "Motivo",
    "adjust_how": "Reponer con",
    "adjust_exchange": "una carcasa del inventario; la arruinada pasa al distribuidor",
    "adjust_credit": "un crédito de",
    "adjust_amount": "Monto en {currency}",
    "adjust_said": "Qué se acordó y con quién",
    "adjust_you_not": "Esto lo salda solo quien la planta nombró calificado para reencauches "
    "fallidos y lo que se debe por ellos, o un administrador; vea la página de la especificación "
    "de curado.",
    "adjust_settle": "Saldar",
    "adjust_settled": "Saldado.",
    "adjust_settled_exchange": "Saldado {when}: una carcasa del inventario. {said}",
    "adjust_settled_credit": "Saldado {when}: acreditado {amount}. {said}",
    "adjust_settled_released": "Ya no se debe desde {when}: el rechazo ya no vale.",
    "adjust_gone": "Eso ya estaba saldado o decidido; no se cambió nada.",
    "adjust_cannot": "Esta carcasa no puede cambiar de dueño ahora: vea su página en la oficina.",
    "adjust_no": "“{value}” no vale para {field}. Se admite: {allowed}.",
    "adjust_money": "un monto como 57.46",
    "adjust_depths": "números enteros de 0 a 40, con un espacio entre ellos",
    "adjust_words": "unas palabras",
    "adjust_whole": "un número entero de 32avos; la profundidad de retiro menor que la de nueva",
    "claims": "Reencauches fallidos",
    "claims_say": "Hallado por su marca o su TIN de reencauche, guardado como prueba, medido y "
    "decidido con fundamento. Mientras un reclamo está abierto la llanta queda retenida: no se "
    "envía ni se desecha.",
    "claims_none": "Aún no hay reclamos.",
    "claim_open": "espera una decisión",
    "claim_new": "Abrir un reclamo",
    "claim_found": "Marca final, etiqueta o TIN de reencauche que lleva",
    "claim_not_found": "“{value}” no es una marca, etiqueta ni TIN de reencauche contado en esta "
    "planta, o lo llevan varias llantas: entonces escriba la marca.",
    "claim_complaint": "Qué falló",
    "claim_tread": "Banda restante en 32avos, cada lectura",
    "claim_go": "Guardar como prueba",
    "claim_opened": "El reclamo está abierto y la llanta retenida.",
    "claim": "Reclamo",
    "claim_of": "Reclamo sobre {label}",
    "claim_evidence": "Prueba: no la envíe, deseche, raspe ni corte mientras el reclamo está "
    "abierto.",
    "claim_counsel": "Si hubo heridos o se sospecha un defecto: llame ahora a su abogado, antes de "
    "escribir nada.",
    "claim_by": "Hallada por",
    "claim_mean": "Promedio de las lecturas",
    "claim_32nds": "{n}/32",
    "claim_trace": "Rastrear esta llanta",
    "claim_decide": "Decidir",
    "claim_honoured": "Aceptado: crédito a prorrata",
    "claim_refused": "No aceptado",
    "claim_price": "Precio del reencauche sin carcasa, en {currency}",
    "claim_original": "Banda cuando nueva, en 32avos",
    "claim_pull": "Profundidad de retiro, en 32avos: a la que se habría quitado",
    "claim_formula": "Crédito = precio x (restante - retiro) / (nueva - retiro), entre nada y el "
    "precio. Práctica común, sin fuente publicada: lo pactado de otro modo va primero.",
    "claim_grounds": "Fundamento",
    "claim_go_decide": "Decidir en firme",
    "claim_decided": "Decidido.",
    "claim_you_not": "Usted no está nombrado como calificado para reencauches fallidos; vea la "
    "página de la especificación de curado.",
    "claim_said_honoured": "Aceptado {when} por {who}: {credit} = {price} x ({left} - {pull}) / "
    "({original} - {pull}). {grounds}",
    "claim_said_refused": "No aceptado {when} por {who}. {grounds}",
}
