/** What comes to this station next, rush first, then the earliest promise. To look at: a scan says which it is. */
import { shown } from "../domain/labels";
import { testid } from "../pickups/testids";
import { dayInWords, when } from "../pickups/words";
import type { Floor } from "./floor";
import { queueAt } from "./shift";
import { floorWords } from "./words";

/** More than stand in sight say nothing at a station; their number is told. */
const IN_SIGHT = 8;

export function Queue({ floor }: { floor: Floor }) {
  const w = floorWords.value;
  const all = queueAt(floor.works.values(), floor.station);
  return (
    <section {...testid("queue")} data-count={all.length}>
      <h2>{w.queue_title(all.length)}</h2>
      {all.length === 0 && <p class="soft">{w.queue_none}</p>}
      <ul class="lines">
        {all.slice(0, IN_SIGHT).map((work) => (
          <li key={work.label} class="waiting-one" {...testid(`next-${work.label}`)}>
            <span class="code">{shown(work.label)}</span>
            {work.wanted?.rush && <strong>{w.rush}</strong>}
            <span>{[work.wanted?.size, work.wanted?.owner].filter(Boolean).join(" · ")}</span>
            <span class="soft">
              {work.wanted?.promised
                ? w.promised(dayInWords(work.wanted.promised))
                : w.since(when(work.seen_at))}
            </span>
          </li>
        ))}
      </ul>
      {all.length > IN_SIGHT && <p class="soft">{w.queue_more(all.length - IN_SIGHT)}</p>}
    </section>
  );
}
