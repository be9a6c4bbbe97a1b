/**
 * Where a casing is said: a wedge scanner, the camera, or eight typed symbols with their check. A
 * text that is no label goes to the screen around it first: it may be the number of an envelope.
 */
import { useState } from "preact/hooks";
import { fault as faultOf, meant, shown, tidy } from "../domain/labels";
import { usePhone } from "../pickups/context";
import { odd } from "../pickups/labels/labelWords";
import { useCamera } from "../pickups/labels/useCamera";
import { testid } from "../pickups/testids";
import { useWedge } from "../pickups/wedge";
import { words } from "../pickups/words";
import { labelFault } from "../pickups/yard/fields";
import { Field } from "../ui/Field";
import type { Floor } from "./floor";
import { floorWords } from "./words";

export function ScanLine(props: {
  floor: Floor;
  title: string;
  hint: string;
  /** `odd`: what has to be known of this label, or null. */
  onLabel: (label: string, odd: string | null) => void;
  /** True where the text says something here. */
  onOther?: (text: string) => boolean;
  /** As many as were counted are scanned: the next action is another key's. */
  whole?: boolean;
}) {
  const w = words.value;
  const { now } = usePhone();
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  const label = tidy(typed);
  const sound = faultOf(label) === null;

  function take(code: string) {
    setFault(null);
    setTyped("");
    const { ranges, spoiled } = now.value;
    // What a casing wears now, the row says; here a label is as it was read.
    props.onLabel(code, odd(code, { casings: new Map(), ranges, spoiled }, w));
  }

  function other(text: string): void {
    setTyped("");
    if (props.onOther?.(text) !== true) setFault(w.scan_not_ours(text.slice(0, 40)));
  }

  useWedge("label", ({ text, code, elsewhere }) => {
    if (code !== null) take(code);
    else if (!elsewhere) other(text);
  });
  const camera = useCamera(
    { id: "label", testid: "scan", sound: sound || props.whole === true },
    take,
    setFault,
  );

  function enter(value: string): void {
    if (value.trim() === "") return;
    const code = tidy(value);
    if (faultOf(code) === null) take(code);
    else if (props.onOther?.(value.trim()) === true) setTyped("");
    else setFault(mistyped(value, props.floor));
  }

  return (
    <div class="scan-line">
      <Field
        id="label"
        title={props.title}
        hint={props.hint}
        fault={fault}
        value={typed}
        onValue={(value) => {
          setFault(null);
          setTyped(faultOf(tidy(value)) === null ? shown(tidy(value)) : value);
        }}
        code
        beside={
          typed.trim() === "" ? (
            camera.key
          ) : (
            <button
              type="button"
              class="button next"
              onClick={() => enter(typed)}
              {...testid("take")}
            >
              {floorWords.value.take}
            </button>
          )
        }
        input={{
          ...testid("label"),
          autocapitalize: "characters",
          spellcheck: false,
          enterkeyhint: "done",
          "data-first": "",
          onKeyDown: (event) => {
            if (event.key !== "Enter") return;
            event.preventDefault();
            // What was typed just now may not be drawn yet.
            enter((event.target as HTMLInputElement).value);
          },
        }}
      />
      {camera.dialog}
    </div>
  );
}

/** What is wrong with it, and which casing inside may be meant. */
function mistyped(typed: string, { works }: Floor): string {
  const w = words.value;
  const wrong = labelFault(typed, w) ?? "";
  const offers = meant(tidy(typed), new Set(works.keys()));
  const [first] = offers;
  if (first === undefined) return wrong;
  if (offers.length > 1)
    return `${wrong} ${w.label_meant_some(offers.map(({ code }) => shown(code)).join(", "))}`;
  return `${wrong} ${w.label_meant(shown(first.code), first.slip)}`;
}
