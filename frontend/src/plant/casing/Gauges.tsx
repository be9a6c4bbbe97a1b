/**
 * Buffing and building figures as gauges give them, and the arithmetic of the tread's length from
 * the measured circumference. It is arithmetic, no maker's instruction, and says so.
 */
import { treadLength } from "../../domain/figures";
import { testid } from "../../pickups/testids";
import { decimal } from "../../pickups/words";
import { Field } from "../../ui/Field";
import { BOUNDS, type Gauge, measure } from "../answer";
import { remember } from "../floor";
import { KeptField } from "../KeptField";
import { floorWords } from "../words";
import type { Part } from "./part";

const OF: Record<"buffed" | "tread", Gauge[]> = {
  buffed: ["circumference_mm", "crown_width_mm", "buffed_radius_mm", "texture"],
  tread: ["tread_width_mm", "tread_length_mm"],
};

export function Gauges({ floor, work, fields, fill, of }: Part & { of: "buffed" | "tread" }) {
  const w = floorWords.value;
  const typed = (gauge: Gauge) => fields.gauges[gauge] ?? "";
  return (
    <fieldset class="gauges">
      <legend>{of === "buffed" ? w.buffed_title : w.tread_title}</legend>
      <div class="gauge-fields">
        {OF[of].map((gauge) => {
          const bounds = BOUNDS[gauge];
          const wrong = measure(typed(gauge), bounds) === "none";
          return (
            <Field
              key={gauge}
              id={gauge}
              title={w.gauges[gauge]}
              hint={w.gauge_bounds(bounds[0], bounds[1])}
              fault={wrong ? w.gauge_fault(typed(gauge), bounds[0], bounds[1]) : null}
              value={typed(gauge)}
              onValue={(value) => fill((now) => ({ gauges: { ...now.gauges, [gauge]: value } }))}
              input={{ ...testid(gauge), inputMode: "decimal", maxLength: 8 }}
            />
          );
        })}
      </div>
      {of === "tread" && <TreadLength floor={floor} work={work} fields={fields} />}
      {of === "tread" && <Width work={work} fields={fields} />}
    </fieldset>
  );
}

/** How long the tread has to be: the buffed circumference, in whole pitches of its design. */
function TreadLength({ floor, work, fields }: Pick<Part, "floor" | "work" | "fields">) {
  const w = floorWords.value;
  const around = work.measured.circumference_mm ?? null;
  const design = work.wanted?.tread_design ?? "";
  const typed = floor.kept.pitches[design] ?? "";
  const pitch = measure(typed, [1, 1000]);
  const laid = measure(fields.gauges.tread_length_mm ?? "", BOUNDS.tread_length_mm);
  const asked = around !== null && typeof pitch === "number" ? treadLength(around, pitch) : null;
  return (
    <div class="arithmetic">
      <KeptField
        id="pitch"
        title={design === "" ? w.pitch : w.pitch_of(design)}
        hint={w.pitch_hint}
        fault={pitch === "none" ? w.gauge_fault(typed, 1, 1000) : null}
        value={typed}
        onKept={(value) =>
          void remember(floor.phone, (kept) => ({ pitches: { ...kept.pitches, [design]: value } }))
        }
        input={{ ...testid("pitch"), inputMode: "decimal", maxLength: 8 }}
      />
      <p {...testid("tread-length")} class={asked === null ? "soft" : ""}>
        {around === null
          ? w.length_no_around
          : asked === null
            ? w.length_no_pitch(decimal(around))
            : w.length_is(
                decimal(around),
                asked.pitches,
                decimal(pitch as number),
                decimal(asked.length_mm),
                decimal(Math.abs(asked.stretch_mm)),
                asked.stretch_mm < 0,
              )}
      </p>
      {asked !== null && typeof laid === "number" && laid !== asked.length_mm && (
        <p class="asks" {...testid("length-off")}>
          {w.length_off(decimal(Math.abs(laid - asked.length_mm)), laid > asked.length_mm)}
        </p>
      )}
      <p class="soft">{w.length_say}</p>
    </div>
  );
}

/** The tread beside the crown that it has to cover. */
function Width({ work, fields }: Pick<Part, "work" | "fields">) {
  const w = floorWords.value;
  const crown = work.measured.crown_width_mm ?? null;
  const tread = measure(fields.gauges.tread_width_mm ?? "", BOUNDS.tread_width_mm);
  if (crown === null || typeof tread !== "number") return null;
  return (
    <p class={tread === crown ? "soft" : "asks"} {...testid("width")}>
      {w.width_is(decimal(tread), decimal(crown), decimal(Math.abs(tread - crown)))}
    </p>
  );
}
