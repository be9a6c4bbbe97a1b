/** One word about a cure load. What this tablet does not ask for, it does not say: a word that
 * comes late leaves the lots, operator and note of the plant's own system as they are. */
import { cureLoad, type CureLoad } from "../../domain/plantTelling";
import type { Floor } from "../floor";

export async function tellLoad({ phone }: Floor, told: CureLoad): Promise<void> {
  await phone.enter({ id: phone.deps.ids.next(), telling: cureLoad(told) });
}
