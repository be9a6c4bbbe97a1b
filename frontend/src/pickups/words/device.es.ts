/** What is said everywhere of this device and its room, in Spanish. */
import type { device as english } from "./device.en";

export const device: typeof english = {
  floor_not_here: "Las estaciones aún no llegaron a esta tableta.",
  device_open: "Este dispositivo",
  device_not_here:
    "Esta pantalla aún no está en el dispositivo. Vaya donde haya señal e inténtelo de nuevo.",
  tight_smaller:
    "El dispositivo está casi lleno. Las fotos se hicieron más pequeñas; todo está guardado.",
  tight_later:
    "El dispositivo está lleno. Lo anotado está guardado; sus fotos siguen aquí y se envían en cuanto haya espacio.",
  tight_without_photos:
    "El dispositivo está lleno. Lo anotado está guardado, sus fotos no. Anote lo que mostraban.",
  tight_sheet:
    "El dispositivo está lleno. Lo que está a medias solo está aquí mientras la aplicación siga abierta: guárdelo o libere espacio.",
  tight_room: "Ver el espacio",
  photo_no_room:
    "No hay espacio para una foto, ni siquiera pequeña. Guarde sin ella y anote lo que mostraría; luego borre videos o archivos de otras aplicaciones.",
  photos_to_send: (n) => (n === 1 ? "falta enviar 1 foto" : `faltan enviar ${n} fotos`),
};
