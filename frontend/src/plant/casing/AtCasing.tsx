/**
 * One casing at a station: whose it is and what is wanted, what was found on it so far, what is
 * asked here; and the answers. What is noted is kept at once; an answer ends it.
 */
import { useState } from "preact/hooks";
import { shown } from "../../domain/labels";
import { type Outcome, tell } from "../../domain/plantTelling";
import { useBusy } from "../../pickups/busy";
import type { Said } from "../../pickups/road/Verdict";
import { testid } from "../../pickups/testids";
import type { Sheet } from "../../pickups/yard/draft";
import {
  type AnswerFields,
  BOUNDS,
  type Gauge,
  lotsAt,
  measure,
  type Missing,
  missing,
  told,
} from "../answer";
import { orderedDiffers } from "../against";
import type { Floor } from "../floor";
import { unheard } from "../rows";
import { isBehindRepair, materialsAt, moreAt, stationsOf } from "../stations";
import { floorWords } from "../words";
import { Answers } from "./Answers";
import { Finds } from "./Finds";
import { loadAt } from "./loadAt";
import { MoreParts } from "./MoreParts";
import { Standing } from "./Standing";
import { Whose } from "./Whose";

export function AtCasing(props: {
  floor: Floor;
  sheet: Sheet<AnswerFields>;
  onSaid: (said: Said) => void;
}) {
  const { floor, sheet, onSaid } = props;
  const w = floorWords.value;
  const { station, kept } = floor;
  const { fields } = sheet;
  const [fault, setFault] = useState<Missing | null>(null);
  /** Asked once for this casing whether it goes on without a lot. */
  const [without, setWithout] = useState(false);
  const [telling, setTelling] = useState(false);
  const [busy, onBusy] = useBusy();
  const work = floor.works.get(fields.label) ?? unheard(fields.label);
  const more = moreAt(station, stationsOf(floor.route));
  const load = more.includes("load")
    ? loadAt({
        worn: work.label || fields.label,
        station,
        loads: floor.loads,
        chosen: kept.loads[station] ?? "",
      })
    : null;
  const at = {
    station,
    more,
    load: load?.number ?? "",
    machine: kept.machines[station] ?? "",
    lots: lotsAt(materialsAt(station), kept.lots[station] ?? []),
    photos: sheet.photos.map(({ sha256 }) => sha256),
  };
  const differs = more.includes("built") && orderedDiffers(floor, work, fields).length > 0;

  const behind = isBehindRepair(station, floor.order);

  async function answer(outcome: Outcome) {
    if (telling || busy || !sheet.ready) return;
    const lacks = missing(outcome, fields, {
      ...at,
      work,
      works: floor.works,
      materials: materialsAt(station),
      differs,
      behind,
      without,
    });
    if (lacks === "lots") setWithout(true);
    setFault(lacks);
    if (lacks !== null) {
      document.getElementById(fieldOf(lacks, fields, station))?.focus();
      return;
    }
    setTelling(true);
    try {
      const photos = sheet.photos.map(({ sha256, blob }) => ({ sha256, blob }));
      await sheet.enter(tell(told(outcome, fields, at)), photos, () => {
        setTelling(false);
        onSaid({
          tone: "good",
          text: w.told(shown(work.label || fields.label), w.outcomes[outcome]),
          caution: outcome === "rejected" ? w.rejected_mark : null,
        });
      });
    } catch {
      setTelling(false);
      onSaid({ tone: "fault", text: w.not_kept });
    }
  }

  function fill(some: Parameters<typeof sheet.fill>[0]) {
    setFault(null);
    void sheet.fill(some);
  }

  return (
    <article class="at-casing" {...testid("at-casing")} data-label={fields.label}>
      <div class="about">
        <Whose floor={floor} label={fields.label} work={work} onAside={() => void sheet.clear()} />
        <Standing floor={floor} work={work} sheet={sheet} fill={fill} />
        <MoreParts
          floor={floor}
          work={work}
          fields={fields}
          fill={fill}
          more={more}
          load={load}
          fault={fault}
        />
      </div>
      <Finds floor={floor} work={work} sheet={sheet} fill={fill} busy={busy} onBusy={onBusy} />
      <Answers
        floor={floor}
        work={work}
        sheet={sheet}
        fill={fill}
        fault={fault}
        differs={differs}
        busy={telling || busy}
        onBusy={onBusy}
        onAnswer={(outcome) => void answer(outcome)}
      />
    </article>
  );
}

const fieldOf = (lacks: Missing, { gauges }: AnswerFields, station: string): string => {
  if (lacks === "gauge")
    return GAUGES.find((one) => measure(gauges[one] ?? "", BOUNDS[one]) === "none") ?? "";
  if (lacks === "lots") return `lot-${materialsAt(station)[0]}`;
  return FIELD[lacks] ?? "";
};

const GAUGES = Object.keys(BOUNDS) as Gauge[];

/** Where to go on, by what is missing. */
const FIELD: Partial<Record<Missing, string>> = {
  note: "note",
  envelope: "envelope",
  load: "load",
  built: "retread_tin",
  caps: "caps",
  tag: "tag",
  tag_fault: "tag",
  tag_same: "tag",
  tag_taken: "tag",
  differences: "differs-note",
  reason: "reason-find",
};
