/** Casings inside a plant, and what a tablet told, as the tests of the floor need them. */
import type { Outcome, Tell } from "../../src/domain/plantTelling";
import type { RowLike, Standing } from "../../src/domain/rows";
import type { Told } from "../../src/domain/view";

export const [K1, K2, K3] = ["K7000Y02", "K700103D", "K7002030"];

let number = 0;

interface More {
  seen?: boolean;
  held?: boolean;
  standing?: Standing;
  at?: string;
  id?: string;
}

export function told(
  tell: Partial<Tell> & { label: string; outcome: Outcome },
  more: More = {},
): Told {
  number += 1;
  return toldAs("inspection.tell", { station: "buffing", ...tell }, more);
}

export function toldAs(kind: string, payload: object, more: More = {}): Told {
  number += 1;
  return {
    operation: {
      id: more.id ?? `op-${String(number).padStart(6, "0")}`,
      incarnation: "i",
      sequence: number,
      kind,
      version: 1,
      by: "p",
      happened_at: more.at ?? "2026-04-30T12:00:00.000Z",
      stamp: number,
      payload,
    },
    standing: more.standing ?? "waiting",
    held: more.held ?? false,
    seen: more.seen ?? false,
    entered_at: number,
  };
}

export const workRow = (label: string, body: object = {}): RowLike => ({
  entity: "plant_work",
  id: `work-${label}`,
  body: {
    uid: `work-${label}`,
    label,
    labels: [label],
    stage: "in_work",
    station: "receiving",
    next: "buffing",
    seen_at: "2026-04-30T08:00:00.000Z",
    last: [],
    findings: [],
    holds: [],
    rejections: [],
    ...body,
  },
});
