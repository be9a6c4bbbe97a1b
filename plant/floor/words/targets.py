"""What a plant wants of tread designs. Pure."""

from collections.abc import Mapping

EN: Mapping[str, str] = {
    "way_targets": "Tread figures",
    "targets": "Tread figures",
    "targets_say": "What this plant wants of a tread design, from its maker's sheet. The tablets "
    "at buffing and building show it beside what is measured and say where the two differ. Where "
    "nothing is entered they say “no figure entered”. The length of a tread is plain arithmetic "
    "from the measured circumference, in whole pitches; what counts is the maker's sheet.",
    "targets_entered": "Entered by this plant",
    "targets_none": "Nothing is entered: the tablets say “no figure entered”.",
    "targets_tread_design": "Tread design",
    "targets_size": "Size",
    "targets_figures": "Figures",
    "targets_missing_head": "No figure entered",
    "targets_pitch_mm": "Pitch, mm",
    "targets_gum_mm": "Cushion gum, mm",
    "targets_length_off_mm": "Tread length may be off by, mm",
    "targets_radius_mm": "Buffed radius, mm",
    "targets_radius_off_mm": "Radius may be off by, mm",
    "targets_texture_least": "Texture, at least",
    "targets_texture_most": "Texture, at most",
    "targets_tread_width_mm": "Tread and crown width, mm",
    "targets_width_off_mm": "Width may be off by, mm",
    "targets_sheet": "Sheet",
    "targets_sheet_hint": "Name and date of the maker's sheet",
    "targets_size_hint": "Empty for all; else as it stands on the sidewall, such as 11R22.5. What "
    "a size leaves out is taken from the line for all sizes.",
    "targets_off_hint": "A figure is held against what is measured only where it is entered how "
    "far it may be off.",
    "targets_enter": "Enter figures",
    "targets_enter_say": "The same design and size entered again takes the place of the old line; "
    "what stood before is kept in the records.",
    "targets_do": "Enter",
    "targets_done": "Entered: {which}.",
    "targets_back": "Take out",
    "targets_back_of": "Take out {which}",
    "targets_gone": "Taken out: {which}.",
    "fault_targets_text": "{field}: “{value}”; 1 to {long} characters in one line are allowed.",
    "fault_targets_figure": "{field}: “{value}”; a number from {least} to {most} is allowed, or "
    "nothing.",
    "fault_targets_nothing": "Enter at least one figure.",
    "fault_targets_texture": "{field}: “{value}” is less than the texture at least.",
}

ES: Mapping[str, str] = {
    "way_targets": "Medidas de banda",
    "targets": "Medidas de banda",
    "targets_say": "Lo que esta planta quiere de un diseño de banda, según la hoja del fabricante. "
    "Las tabletas de raspado y armado lo muestran junto a lo medido y dicen dónde difieren. Donde "
    "no hay nada anotado dicen “sin medida anotada”. El largo de una banda es simple aritmética "
    "con la circunferencia medida, en pasos enteros; lo que vale es la hoja del fabricante.",
    "targets_entered": "Anotado por esta planta",
    "targets_none": "No hay nada anotado: las tabletas dicen “sin medida anotada”.",
    "targets_tread_design": "Diseño de banda",
    "targets_size": "Medida",
    "targets_figures": "Valores",
    "targets_missing_head": "Sin medida anotada",
    "targets_pitch_mm": "Paso, mm",
    "targets_gum_mm": "Goma cojín, mm",
    "targets_length_off_mm": "El largo puede diferir en, mm",
    "targets_radius_mm": "Radio de raspado, mm",
    "targets_radius_off_mm": "El radio puede diferir en, mm",
    "targets_texture_least": "Textura, al menos",
    "targets_texture_most": "Textura, a lo más",
    "targets_tread_width_mm": "Ancho de banda y corona, mm",
    "targets_width_off_mm": "El ancho puede diferir en, mm",
    "targets_sheet": "Hoja",
    "targets_sheet_hint": "Nombre y fecha de la hoja del fabricante",
    "targets_size_hint": "Vacía para todas; si no, como está en el costado, por ejemplo 11R22.5. "
    "Lo que una medida no diga se toma de la línea para todas.",
    "targets_off_hint": "Un valor se compara con lo medido solo donde está anotado cuánto puede "
    "diferir.",
    "targets_enter": "Anotar valores",
    "targets_enter_say": "El mismo diseño y medida anotados otra vez reemplazan la línea anterior; "
    "lo que había queda en los registros.",
    "targets_do": "Anotar",
    "targets_done": "Anotado: {which}.",
    "targets_back": "Quitar",
    "targets_back_of": "Quitar {which}",
    "targets_gone": "Quitado: {which}.",
    "fault_targets_text": "{field}: “{value}”; se admiten de 1 a {long} caracteres en una línea.",
    "fault_targets_figure": "{field}: “{value}”; se admite un número de {least} a {most}, o nada.",
    "fault_targets_nothing": "Anote al menos un valor.",
    "fault_targets_texture": "{field}: “{value}” es menos que la textura al menos.",
}
