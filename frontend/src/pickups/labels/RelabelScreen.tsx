/**
 * Which casing lost its label, and the new one. A casing without a readable label is found by what
 * can still be read of it; what is on the driver's truck and in open pickups comes first.
 */
import { useState } from "preact/hooks";
import { shown, tidy } from "../../domain/labels";
import { type Casing, tinOf } from "../../domain/rows";
import { driver } from "../../domain/truck";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";
import { yardName } from "../yard/visits";
import { RelabelForm } from "./RelabelForm";

const MOST = 20;

export default function RelabelScreen(props: { casing: string; hands?: "typist" }) {
  const id = props.casing;
  const now = usePhone().now.value;
  const w = words.value;
  const casing = now.casings.get(id);
  const [done, setDone] = useState<string | null>(null);
  const [was] = useState(casing?.label ?? "");
  return (
    <div class="page stack" {...testid("relabel")}>
      <button type="button" class="button plain back" onClick={() => history.back()}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.relabel}</h1>
      {casing === undefined ? (
        <Which />
      ) : done === null ? (
        <>
          <About casing={casing} />
          <RelabelForm casing={casing} onDone={setDone} hands={props.hands} />
        </>
      ) : (
        <>
          <p class="good" role="status" {...testid("relabelled")}>
            {w.relabel_done(shown(was), shown(done))}
          </p>
          <button type="button" class="button primary" onClick={() => history.back()}>
            {w.back}
          </button>
        </>
      )}
    </div>
  );
}

function About({ casing }: { casing: Casing }) {
  const now = usePhone().now.value;
  return (
    <p class="soft">
      {[casing.size, casing.brand, tinOf(casing), yardName(now, casing.yard)]
        .filter(Boolean)
        .join(" · ")}
    </p>
  );
}

function Which() {
  const now = usePhone().now.value;
  const w = words.value;
  const [typed, setTyped] = useState("");
  const open = new Set(
    now.pickups.filter((one) => one.here && one.finished_at === null).map((one) => one.id),
  );
  const mine = driver(now.person ?? "");
  const near = (one: Casing): number => Number(one.holder === mine) + Number(open.has(one.pickup));
  const found = [...now.casings.values()]
    .filter((one) => one.pickup !== "" && one.progress !== "returned" && fits(one, typed))
    .sort((a, b) => near(b) - near(a) || (a.picked_up_at < b.picked_up_at ? 1 : -1));
  return (
    <>
      <Field
        id="relabel-find"
        title={w.relabel_find}
        value={typed}
        onValue={setTyped}
        input={{ ...testid("relabel-find"), type: "search" }}
      />
      <h2>{w.relabel_which}</h2>
      {found.length === 0 && <p class="soft">{w.relabel_none}</p>}
      <ul class="lines">
        {found.slice(0, MOST).map((one) => (
          <li key={one.id}>
            <button
              type="button"
              class="button wide"
              onClick={() => go("relabel", one.id)}
              {...testid(`relabel-${one.label}`)}
            >
              <b class="code">{shown(one.label)}</b>{" "}
              {[one.size, tinOf(one)].filter(Boolean).join(" · ")}
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

const bare = (text: string): string => text.toUpperCase().replace(/[^A-Z0-9]/g, "");

function fits(casing: Casing, typed: string): boolean {
  if (typed.trim() === "") return true;
  const labels = [casing.label, ...casing.void_labels];
  return (
    (tidy(typed) !== "" && labels.some((label) => label.includes(tidy(typed)))) ||
    bare(tinOf(casing)).includes(bare(typed)) ||
    bare(casing.size).includes(bare(typed))
  );
}
