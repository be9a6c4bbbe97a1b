/** The screen about this device itself, in Spanish. */
import type { DeviceWords } from "./words.en";

const counted = (n: number, one: string, more: string) => `${n} ${n === 1 ? one : more}`;

export const es: DeviceWords = {
  title: "Este dispositivo",
  waits: "Sin enviar",
  waits_none: "Nada. Todo lo que se anotó aquí está en la oficina.",
  entries: (n) => counted(n, "anotación", "anotaciones"),
  since: (time) => `desde ${time}`,
  photos: (n) => counted(n, "foto o firma", "fotos o firmas"),
  needs: (n) => (n === 1 ? "1 de ellas lo necesita a usted" : `${n} de ellas lo necesitan a usted`),
  room: "Espacio",
  room_said: (used, free) => `${used} usados aquí, ${free} libres`,
  room_unknown: "Este navegador no lo dice.",
  room_short:
    "Queda poco espacio. Las fotos se hacen más pequeñas; lo anotado se sigue guardando. Borre lo que este dispositivo no necesita, como videos.",
  kept: "Lo que se anota aquí",
  kept_yes: "se conserva, aunque al dispositivo le falte espacio.",
  kept_no:
    "puede ser borrado por el navegador si falta espacio. Ponga esta aplicación en la pantalla de inicio y ábrala a menudo.",
  kept_unknown: "Este navegador no dice si lo conserva.",
  kept_ask: "Pedir al navegador que lo conserve",
  kept_refused:
    "El navegador dijo que no por ahora. Dice que sí a las aplicaciones de uso frecuente.",
  build: "Versión de la aplicación",
  build_unknown: "desconocida",
  save: "Guardar en un archivo lo que no se envió",
  save_say:
    "Para cuando este dispositivo no puede enviar. Solo la oficina puede abrir el archivo. Aquí no se borra nada.",
  save_busy: "Guardando",
  saved: (what, file) => `Guardado como ${file}: ${what}. Entregue el archivo a la oficina.`,
  and: (one, other) => `${one} y ${other}`,
  save_no_key:
    "Este dispositivo se registró antes de que pudiera guardar un archivo. Regístrelo de nuevo con un código nuevo; no se pierde nada.",
  save_failed: "No se pudo hacer el archivo. Todo sigue aquí. Libere espacio e inténtelo de nuevo.",
};
