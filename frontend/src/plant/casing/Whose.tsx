/** Which casing it is: its label large, whose, what size, the work wanted in words, the promise. */
import { shown } from "../../domain/labels";
import { testid } from "../../pickups/testids";
import { dayInWords, spoken, when } from "../../pickups/words";
import type { Floor } from "../floor";
import type { Work } from "../rows";
import { stationName } from "../stations";
import { floorWords } from "../words";

export function Whose(props: { floor: Floor; label: string; work: Work; onAside: () => void }) {
  const w = floorWords.value;
  const { work, label } = props;
  const { wanted } = work;
  const worn = work.label || label;
  return (
    <section class="whose">
      <div class="row">
        <h1 class="code" tabIndex={-1} {...testid("casing-label")}>
          {shown(worn)}
        </h1>
        <button type="button" class="button" onClick={props.onAside} {...testid("aside")}>
          {w.aside}
        </button>
      </div>
      {worn !== label && <p class="asks">{w.read_as(shown(label), shown(worn))}</p>}
      {work.contested && <p class="asks">{w.contested}</p>}
      {wanted === null ? (
        <p class="asks" {...testid("unheard")}>
          {work.uid === "" && work.last.length === 0 ? w.unheard : w.no_order}
        </p>
      ) : (
        <>
          <p class="owner">{[wanted.owner, wanted.size].filter(Boolean).join(" · ")}</p>
          <p class="wanted" {...testid("wanted")}>
            {wantedSaid(work)}
          </p>
          {wanted.note !== "" && <p class="told">{wanted.note}</p>}
        </>
      )}
      {work.seen_at !== "" && (
        <p class="soft">
          {w.last_seen(
            stationName(work.station, props.floor.route, spoken.value),
            when(work.seen_at),
          )}
          {work.reworks > 0 && ` · ${w.reworked(work.reworks)}`}
          {work.envelope !== "" && ` · ${w.in_envelope(work.envelope)}`}
        </p>
      )}
    </section>
  );
}

/** "Retread, own casing back. Tread design DL-41. Fleet brand TVH. ..." */
function wantedSaid({ wanted }: Work): string {
  const w = floorWords.value;
  if (wanted === null) return "";
  const said = [
    wanted.rush && w.rush,
    [w.works[wanted.work] ?? wanted.work, w.bases[wanted.basis] ?? wanted.basis]
      .filter(Boolean)
      .join(", "),
    wanted.tread_design && w.design_of(wanted.tread_design),
    wanted.fleet_brand && w.brand_of(wanted.fleet_brand),
    wanted.unit && w.unit_of(wanted.unit),
    wanted.purchase_order && w.order_of(wanted.purchase_order),
    wanted.promised && w.promised(dayInWords(wanted.promised)),
  ];
  return said.filter(Boolean).join(". ");
}
