/** The phone that the screens stand on. */
import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Phone } from "../bridge/phone";

export const PhoneContext = createContext<Phone | null>(null);

export function usePhone(): Phone {
  const phone = useContext(PhoneContext);
  if (phone === null) throw new Error("a screen outside of the phone");
  return phone;
}
