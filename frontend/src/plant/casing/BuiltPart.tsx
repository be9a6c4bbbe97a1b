/** Final inspection: what was ordered beside what is read off the tire; what differs is named. */
import { testid } from "../../pickups/testids";
import { Field } from "../../ui/Field";
import { differenceSaid, orderedDiffers } from "../against";
import { NOTE_MOST } from "../answer";
import { floorWords } from "../words";
import type { Part } from "./part";

const READ = ["tread_design", "fleet_brand", "retread_tin", "caps"] as const;

export function BuiltPart({ floor, work, fields, fill, fault }: Part) {
  const w = floorWords.value;
  const { wanted } = work;
  const ordered: Record<(typeof READ)[number], string> = {
    tread_design: wanted?.tread_design || w.order_none,
    fleet_brand: wanted?.fleet_brand || w.order_no_brand,
    retread_tin: floor.route?.plant_code ? w.order_tin(floor.route.plant_code) : w.order_any_tin,
    caps: w.order_caps,
  };
  const begun = READ.some((field) => fields[field].trim() !== "");
  const differs = begun ? orderedDiffers(floor, work, fields) : [];
  return (
    <section class="built stack">
      <h2>{w.built_title}</h2>
      <ul class="read">
        {READ.map((field) => {
          const off = differs.find((one) => one.field === field);
          return (
            <li key={field} data-differs={off !== undefined && fields[field].trim() !== ""}>
              <Field
                id={field}
                title={w.read_fields[field] ?? field}
                hint={wanted === null ? "" : w.ordered(ordered[field])}
                fault={
                  fault === "caps" && field === "caps"
                    ? w.missing.caps
                    : fault === "built" && fields[field].trim() === "" && field !== "fleet_brand"
                      ? w.missing.built
                      : null
                }
                asks={
                  off !== undefined && fields[field].trim() !== ""
                    ? `${w.differs}: ${differenceSaid(off)}`
                    : null
                }
                value={fields[field]}
                onValue={(value) => fill({ [field]: value })}
                beside={
                  field !== "caps" && field !== "retread_tin" && wanted?.[field] ? (
                    <button
                      type="button"
                      class="button"
                      onClick={() => fill({ [field]: wanted[field] })}
                      {...testid(`as-ordered-${field}`)}
                    >
                      {w.as_ordered}
                    </button>
                  ) : undefined
                }
                input={{
                  ...testid(field),
                  autocapitalize: field === "caps" ? "off" : "characters",
                  inputMode: field === "caps" ? "numeric" : "text",
                  maxLength: { tread_design: 60, fleet_brand: 40, retread_tin: 24, caps: 2 }[field],
                  spellcheck: false,
                }}
              />
            </li>
          );
        })}
      </ul>
      {differs.length > 0 && (
        <div class="differs" role="status" {...testid("differs")}>
          <p class="asks">{w.differs_say(differs.length)}</p>
          <ul>
            {differs.map((one) => (
              <li key={`${one.field} ${one.why}`}>{differenceSaid(one)}</li>
            ))}
          </ul>
          <Field
            id="differs-note"
            title={w.differs_note}
            fault={fault === "differences" ? w.missing.differences : null}
            rows={2}
            value={fields.differs_note}
            onValue={(differs_note) => fill({ differs_note })}
            input={{ ...testid("differs-note"), maxLength: NOTE_MOST.differs }}
          />
        </div>
      )}
    </section>
  );
}
