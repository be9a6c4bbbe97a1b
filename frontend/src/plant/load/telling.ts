/** One word about a cure load, whole: the newest stands. */
import { cureLoad, type CureLoad } from "../../domain/plantTelling";
import type { Floor } from "../floor";

export async function tellLoad({ phone }: Floor, told: CureLoad): Promise<void> {
  await phone.enter({ id: phone.deps.ids.next(), telling: cureLoad(told) });
}
