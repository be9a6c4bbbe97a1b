/** Quién tiene este dispositivo, en español: los PIN, el bloqueo, el turno de otra persona. */
import type { lock as english } from "./lock.en";

export const lock: typeof english = {
  who_title: "¿Quién es usted?",
  who_say: "Lo que anote queda escrito a su nombre.",
  who_add_title: "¿Quién es?",
  who_all_have: "Todos los de este lugar ya tienen PIN aquí.",
  who_held: (name) => `${name} tiene este dispositivo`,
  who_of: (name) => `Lo tiene ${name}`,
  who_add: "Agregar a una persona",
  who_change_pin: "Cambiar mi PIN",
  who_next: "Otra persona",
  who_next_say:
    "Bloquea este dispositivo para que la siguiente persona escriba su PIN. Nada a medias se pierde.",
  idle_title: "Se bloquea solo",
  idle_say: "Tras tantos minutos sin tocarlo. Lo que está a medias se guarda.",
  idle_minutes: (n) => `${n} minutos`,

  lock_now: "Bloquear",
  lock_title: "Bloqueado",
  lock_say: "Escriba su PIN",
  lock_checking: "Un momento",
  lock_wrong: "Ningún PIN de este dispositivo.",
  lock_left: (n) =>
    n === 1
      ? "Queda un intento. Después este dispositivo olvida las listas; lo registrado se guarda."
      : `Quedan ${n} intentos. Después este dispositivo olvida las listas; lo registrado se guarda.`,
  lock_wait: (seconds) => `El próximo intento en ${seconds} s.`,
  lock_ways:
    "¿Aún sin PIN aquí? Quien tenga uno lo agrega. ¿Lo olvidó? La oficina muestra un código nuevo; después cada uno pone su PIN otra vez.",
  lock_code: "Tengo un código de la oficina",
  lock_emptied: "Este dispositivo necesita a la oficina",
  lock_emptied_ten:
    "Diez PIN equivocados seguidos. Las listas ya no están en este dispositivo. Lo registrado se guarda y se envía.",
  lock_emptied_none: "Ya nadie de este lugar tiene PIN aquí. Lo registrado se guarda y se envía.",
  lock_emptied_do: "Escribir un código de la oficina",

  left_pickup: (name, yard) => `${name} tiene aquí una recogida sin terminar: ${yard}.`,
  left_delivery: (name, yard) => `${name} tiene aquí una entrega sin terminar: ${yard}.`,
  left_somebody: "Alguien más",

  pin: "Seis cifras, y otra vez después",
  pin_old: "Su PIN de ahora",
  pin_old_forgotten:
    "¿Lo olvidó? La oficina muestra un código nuevo; después cada uno pone su PIN otra vez.",
  pin_not_yours: "Ese no es su PIN.",
  pin_typed: (n) => `${n} de 6 cifras`,
  pin_erase: "Borrar",
  pin_new: (name) => `Un PIN para ${name}`,
  pin_new_say: "En este dispositivo dice que es usted; no lo diga a nadie.",
  pin_again: "El mismo PIN otra vez",
  pin_differs: "Los dos no eran iguales. Elija uno de nuevo.",
  pin_equal: (typed) => `${typed} es seis veces la misma cifra. Elija uno menos sencillo.`,
  pin_running: (typed) => `${typed} va en orden. Elija uno menos sencillo.`,
  pin_taken: "Este PIN no se puede tener en este dispositivo. Elija otro.",
  pin_lost: "Mientras tanto este dispositivo se preparó de nuevo. Empiece otra vez.",
  pin_set: (name) => `${name} ya tiene PIN.`,
};
