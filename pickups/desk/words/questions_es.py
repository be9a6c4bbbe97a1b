"""What each kind of question means, in Spanish; the English stands with the kinds."""

from pickups.questions.rules import Kind

MEANING_ES: dict[Kind, str] = {
    Kind.LABEL_CONTESTED: "Una etiqueta en dos carcasas: ¿cuál la lleva?",
    Kind.LABEL_NOT_PRINTED: "Un código válido que no imprimimos: ¿de quién es la etiqueta?",
    Kind.LABEL_VOID: "Una etiqueta anulada está en una carcasa: ¿todavía se puede leer?",
    Kind.LABEL_REPLACED: "Una etiqueta reemplazada por dos, o en círculo: ¿cuál lleva la carcasa?",
    Kind.IMPOSSIBLE_ORDER: "Hechos que no pueden ser todos ciertos: ¿cuál está mal?",
    Kind.FROM_THE_FUTURE: "Un hecho con una hora que aún no ha llegado: ¿va bien ese reloj?",
    Kind.PERSON_UNKNOWN: "Anotado por alguien que no se conoce aquí: ¿quién fue?",
    Kind.YARD_UNKNOWN: "Recogida en un patio que no se conoce aquí: ¿de quién es?",
    Kind.COUNT_DIFFERS: "El cliente contó otra cosa que nosotros: ¿quién tiene razón?",
    Kind.DISPUTED: "El cliente dice que una recogida firmada fue de otra manera: ¿qué es cierto?",
    Kind.DISPUTE_MOVED: "Una recogida reclamada resultó ser de otro cliente; por eso no salió "
    "ningún correo: ¿a quién avisamos?",
    Kind.PICKUP_DIFFERS: "La lista que cerró una recogida no es lo que se recogió en ella.",
    Kind.PICKUP_OPEN: "Una recogida que nadie ha terminado: ¿sigue allí el conductor?",
    Kind.SEAL_DIFFERS: "El sello de un remolque no es el que se anotó, o no estaba entero: ¿se "
    "abrió en el camino?",
    Kind.DELIVERY_DIFFERS: "La lista que cerró una devolución no es lo que se devolvió en ella.",
    Kind.DELIVERY_OPEN: "Una devolución que nadie ha terminado: ¿firmó alguien por ella?",
    Kind.CORRECTION_PARKED: "Una corrección de algo que no está aquí: ¿qué se quiso decir?",
    Kind.OTHER_STORE: "El teléfono de otra tienda cambió esto: ¿estuvo bien?",
    Kind.WRONG_OWNER: "Entregada a un cliente de quien no es la carcasa: ¿dónde está ahora?",
    Kind.ONE_SIDE_ONLY: "Una entrega que solo una parte contó en un día: ¿dónde está la carcasa?",
    Kind.LOAD_DIFFERS: "Una carga contada a mano no es lo que se escaneó, o lo que debía venir: "
    "¿dónde está el resto?",
    Kind.HOLDER_UNKNOWN: "Entregada a una persona o un lugar que aquí nadie conoce: ¿dónde está?",
    Kind.PROMISE_TOO_EARLY: "Prometida antes de nuestro propio día: ¿se puede cumplir?",
    Kind.NOT_ACCEPTED: "Se llevó aunque la revisión dice que se quede, y nadie dijo por qué: "
    "¿se queda con nosotros o se devuelve?",
    Kind.PAYLOAD_NOT_UNDERSTOOD: "Una entrada que no se pudo leer: ¿qué quiso decir el conductor?",
    Kind.KIND_UNKNOWN: "Una entrada de una clase que este servidor aún no conoce.",
    Kind.VERSION_UNKNOWN: "Una entrada de una aplicación más nueva; espera a la próxima versión.",
    Kind.REFERENCE_UNSEEN: "Una entrada que habla de algo que aún no ha llegado.",
    Kind.COULD_NOT_APPLY: "Una entrada que hizo fallar al servidor; se guarda entera.",
    Kind.NEW_INCARNATION: "Un teléfono volvió con un almacén nuevo y vacío: ¿falta algo?",
    Kind.SEQUENCE_TAKEN: "Dos entradas de un teléfono con un número: ¿se copió su almacén?",
    Kind.DEVICE_MOVED: "Un teléfono en uso se registró de nuevo en otro lugar: ¿fue a propósito?",
    Kind.LOAD_MISSING: "Entraron carcasas en una cámara de curado y nadie las vio salir: ¿dónde "
    "están?",
    Kind.LOAD_OVER: "Salió una carcasa con una carga de curado y nadie la vio entrar: ¿se curó en "
    "esa carga o en otra?",
    Kind.LOAD_SHORT: "Una carga de curado quedó por debajo de lo que indicó la planta: ¿quién "
    "decide sobre sus carcasas?",
    Kind.CONSIGNMENT_DIFFERS: "Lo que una planta escaneó de un camión no es lo de su lista, o no "
    "es lo que se contó a mano: ¿dónde está el resto?",
    Kind.REWORK_LIMIT: "Una carcasa volvió a trabajarse más veces de las que permite la planta: "
    "¿sigue?",
    Kind.PLANT_IMPOSSIBLE: "Lo que las estaciones contaron de una carcasa no puede ser todo "
    "cierto: ¿dónde está, y qué se hizo con ella?",
    Kind.RELEASE_NOT_ALLOWED: "Se deshizo lo que una estación no puede deshacer: ¿sigue en pie?",
    Kind.BUILT_DIFFERS: "Se terminó una llanta que no es como se pidió: ¿sale?",
    Kind.OWNER_UNKNOWN: "Una carcasa sin etiqueta está en el estante de dueño desconocido: ¿de "
    "quién es?",
    Kind.STOP_USE_UNCONFIRMED: "Un dueño no ha confirmado que las llantas están fuera de servicio: "
    "llámelo ahora. ¿Quién lo sabe allí?",
    Kind.STOP_USE_WITHDRAWN: "Se retiró un aviso de dejar de usar, y puede que ningún correo "
    "se lo diga a este dueño: llámelo ahora. ¿Quién lo sabe allí?",
}
