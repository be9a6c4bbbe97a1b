/**
 * The entered limit as a ruler with the find laid on it. It says "no limit entered" or "beyond the
 * entered limit"; that a find is small enough is nothing this program says.
 */
import type { Find } from "../answer";
import type { Floor } from "../floor";
import { limitFor } from "../limit";
import { ruler } from "../ruler";
import { decimal } from "../../pickups/words";
import { testid } from "../../pickups/testids";
import { floorWords } from "../words";

const [WIDTH, LEFT, RIGHT] = [320, 14, 306];

export function Ruler({ floor, find, size }: { floor: Floor; find: Find; size: string }) {
  const w = floorWords.value;
  const held = limitFor(floor.phone.now.value.floor.rows, find, size);
  const { most_mm: limit } = held;
  const said = {
    stops: w.limit_stops,
    none: w.limit_none,
    beyond: w.limit_beyond,
    beside: w.limit_beside,
  }[held.says];
  const grave = held.says === "beyond" || held.says === "stops";
  if (find.size_mm === null || held.says === "stops")
    return (
      <p class={grave ? "fault" : "soft"} {...testid("limit")} data-says={held.says}>
        {said}
        {limit !== null && ` ${w.limit_of(decimal(limit), held.source)}`}
      </p>
    );
  const drawn = ruler(find.size_mm, limit);
  const x = (mm: number) => LEFT + ((RIGHT - LEFT) * mm) / drawn.end;
  return (
    <figure class="ruler">
      <svg viewBox={`0 0 ${WIDTH} 78`} aria-hidden="true" focusable="false">
        <rect class="find" x={LEFT} y="8" width={x(drawn.find) - LEFT} height="18" />
        <path class="edge" d={`M${LEFT} 32 H${RIGHT}`} />
        {drawn.marks.map(({ mm, named }) => (
          <g key={mm}>
            <path class="edge" d={`M${x(mm)} 32 v${named ? 14 : 8}`} />
            {named && (
              <text x={x(mm)} y="62">
                {mm}
              </text>
            )}
          </g>
        ))}
        {limit !== null && (
          <g>
            <path class="limit" d={`M${x(limit)} 2 V46`} />
            <path class="flag" d={`M${x(limit) - 7} 0 H${x(limit) + 7} L${x(limit)} 9 Z`} />
          </g>
        )}
      </svg>
      <figcaption class={grave ? "fault" : ""} {...testid("limit")} data-says={held.says}>
        {said}
        {limit !== null && ` ${w.limit_of(decimal(limit), held.source)}`}
        {held.most_count !== null && ` ${w.limit_count(held.most_count)}`}
        {held.says !== "none" && held.count_unlimited && ` ${w.limit_count_none}`}
      </figcaption>
    </figure>
  );
}
