"""The words of lists in files, in Spanish: headings, what a column means, what is wrong."""

LISTS = {
    "customers": "Clientes",
    "yards": "Patios",
    "contacts": "Contactos",
    "specifications": "Fichas de carcasas",
}
HEADINGS = {
    "id": "Registro",
    "number": "Número de cliente",
    "name": "Cliente",
    "customer": "Cliente",
    "store": "Tienda",
    "yard_name": "Patio",
    "yard": "Patio",
    "address": "Dirección",
    "contact": "Contacto",
    "email": "Correo",
    "language": "Idioma",
    "oldest_years": "Edad máxima (años)",
    "most_caps": "Renovados, máximo",
    "most_nail_holes": "Agujeros de clavo, máximo",
    "repairs": "Reparaciones aceptadas",
    "brands": "Marcas aceptadas",
    "sizes": "Medidas aceptadas",
    "steer": "Diseño de banda, dirección",
    "drive": "Diseño de banda, tracción",
    "trailer": "Diseño de banda, remolque",
    "fleet_brand": "Marca de flota",
    "rejects": "Rechazadas",
    "pull_32nds": "Profundidad de retiro (32avos)",
}
ALSO: dict[str, tuple[str, ...]] = {
    "id": (),
    "number": ("Número", "Cuenta", "Número de cuenta", "Nº", "Núm"),
    "name": ("Nombre", "Nombre del cliente", "Flota", "Empresa"),
    "customer": ("Número de cliente", "Nombre del cliente", "Flota", "Empresa", "Cuenta"),
    "store": ("Sucursal", "Local"),
    "yard_name": ("Nombre del patio", "Sitio", "Lugar"),
    "yard": ("Nombre del patio",),
    "address": ("Dirección del patio", "Calle", "Domicilio"),
    "contact": ("Nombre", "Nombre del contacto", "Persona"),
    "email": ("Correo electrónico", "Dirección de correo"),
    "language": ("Habla",),
    "oldest_years": ("Edad máxima",),
    "most_caps": ("Máximo de renovados",),
    "most_nail_holes": ("Agujeros de clavo",),
    "repairs": ("Reparaciones",),
    "brands": ("Marcas",),
    "sizes": ("Medidas",),
    "steer": ("Dirección de banda",),
    "drive": ("Tracción",),
    "trailer": ("Remolque",),
    "fleet_brand": ("Marca",),
    "rejects": ("Qué hacer con las rechazadas",),
    "pull_32nds": ("Profundidad de retiro",),
}
MEANS = {
    "id": "Nuestra propia señal del registro; está en lo exportado. Déjela vacía para uno nuevo. "
    "Con ella se puede cambiar un nombre.",
    "number": "La cuenta del cliente en sus libros. Solo suya; déjela vacía si no tiene.",
    "name": "Cómo se llama el cliente.",
    "customer": "El cliente, por su número o su nombre.",
    "store": "La tienda cuyos camiones van allí, por su nombre.",
    "yard_name": "Cómo se llama el patio.",
    "yard": "El patio, por su nombre. Vacío: para todos los patios del cliente.",
    "address": "Dónde está, en una línea.",
    "contact": "La persona del cliente a la que se avisa.",
    "email": "Adónde van los correos a esta persona. Vacío: no se le manda ninguno.",
    "language": "El idioma de los correos. Vacío: inglés.",
    "oldest_years": "Años enteros que la carcasa puede tener desde que nació. Vacío: cualquiera.",
    "most_caps": "Renovados que ya puede haber tenido. Vacío: cualquiera.",
    "most_nail_holes": "Agujeros de clavo que puede tener. Vacío: cualquiera.",
    "repairs": "Reparaciones antiguas que se aceptan. Vacío: cualquiera.",
    "brands": "Solo estas marcas de carcasa. Vacío: cualquiera.",
    "sizes": "Solo estas medidas. Vacío: cualquiera.",
    "steer": "El diseño de banda que se quiere en el eje de dirección.",
    "drive": "El diseño de banda que se quiere en los ejes de tracción.",
    "trailer": "El diseño de banda que se quiere en remolques.",
    "fleet_brand": "Qué se marca a fuego en ella.",
    "rejects": "Qué se hace con una carcasa que la planta rechaza. Vacío: preguntar cada vez.",
    "pull_32nds": "A qué profundidad la quita este cliente, en 32avos de pulgada. Vacío: no dicho.",
}
ALLOWED = {
    "text": "texto, como máximo {most} caracteres",
    "mail": "una dirección de correo",
    "whole": "un número entero de {least} a {most}",
    "texts": "textos con | o ; entre ellos, como máximo {many}",
    "choice": "uno de: {choices}",
    "choices": "con | o ; entre ellos: {choices}; ninguno: «{nothing}»",
    "id": "como está en lo exportado",
    "store": "una de: {choices}",
    "customer": "un número o nombre conocido o que esté en este archivo",
    "yard": "un nombre conocido o que esté en este archivo",
}
CHOICES = {
    "language": {"en": "inglés", "es": "español"},
    "rejects": {
        "ask": "preguntar cada vez",
        "return": "devolver",
        "scrap": "al desecho",
        "buy": "ofrecer al taller",
    },
}
NOTHING = "ninguno"
EXAMPLE = {
    "number": "1001",
    "name": "Transportes Ejemplo",
    "customer": "Transportes Ejemplo",
    "store": "Tienda Ejemplo",
    "yard_name": "Patio norte",
    "yard": "Patio norte",
    "address": "Calle Ejemplo 4",
    "contact": "Persona de Ejemplo",
    "email": "persona@example.com",
    "language": "español",
    "oldest_years": "7",
    "most_caps": "2",
    "most_nail_holes": "5",
    "repairs": "reparación anterior de clavo",
    "brands": "",
    "sizes": "11R22.5 | 295/75R22.5",
    "steer": "",
    "drive": "Ejemplo D4",
    "trailer": "Ejemplo T2",
    "fleet_brand": "TEJ",
    "rejects": "preguntar cada vez",
    "pull_32nds": "6",
}
TEMPLATE = {
    "title": "Qué significa cada columna",
    "list": "Lista",
    "column": "Columna",
    "means": "Significado",
    "allowed": "Permitido",
    "required": "Obligatoria",
    "yes": "sí",
    "no": "no",
    "example": "ejemplo",
    "remark": "Una fila cuya primera celda empieza con # no se lee. Una columna que falta queda "
    "como está; una celda vacía la vacía.",
}
FAULTS = {
    "required": "Esta celda no puede estar vacía.",
    "failed_formula": "Aquí falló una fórmula. Ponga el valor en su lugar.",
    "unfit_symbol": "Contiene un símbolo que no se puede guardar ({symbol}). Escríbalo de nuevo.",
    "no_mail": "Esto no es una dirección de correo. Permitido: una dirección, como "
    "nombre@flota.example.",
    "number_sign": "Un número de cliente no puede empezar con #.",
    "no_id": "Ningún registro de esta lista tiene esta señal. Deje la celda vacía para uno nuevo.",
    "no_whole": "Permitido: un número entero de {least} a {most}.",
    "too_long": "Tiene {length} caracteres; se permiten como máximo {most}.",
    "no_choice": "«{part}» no se conoce. Permitido: {allowed}.",
    "no_size": "«{part}» no se lee como medida: escríbala como 295/75R22.5 o 11R22.5.",
    "no_size_meant": "«{part}» no se lee como medida. ¿Quiso decir {meant}?",
    "not_none": "Nombre al menos una, o deje la celda vacía: entonces se acepta cualquiera.",
    "too_many": "Aquí hay {n}. Permitido: de 1 a {most}, con | o ; entre ellos.",
    "twice": "El mismo registro ya está en la fila {row}. Deje uno de los dos.",
    "no_store": "Ninguna tienda se llama así. Permitido: {allowed}.",
    "no_customer": "Ningún cliente tiene este número o nombre. Anote primero el cliente, o póngalo "
    "en el mismo libro.",
    "no_yard": "Este cliente no tiene un patio con este nombre. Anote primero el patio, o póngalo "
    "en el mismo libro.",
    "several_stores": "{n} tiendas tienen este nombre.",
    "several_customers": "{n} clientes tienen este nombre. Escriba el número de cliente.",
    "several_yards": "{n} patios de este cliente tienen este nombre. Dé otro nombre a uno.",
    "several_records": "{n} registros tienen este nombre. Exporte la lista y cámbiela allí: la "
    "columna «Registro» los distingue.",
    "number_taken": "Otro cliente tiene este número.",
    "name_taken": "Ya hay otro con este nombre.",
    "stays_theirs": "Un registro sigue siendo de su cliente. Deje la celda como estaba.",
    "changed_since": "Otra persona cambió esto después de que usted lo miró. No se escribió; mire "
    "el archivo otra vez.",
}
UNREADABLE = {
    "no_file": "Elija primero un archivo: CSV o XLSX.",
    "too_big": "El archivo tiene más de {most} MB. Divídalo, o guárdelo como CSV.",
    "empty": "El archivo está vacío.",
    "not_text": "Esto no es ni un libro (.xlsx) ni texto (.csv). Ábralo en una hoja de cálculo y "
    "guárdelo como uno de ellos.",
    "old_workbook": "Este es un libro de la forma antigua (.xls) o con contraseña. Ábralo en una "
    "hoja de cálculo y guárdelo como .xlsx.",
    "other_archive": "Este es un archivo comprimido, pero no un libro .xlsx. Ábralo en una hoja de "
    "cálculo y guárdelo como .xlsx.",
    "locked_workbook": "El libro tiene contraseña. Guárdelo sin ella.",
    "broken_workbook": "Este libro no se puede leer. Ábralo en una hoja de cálculo y guárdelo de "
    "nuevo como .xlsx.",
    "too_much_inside": "El libro ocupa más de {most} MB al abrirlo. Guarde solo las listas, como "
    "CSV.",
    "broken_row": "La fila {row} no se puede leer: una comilla no está cerrada.",
    "long_cell": "Una celda de la fila {row} tiene más de {most} caracteres. Es probable que antes "
    "haya una comilla sin cerrar.",
    "too_many_rows": "Hay más de {most} filas. Divida el archivo.",
    "no_headings": "No se encontraron encabezados conocidos. Empiece con una plantilla, o escriba "
    "sus encabezados sobre sus columnas.",
    "column_missing": "A la lista «{list}» (encabezados en la fila {row}) le falta la columna "
    "{columns}. Agréguela; una plantilla las muestra todas.",
}
SAID = {
    "windows": "El texto se leyó como Windows-1252. Compruebe que los acentos estén bien.",
    "hidden_rows": "Las filas ocultas se leyeron como las demás: {n}.",
    "remarks": "Las filas que empiezan con # no se leyeron: {n}.",
    "unknown": "Estas columnas no se leen: {columns}.",
}
CELL = {
    "quoted": "«{text}»",
    "at": "fila {row}, {column}",
    "at_sheet": "{sheet}, fila {row}, {column}",
    "row": "fila {row}",
    "row_sheet": "{sheet}, fila {row}",
}
