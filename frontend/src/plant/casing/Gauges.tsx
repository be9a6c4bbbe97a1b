/**
 * Buffing and building figures as gauges give them, and the arithmetic of the tread's length from
 * the measured circumference. It is arithmetic, no maker's instruction, and says so.
 */
import { useState } from "preact/hooks";
import { treadLength } from "../../domain/figures";
import { testid } from "../../pickups/testids";
import { decimal, fine } from "../../pickups/words";
import { Field } from "../../ui/Field";
import { BOUNDS, type Gauge, measure } from "../answer";
import { remember } from "../floor";
import { KeptField } from "../KeptField";
import { type Wanted, wantedFor } from "../targets";
import { floorWords } from "../words";
import type { Part } from "./part";
import { WantedFigures } from "./WantedFigures";

const OF: Record<"buffed" | "tread", Gauge[]> = {
  buffed: ["circumference_mm", "crown_width_mm", "buffed_radius_mm", "texture"],
  tread: ["tread_width_mm", "tread_length_mm"],
};

export function Gauges({ floor, work, fields, fill, of }: Part & { of: "buffed" | "tread" }) {
  const w = floorWords.value;
  const typed = (gauge: Gauge) => fields.gauges[gauge] ?? "";
  const rows = floor.phone.now.value.floor.rows;
  const { tread_design: design = "", size = "" } = work.wanted ?? {};
  const wanted = wantedFor(rows, design, size);
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
      {of === "tread" && (
        <TreadLength
          key={`${work.uid} ${wanted?.target.pitch_mm ?? ""}`}
          {...{ floor, work, fields, wanted }}
        />
      )}
      {of === "tread" && <Width {...{ work, fields, wanted }} />}
      <WantedFigures work={work} fields={fields} wanted={wanted} gauges={OF[of]} />
    </fieldset>
  );
}

type Asked = Pick<Part, "floor" | "work" | "fields"> & { wanted: Wanted | null };

/**
 * How long the tread has to be: the buffed circumference, in whole pitches of its design. The pitch
 * is the one that the plant has entered; where it has none, the one that was typed last.
 */
function TreadLength({ floor, work, fields, wanted }: Asked) {
  const w = floorWords.value;
  const around = work.measured.circumference_mm ?? null;
  const design = work.wanted?.tread_design ?? "";
  const entered = wanted?.target.pitch_mm ?? null;
  const [other, setOther] = useState<string | null>(null);
  const before = entered === null ? (floor.kept.pitches[design] ?? "") : String(entered);
  const typed = other ?? before;
  const sheet = wanted?.sheets.join(", ") ?? "";
  const gum = wanted?.target.gum_mm ?? 0;
  const pitch = measure(typed, [1, 1000]);
  const laid = measure(fields.gauges.tread_length_mm ?? "", BOUNDS.tread_length_mm);
  const asked =
    around !== null && typeof pitch === "number" ? treadLength(around, pitch, gum) : null;
  return (
    <div class="arithmetic">
      <KeptField
        id="pitch"
        title={design === "" ? w.pitch : w.pitch_of(design)}
        hint={entered === null ? w.pitch_hint : w.pitch_from(sheet)}
        asks={entered !== null && pitch !== entered ? w.pitch_differs(fine(entered), sheet) : null}
        fault={pitch === "none" ? w.gauge_fault(typed, 1, 1000) : null}
        value={typed}
        onKept={(value) => {
          setOther(value);
          if (entered === null)
            void remember(floor.phone, (kept) => ({
              pitches: { ...kept.pitches, [design]: value },
            }));
        }}
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
                fine(pitch as number),
                decimal(asked.length_mm),
                decimal(Math.abs(asked.stretch_mm)),
                asked.stretch_mm < 0,
              )}
      </p>
      {asked !== null && gum > 0 && (
        <p {...testid("length-gum")}>{w.length_gum(fine(gum), decimal(asked.ring_mm))}</p>
      )}
      {asked !== null && typeof laid === "number" && laid !== asked.length_mm && (
        <p class="asks" {...testid("length-off")}>
          {w.length_off(decimal(Math.abs(laid - asked.length_mm)), laid > asked.length_mm)}
        </p>
      )}
      <p class="soft">{w.length_say}</p>
    </div>
  );
}

/** The tread beside the crown that it has to cover: asks where they are further apart than entered. */
function Width({ work, fields, wanted }: Omit<Asked, "floor">) {
  const w = floorWords.value;
  const crown = work.measured.crown_width_mm ?? null;
  const tread = measure(fields.gauges.tread_width_mm ?? "", BOUNDS.tread_width_mm);
  if (crown === null || typeof tread !== "number") return null;
  const apart = Math.abs(tread - crown);
  return (
    <p class={apart <= (wanted?.target.width_off_mm ?? 0) ? "soft" : "asks"} {...testid("width")}>
      {w.width_is(decimal(tread), decimal(crown), decimal(apart))}
    </p>
  );
}
