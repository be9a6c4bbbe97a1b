/**
 * What the plant wants of this tread design beside what is measured, and where the two differ.
 * Silence is no approval: where nothing was entered it says so.
 */
import type { Gauged } from "../../domain/figures";
import { testid } from "../../pickups/testids";
import { fine } from "../../pickups/words";
import { type Gauge, measured } from "../answer";
import { notAsWanted, type Wanted, wantedOf } from "../targets";
import { floorWords } from "../words";
import type { Part } from "./part";

interface Props extends Pick<Part, "work" | "fields"> {
  wanted: Wanted | null;
  /** The gauges that are asked here; the length is said by its own arithmetic, and so is the crown
   * beside the tread that was cut. */
  gauges: Gauge[];
}

const SAID: (keyof Gauged)[] = ["crown_width_mm", "buffed_radius_mm", "texture", "tread_width_mm"];

export function WantedFigures({ work, fields, wanted, gauges }: Props) {
  const w = floorWords.value;
  const design = work.wanted?.tread_design ?? "";
  if (design === "") return null;
  const shown = gauges.filter((gauge) => SAID.includes(gauge));
  const off =
    wanted === null
      ? []
      : notAsWanted(work.measured, measured(fields.gauges), wanted.target).filter(({ figure }) =>
          shown.includes(figure),
        );
  return (
    <div class="arithmetic" {...testid("wanted-figures")}>
      <p class="soft">
        {wanted === null ? w.figures_none(design) : w.figures_of(design, wanted.sheets.join(", "))}
      </p>
      {wanted !== null && (
        <ul>
          {shown.map((gauge) => (
            <li key={gauge}>{`${w.gauges[gauge]}: ${asked(gauge, wanted)}`}</li>
          ))}
        </ul>
      )}
      <div aria-live="polite">
        {off.map(({ figure, measured: is, wanted: want, off: away, allowed }) => (
          <p class="asks" key={figure} {...testid(`off-${figure}`)}>
            {w.figure_off(
              w.gauges[figure],
              fine(is),
              fine(want),
              fine(Math.abs(away)),
              away > 0,
              fine(allowed),
            )}
          </p>
        ))}
      </div>
    </div>
  );
}

function asked(gauge: Gauge, { target }: Wanted): string {
  const w = floorWords.value;
  const { least, most, off } = wantedOf(gauge, target);
  if (least === null && most === null) return w.figure_none;
  if (gauge === "texture")
    return w.figure_range(least === null ? "" : fine(least), most === null ? "" : fine(most));
  return w.figure_wanted(fine(least as number), off === null ? "" : fine(off));
}
