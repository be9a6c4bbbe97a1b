"""The words of the page of how sure promised days are. Pure."""

EN: dict[str, str] = {
    "sure": "How sure promised days are",
    "sure_say": "Of a hundred casings of a customer, so many are to be back by the day that is "
    "promised. The surer, the later the day. 90 where nothing else was agreed; phones "
    "hear of a change with their next connection. Days by standard time are not changed by it.",
    "sure_percent": "Percent",
    "sure_go": "Set",
    "sure_set": "{name}: days are promised with {percent} % from now on.",
    "sure_fault": "Percent is “{value}”; a whole number from {least} to {most} is allowed.",
    "sure_none": "No customer is entered yet. Each will stand here with its percentage.",
}
ES: dict[str, str] = {
    "sure": "Qué tan seguros son los días prometidos",
    "sure_say": "De cien carcasas de un cliente, tantas deben estar de regreso el día prometido. "
    "Cuanto más seguro, más tarde el día. 90 si no se acordó otra cosa; los teléfonos se enteran "
    "con la próxima conexión. Los días por plazo normal no cambian con esto.",
    "sure_percent": "Por ciento",
    "sure_go": "Fijar",
    "sure_set": "{name}: los días se prometen con {percent} % desde ahora.",
    "sure_fault": "Por ciento es «{value}»; se permite un número entero de {least} a {most}.",
    "sure_none": "Aún no hay clientes. Cada uno estará aquí con su por ciento.",
}
