/** What readings come to, in careful words: limits of the law, the customer's own depth, wear. */
import type { Position } from "../../domain/operation";
import { measure, type Places, toMm } from "../../domain/tread";
import { testid } from "../testids";
import { decimal, words } from "../words";
import { wheelsOf } from "./treads";

export function TreadSum({ places }: { places: Places }) {
  const w = words.value;
  const { lowest, mean, readings } = measure(places);
  const said = (depth: number) => w.tread_depth(decimal(depth), decimal(toMm(depth)));
  return (
    <p {...testid("tread-sum")}>
      {readings > 1 && lowest !== null && mean !== null
        ? w.tread_lowest(said(lowest), said(mean))
        : lowest !== null && said(lowest)}
    </p>
  );
}

export function TreadSaid(props: { places: Places; position: Position; pull: number | null }) {
  const { places, position, pull } = props;
  const w = words.value;
  const { below, under_pull, left, causes, across, between } = measure(
    places,
    wheelsOf(position),
    pull,
  );
  const differences = [
    across > 0 ? w.tread_across(across) : "",
    between > 0 ? w.tread_between(between) : "",
  ].filter((said) => said !== "");
  return (
    <div class="tread-said" aria-live="polite" {...testid("tread-said")}>
      {below.map(({ section, least_32nds, wheels }) => (
        <p key={section} class="asks">
          {w.tread_below(least_32nds, wheels)} <span class="code">{section}</span>
        </p>
      ))}
      {pull !== null && under_pull !== null && under_pull > 0 && (
        <p class="soft">{w.tread_under_pull(under_pull, pull)}</p>
      )}
      {pull !== null && left !== null && left > 0 && (
        <p class="soft">{w.tread_left(decimal(left), pull)}</p>
      )}
      {causes.length > 0 && (
        <p class="soft">
          {w.tread_uneven(
            differences.join(", "),
            causes.map((cause) => w.tread_causes[cause]).join(w.tin_or),
          )}
        </p>
      )}
    </div>
  );
}
