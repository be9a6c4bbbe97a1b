/** Which cure load a casing is answered with at curing or stripping. Pure. */
import { openLoads } from "../loads";
import type { Load } from "../rows";

/** The load that it was set in with; else the one chosen here, as long as it is open; else none. */
export function loadAt(at: {
  worn: string;
  station: string;
  loads: Load[];
  chosen: string;
}): Load | null {
  const open = openLoads(at.loads, at.station);
  const holds = ({ set_in }: Load) => set_in.some(({ label }) => label === at.worn);
  const chosen = ({ uid, also }: Load) => uid === at.chosen || also.includes(at.chosen);
  return open.find(holds) ?? (at.chosen === "" ? undefined : open.find(chosen)) ?? null;
}
