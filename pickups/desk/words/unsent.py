"""The words of the page where a phone's saved file comes in, in English and Spanish, by key."""

EN: dict[str, str] = {
    "unsent": "A phone's file",
    "unsent_link": "Bring in a file that a phone has saved",
    "unsent_say": "A phone that cannot send saves what is unsent to a file, on its screen “This "
    "device”. Choose that file: you see what is in it before anything is entered.",
    "unsent_file": "The file (unsent-….jwe)",
    "unsent_read": "Look into it",
    "unsent_saved": "Saved",
    "unsent_entries": "Entries",
    "unsent_made": "Entered",
    "unsent_span": "{first} to {last}",
    "unsent_photos": "Photos and signatures",
    "unsent_here": "{n}, {here} of them here already",
    "unsent_nothing_new": "All of it is here already. Taking it again changes nothing.",
    "unsent_take_say": "It is entered as the phone would have sent it, under the names of those "
    "who entered it. Nothing is entered twice.",
    "unsent_take": "Enter it",
    "unsent_although": "This phone was shut out. Enter it all the same.",
    "unsent_say_although": "This phone was shut out: tick that its entries are to be taken all "
    "the same.",
    "unsent_busy": "The database was busy. Press again: nothing is entered twice.",
    "unsent_came": "{name}: {new} entered, {repeats} were here before, {photos} photos and "
    "signatures.{odd}",
    "unsent_contested": "{n} are in question: see the questions.",
    "unsent_held": "{n} wait for something: see the questions.",
    "unsent_refused": "{n} could not be read and were left out.",
    "unsent_photos_refused": "{n} photos could not be read and were left out.",
    "unsent_no_file": "Choose a file first.",
    "unsent_too_big": "This file is larger than 256 MB. Whoever looks after the server can enter "
    "it there: manage.py import_unsent.",
    "unsent_damaged": "{file}: this is no file that a phone has saved, or it is damaged. Save it "
    "on the phone again.",
    "unsent_other_server": "{file}: this file was saved for another server; only that one can "
    "open it.",
    "unsent_newer": "{file}: this file was saved by a newer app than this server knows.",
    "unsent_device_unknown": "{file}: the phone that saved this file was never enrolled here.",
}
ES: dict[str, str] = {
    "unsent": "El archivo de un teléfono",
    "unsent_link": "Traer un archivo guardado por un teléfono",
    "unsent_say": "Un teléfono que no puede enviar guarda lo no enviado en un archivo, en su "
    "pantalla «Este dispositivo». Elija ese archivo: verá qué contiene antes de que se anote nada.",
    "unsent_file": "El archivo (unsent-….jwe)",
    "unsent_read": "Ver qué contiene",
    "unsent_saved": "Guardado",
    "unsent_entries": "Anotaciones",
    "unsent_made": "Anotado",
    "unsent_span": "{first} a {last}",
    "unsent_photos": "Fotos y firmas",
    "unsent_here": "{n}, {here} de ellas ya están aquí",
    "unsent_nothing_new": "Todo ya está aquí. Tomarlo otra vez no cambia nada.",
    "unsent_take_say": "Se anota como lo habría enviado el teléfono, a nombre de quienes lo "
    "anotaron. Nada se anota dos veces.",
    "unsent_take": "Anotarlo",
    "unsent_although": "Este teléfono fue excluido. Anotarlo de todos modos.",
    "unsent_say_although": "Este teléfono fue excluido: marque que sus anotaciones se toman de "
    "todos modos.",
    "unsent_busy": "La base de datos estaba ocupada. Pulse otra vez: nada se anota dos veces.",
    "unsent_came": "{name}: {new} anotadas, {repeats} ya estaban aquí, {photos} fotos y "
    "firmas.{odd}",
    "unsent_contested": "{n} están en duda: vea las preguntas.",
    "unsent_held": "{n} esperan algo: vea las preguntas.",
    "unsent_refused": "{n} no se pudieron leer y quedaron fuera.",
    "unsent_photos_refused": "{n} fotos no se pudieron leer y quedaron fuera.",
    "unsent_no_file": "Elija primero un archivo.",
    "unsent_too_big": "Este archivo supera 256 MB. Quien cuida el servidor puede anotarlo allí: "
    "manage.py import_unsent.",
    "unsent_damaged": "{file}: no es un archivo guardado por un teléfono, o está dañado. Guárdelo "
    "otra vez en el teléfono.",
    "unsent_other_server": "{file}: este archivo se guardó para otro servidor; solo ese puede "
    "abrirlo.",
    "unsent_newer": "{file}: lo guardó una aplicación más nueva que este servidor.",
    "unsent_device_unknown": "{file}: el teléfono que lo guardó nunca se registró aquí.",
}
