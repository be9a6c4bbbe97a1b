/** What a place is called: one of the dealer's, else as the list says it. */
import type { Floor } from "../floor";

export const siteSaid = ({ phone }: Floor, place: string): string =>
  phone.now.value.sites.find(({ id }) => id === place)?.name ?? place;

/** Empty where this tablet does not know who drives: people of other places are not on it. */
export const driverSaid = ({ phone }: Floor, driver: string): string =>
  phone.now.value.people.find(({ id }) => id === driver)?.name ?? "";
