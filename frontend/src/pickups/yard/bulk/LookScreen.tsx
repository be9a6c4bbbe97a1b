/**
 * Casings that came by label and size: which of them nobody has looked at, and the sheet of one.
 * Whoever looks tells the pick_up again, whoever told it; the spec check speaks now.
 */
import { useEffect, useRef, useState } from "preact/hooks";
import { shown } from "../../../domain/labels";
import { isNamed } from "../../../domain/replaced";
import type { Casing } from "../../../domain/rows";
import { usePhone } from "../../context";
import { useCamera } from "../../labels/useCamera";
import { go, route } from "../../route";
import { testid } from "../../testids";
import { useWedge } from "../../wedge";
import { words } from "../../words";
import { CasingForm } from "../CasingForm";
import { useSheet } from "../draft";
import { fieldsOf } from "../fields";
import { correctKey, yardName } from "../visits";
import { toLookAt } from "./waiting";

/** `casing`: the one to look at; none: the list. */
export function LookScreen({ casing: id }: { casing: string }) {
  const { casings } = usePhone().now.value;
  const casing = id === "" ? null : (casings.get(id) ?? null);
  const gone = id !== "" && casing === null;
  useEffect(() => {
    if (gone) go("look");
  }, [gone]);
  if (gone) return null;
  return casing === null ? <LookList /> : <Look casing={casing} />;
}

function LookList() {
  const now = usePhone().now.value;
  const w = words.value;
  const [said, setSaid] = useState<string | null>(null);
  const waiting = toLookAt(now.casings.values(), now.person ?? "", now.enrolment?.site ?? "");

  useWedge("look", ({ code }) => {
    if (code !== null) open(code);
  });
  const camera = useCamera({ id: "look", testid: "look-scan", sound: false }, open, setSaid);

  function open(code: string) {
    const found = waiting.find((casing) => isNamed(casing, code));
    if (found === undefined) setSaid(w.look_unknown(shown(code)));
    else go("look", found.id);
  }

  return (
    <div class="page stack" {...testid("look")}>
      <button type="button" class="button plain back" onClick={() => go()}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{waiting.length > 0 ? w.look_n(waiting.length) : w.look}</h1>
      <p role="alert" class={said === null ? "" : "asks"}>
        {said ?? ""}
      </p>
      {waiting.length === 0 ? (
        <p class="good">{w.look_none}</p>
      ) : (
        <p>
          {w.look_say} {w.look_hint}
        </p>
      )}
      {waiting.length > 0 && camera.key}
      {camera.dialog}
      <ul class="lines">
        {waiting.map((casing) => (
          <li key={casing.id}>
            <button
              type="button"
              class="line"
              onClick={() => go("look", casing.id)}
              {...testid(`look-${casing.label}`)}
            >
              <span>
                <b class="code">{shown(casing.label)}</b> {casing.size}
                <br />
                <span class="soft">
                  {yardName(now, casing.yard)} · {w.look_lacks}
                </span>
              </span>
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}

function Look({ casing }: { casing: Casing }) {
  const w = words.value;
  const began = useRef(casing).current; // what it was when this screen was opened
  const sheet = useSheet(correctKey(casing.id), fieldsOf(began));
  return (
    <div class="page stack">
      <button type="button" class="button plain back" onClick={() => go("look")}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{shown(casing.label)}</h1>
      <CasingForm
        pickup={casing.pickup}
        yard={casing.yard}
        sheet={sheet}
        corrects={casing}
        before={[]}
        taken
        onSaved={() => {
          // Whoever went on meanwhile stays there.
          if (route.value[0] === "look" && route.value[1] === casing.id) go("look");
        }}
      />
      {sheet.begun && (
        <button
          type="button"
          class="button plain"
          onClick={() => void sheet.clear()}
          {...testid("look-clear")}
        >
          {w.look_clear}
        </button>
      )}
    </div>
  );
}
