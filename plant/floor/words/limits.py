"""Repair limits: entered ones, published ones that do not count, what is never released. Pure."""

from collections.abc import Mapping

EN: Mapping[str, str] = {
    "way_limits": "Repair limits",
    "limits": "Repair limits",
    "limits_say": "How large an injury may be to be repaired is in the chart of whoever supplies "
    "the repair material. Enter that chart here: only then does a tablet hold a find against it. "
    "Without an entry it says “no limit entered”. It never says that something may be repaired: "
    "that is decided by who stands before the casing, under local codes and licensed practice.",
    "limits_entered": "Entered by this plant",
    "limits_none": "Nothing is entered: for every find the tablets say “no limit entered”.",
    "limits_zone": "Zone",
    "limits_kind": "Kind",
    "limits_class": "Sizes",
    "limits_most": "At most",
    "limits_chart": "Chart",
    "limits_by": "Entered by",
    "limits_source": "Source",
    "limits_all_sizes": "all sizes",
    "class_light": "light: rims below 17.5",
    "class_medium": "medium: rims from 17.5",
    "limits_mm": "{mm} mm",
    "limits_count": "{n} on a casing",
    "limits_and": "{mm} mm and {n} on a casing",
    "limits_when": "{who}, {when}",
    "limits_back": "Take out",
    "limits_back_of": "Take out {zone}, {kind}",
    "limits_gone": "Taken out: {zone}, {kind}.",
    "limits_enter": "Enter a limit",
    "limits_enter_say": "One line of the chart at a time. The same zone, kind and size entered "
    "again takes the place of the old line; what stood before is kept in the records.",
    "limits_class_hint": "Empty for all; light, medium, or a size such as 11R22.5",
    "limits_mm_label": "Longest, in mm",
    "limits_count_label": "How many on a casing",
    "limits_one_hint": "One of the two is enough",
    "limits_chart_hint": "Name and date of the supplier's chart",
    "limits_do": "Enter",
    "limits_done": "Entered: {zone}, {kind}, {most}.",
    "limits_choose": "Choose",
    "fault_limits_zone": "Zone: “{value}” is none; choose one of the list.",
    "fault_limits_kind": "Kind: “{value}” is none for a limit; choose one of the list.",
    "fault_limits_size_class": "Sizes: “{value}” is too long or has line breaks; 24 characters at "
    "most.",
    "fault_limits_most_mm": "Longest: “{value}” is no length; a number of mm from 0 to {most}.",
    "fault_limits_most_count": "How many: “{value}” is no count; a whole number from 0 to {most}.",
    "fault_limits_neither": "Enter the longest, how many, or both: a limit has to say something.",
    "fault_limits_chart": "Chart: “{value}”; name it, with 120 characters at most.",
    "limits_published": "Published figures, not in force",
    "limits_published_say": "For comparison only. None of them counts, and none can be switched "
    "on: what counts is your supplier's chart.",
    "sure_read": "read in the source",
    "sure_second_hand": "told by another, the source was not seen",
    "limits_note_plug": "A plug from outside is temporary and is done again from inside. "
    "TM 9-2610-200-14 (September 2005), paragraph 2-32, note.",
    "limits_note_front": "Reinforcement repairs of body cords: not on front-mounted tires of "
    "vehicles over 10,000 lb. 49 CFR 570.62(d).",
    "limits_note_section": "How large a section repair may be by tire size was found nowhere: it "
    "is in the supplier's chart.",
    "limits_never": "Never released",
    "limits_never_say": "Rejected for one of these, a casing goes home. No screen has a key that "
    "releases it, and a release that is told all the same changes nothing and asks a person.",
}

