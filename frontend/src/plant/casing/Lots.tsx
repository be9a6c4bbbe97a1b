/** The lots in use at this station: read off the box once, told with each casing until the next. */
import { MATERIALS, type Material } from "../../domain/plantTelling";
import { testid } from "../../pickups/testids";
import { type Floor, remember } from "../floor";
import { KeptField } from "../KeptField";
import { floorWords } from "../words";

export function Lots({ floor, materials }: { floor: Floor; materials: Material[] }) {
  const w = floorWords.value;
  const { station, kept, phone } = floor;
  const now = kept.lots[station] ?? [];
  const set = (kind: Material, number: string) =>
    void remember(phone, ({ lots }) => ({
      lots: {
        ...lots,
        [station]: [...(lots[station] ?? []).filter((one) => one.kind !== kind), { kind, number }],
      },
    }));
  return (
    <fieldset class="lots">
      <legend>{w.lots_title}</legend>
      {MATERIALS.filter((kind) => materials.includes(kind)).map((kind) => (
        <KeptField
          key={kind}
          id={`lot-${kind}`}
          title={w.materials[kind]}
          hint={w.lot_hint}
          value={now.find((one) => one.kind === kind)?.number ?? ""}
          onKept={(number) => set(kind, number)}
          input={{ ...testid(`lot-${kind}`), maxLength: 40, spellcheck: false }}
        />
      ))}
    </fieldset>
  );
}
