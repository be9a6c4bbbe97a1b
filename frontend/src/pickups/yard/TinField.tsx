/** The TIN as it is read off the sidewall, with its meaning in words while it is typed. */
import { useEffect, useRef, useState } from "preact/hooks";
import { dayOf } from "../../domain/promise";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import { tinSaid } from "./tinWords";

/** What the wire takes. */
const LONGEST = 24;

export function TinField(props: { value: string; onValue: (tin: string) => void }) {
  const w = words.value;
  const { clock } = usePhone().deps;
  const { tone, text } = tinSaid(props.value, dayOf(clock.now()), w);
  // Mostly the last four digits are typed: the phone shows number keys first.
  const [asked, setLetters] = useState(false);
  const letters = asked || /[a-z]/i.test(props.value);
  const turned = useRef(false);
  useEffect(() => {
    if (!turned.current) return;
    // A phone changes its keys only when a field is entered anew.
    const field = document.getElementById("tin");
    field?.blur();
    field?.focus();
  }, [asked]);
  return (
    <Field
      id="tin"
      title={w.tin}
      hint={text}
      good={tone === "good" ? text : null}
      asks={tone === "asks" ? text : null}
      value={props.value}
      onValue={props.onValue}
      beside={
        <button
          type="button"
          class="button touch"
          aria-label={w.tin_letters}
          aria-pressed={letters}
          onClick={() => {
            turned.current = true;
            setLetters(!letters);
          }}
          {...testid("tin-letters")}
        >
          ABC
        </button>
      }
      input={{
        ...testid("tin"),
        maxLength: LONGEST,
        inputMode: letters ? "text" : "numeric",
        autocapitalize: "characters",
        spellcheck: false,
      }}
    />
  );
}
