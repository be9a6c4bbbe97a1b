/** What is to be loaded, as a list; and what is not, in words. */
import type { Casing, Run } from "../../domain/rows";
import type { Wanted } from "../../domain/run";
import { isAt } from "../../domain/truck";
import { usePhone } from "../context";
import { words } from "../words";
import { CasingLine, named } from "./CasingLine";
import { placeSaid } from "./doubts";
import { placeName } from "./stopWords";

/** Which are not loaded, by their labels. */
export function shortSaid(short: Wanted[]): string {
  const w = words.value;
  const labels = short.flatMap(({ casing }) => casing?.label ?? []);
  const known = labels.length > 0 ? `: ${named(labels)}` : "";
  const unseen = short.length - labels.length;
  return `${w.road_not_loaded(short.length)}${known}.${unseen > 0 ? ` ${w.road_unseen(unseen)}` : ""}`;
}

/** In the order of loading: what is dropped last goes in first. */
export function WantedList(props: { run: Run; wanted: Wanted[]; place: string }) {
  const { run, wanted, place } = props;
  const now = usePhone().now.value;
  const w = words.value;
  const stops = [...new Set(wanted.map((one) => one.stop))];
  if (stops.length === 0) return <p class="soft">{w.road_nothing_to_load}</p>;
  return (
    <section class="stack">
      <p class="soft">{w.road_last_first}</p>
      {stops.map((number) => {
        const mine = wanted.filter((one) => one.stop === number);
        return (
          <div key={number}>
            <h2>{w.road_for_stop(number, placeName(now, run.stops[number - 1]!))}</h2>
            <ul class="lines">
              {mine.map(({ id, casing, loaded }) =>
                casing === null ? (
                  <li key={id} class="carried soft">
                    {w.road_unseen(1)}
                  </li>
                ) : (
                  <CasingLine
                    key={id}
                    label={casing.label}
                    casing={casing}
                    done={loaded}
                    word={!loaded && !isAt(casing, place) && placeSaid(now, casing.holder)}
                  />
                ),
              )}
            </ul>
          </div>
        );
      })}
    </section>
  );
}

/** What stands at a place where no sheet names anything. */
export function Standing({ casings, title }: { casings: Casing[]; title: string }) {
  return (
    <section>
      <h2>{title}</h2>
      <ul class="lines">
        {casings.map((casing) => (
          <CasingLine key={casing.id} label={casing.label} casing={casing} done={false} />
        ))}
      </ul>
    </section>
  );
}
