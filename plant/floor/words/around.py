"""What stands around every page of the plant, and who may not see it. Pure."""

from collections.abc import Mapping

EN: Mapping[str, str] = {
    "language": "Español",
    "language_code": "es",
    "skip": "Skip to the page",
    "sign_out": "Sign out",
    "plant": "Plant",
    "plant_choose": "Show",
    "to_office": "Office",
    "records": "Records",
    "way_day": "Today",
    "not_for_you": "Not for you",
    "not_for_you_say": "You are signed in as {name}, {role}. These pages are for plant operators, "
    "dispatchers, sales managers and administrators. Sign out and in again as somebody else, or "
    "ask an administrator.",
    "not_decide_say": "You are signed in as {name}, {role}. You may read this and not change it: "
    "plant operators and administrators do that.",
    "not_stop_say": "You are signed in as {name}, {role}. You may read this. To write to owners, "
    "and to follow it up, is for plant operators, dispatchers and administrators.",
    "not_yours_say": "You are signed in as {name}, {role}, and no plant is set as the place where "
    "you work. An administrator sets it in the records.",
    "no_plant_say": "No plant is entered yet. An administrator enters one in the records, as a "
    "site of the kind plant.",
    "not_here": "Nothing stands here",
    "not_here_say": "This address leads to no page of the plant. It may have been typed wrong, or "
    "what it showed is gone.",
    "again": "Not saved yet",
    "again_busy": "Somebody else is working on the same casing or load just now. Nothing was "
    "changed. What you typed stands below: send it again in a moment.",
    "again_odd": "“{value}” is not taken for {field}. Allowed: text without the character U+0000 "
    "and without half characters, which cannot be kept. Nothing was changed; below it stands "
    "without them.",
    "again_field": "a field of this form",
    "again_typed": "What you typed",
    "again_send": "Send again",
    "role_": "nobody",
    "role_driver": "driver",
    "role_counter": "counter",
    "role_dispatcher": "dispatcher",
    "role_plant": "plant operator",
    "role_sales": "sales manager",
    "role_admin": "administrator",
    "span_moments": "less than a minute",
    "span_minutes": "{n} min",
    "span_hours": "{n} h",
    "span_days": "{n} days",
}

ES: Mapping[str, str] = {
    "language": "English",
    "language_code": "en",
    "skip": "Ir a la página",
    "sign_out": "Salir",
    "plant": "Planta",
    "plant_choose": "Ver",
    "to_office": "Oficina",
    "records": "Registros",
    "way_day": "Hoy",
    "not_for_you": "No es para usted",
    "not_for_you_say": "Ha entrado como {name}, {role}. Estas páginas son para operadores de "
    "planta, despachadores, gerentes de ventas y administradores. Salga y entre como otra persona, "
    "o pregunte a un administrador.",
    "not_decide_say": "Ha entrado como {name}, {role}. Puede leer esto y no cambiarlo: eso lo "
    "hacen los operadores de planta y los administradores.",
    "not_stop_say": "Ha entrado como {name}, {role}. Puede leer esto. Escribir a los dueños, y "
    "darle seguimiento, es de operadores de planta, despachadores y administradores.",
    "not_yours_say": "Ha entrado como {name}, {role}, y no consta ninguna planta como su lugar de "
    "trabajo. Un administrador la anota en los registros.",
    "no_plant_say": "Todavía no hay ninguna planta. Un administrador la anota en los registros, "
    "como lugar de la clase planta.",
    "not_here": "Aquí no hay nada",
    "not_here_say": "Esta dirección no lleva a ninguna página de la planta. Puede estar mal "
    "escrita, o lo que mostraba ya no está.",
    "again": "Aún no se guardó",
    "again_busy": "Otra persona trabaja ahora mismo con la misma carcasa o carga. No se cambió "
    "nada. Lo que escribió está abajo: envíelo de nuevo en un momento.",
    "again_odd": "«{value}» no vale para {field}. Se admite: texto sin el carácter U+0000 y sin "
    "medios caracteres, que no se puede guardar. No se cambió nada; abajo está sin ellos.",
    "again_field": "un campo de este formulario",
    "again_typed": "Lo que escribió",
    "again_send": "Enviar de nuevo",
    "role_": "nadie",
    "role_driver": "conductor",
    "role_counter": "mostrador",
    "role_dispatcher": "despachador",
    "role_plant": "operador de planta",
    "role_sales": "gerente de ventas",
    "role_admin": "administrador",
    "span_moments": "menos de un minuto",
    "span_minutes": "{n} min",
    "span_hours": "{n} h",
    "span_days": "{n} días",
}