ES: Mapping[str, str] = {
    "way_limits": "Límites",
    "limits": "Límites de reparación",
    "limits_say": "El tamaño de daño que se puede reparar está en la tabla de quien suministra el "
    "material de reparación. Anote esa tabla aquí: solo entonces una tableta compara un hallazgo "
    "con ella. Sin anotación dice «no hay límite anotado». Nunca dice que algo se puede reparar: "
    "eso lo decide quien está ante la carcasa, según las normas locales y la práctica con "
    "licencia.",
    "limits_entered": "Anotados por esta planta",
    "limits_none": "No hay nada anotado: de todo hallazgo las tabletas dicen «no hay límite "
    "anotado».",
    "limits_zone": "Zona",
    "limits_kind": "Clase",
    "limits_class": "Medidas",
    "limits_most": "Como máximo",
    "limits_chart": "Tabla",
    "limits_by": "Lo anotó",
    "limits_source": "Fuente",
    "limits_all_sizes": "todas las medidas",
    "class_light": "light, ligeras: aros menores de 17.5",
    "class_medium": "medium, medianas: aros desde 17.5",
    "limits_mm": "{mm} mm",
    "limits_count": "{n} por carcasa",
    "limits_and": "{mm} mm y {n} por carcasa",
    "limits_when": "{who}, {when}",
    "limits_back": "Quitar",
    "limits_back_of": "Quitar {zone}, {kind}",
    "limits_gone": "Quitado: {zone}, {kind}.",
    "limits_enter": "Anotar un límite",
    "limits_enter_say": "Una línea de la tabla a la vez. La misma zona, clase y medida, anotada de "
    "nuevo, reemplaza la línea anterior; lo que había queda en los registros.",
    "limits_class_hint": "Vacío para todas; light, medium, o una medida como 11R22.5",
    "limits_mm_label": "El más largo, en mm",
    "limits_count_label": "Cuántos por carcasa",
    "limits_one_hint": "Basta uno de los dos",
    "limits_chart_hint": "Nombre y fecha de la tabla del proveedor",
    "limits_do": "Anotar",
    "limits_done": "Anotado: {zone}, {kind}, {most}.",
    "limits_choose": "Elija",
    "fault_limits_zone": "Zona: «{value}» no lo es; elija una de la lista.",
    "fault_limits_kind": "Clase: «{value}» no sirve para un límite; elija una de la lista.",
    "fault_limits_size_class": "Medidas: «{value}» es demasiado largo o tiene saltos de línea; 24 "
    "caracteres como máximo.",
    "fault_limits_most_mm": "El más largo: «{value}» no es una longitud; un número de mm de 0 a "
    "{most}.",
    "fault_limits_most_count": "Cuántos: «{value}» no es una cantidad; un número entero de 0 a "
    "{most}.",
    "fault_limits_neither": "Anote el más largo, cuántos, o ambos: un límite tiene que decir algo.",
    "fault_limits_chart": "Tabla: «{value}»; nómbrela, con 120 caracteres como máximo.",
    "limits_published": "Cifras publicadas, sin vigencia",
    "limits_published_say": "Solo para comparar. Ninguna cuenta y ninguna se puede activar: lo que "
    "cuenta es la tabla de su proveedor.",
    "sure_read": "leído en la fuente",
    "sure_second_hand": "contado por otro, la fuente no se vio",
    "limits_note_plug": "Un tapón desde fuera es provisional y se rehace desde dentro. "
    "TM 9-2610-200-14 (septiembre de 2005), párrafo 2-32, nota.",
    "limits_note_front": "Reparaciones con refuerzo de las cuerdas: no en llantas delanteras de "
    "vehículos de más de 10,000 lb. 49 CFR 570.62(d).",
    "limits_note_section": "El tamaño máximo de una reparación de sección según la medida no se "
    "halló en ninguna parte: está en la tabla del proveedor.",
    "limits_never": "Nunca se libera",
    "limits_never_say": "Rechazada por una de estas causas, la carcasa vuelve a casa. Ninguna "
    "pantalla tiene una tecla que la libere, y una liberación contada de todos modos no cambia "
    "nada y pregunta a una persona.",
}
