/** A TIN as it is read off the sidewall, with its meaning in words while it is typed. */
import { useEffect, useRef, useState } from "preact/hooks";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { words } from "../words";
import { offered, putRight } from "./tinSlips";
import { tinSaid } from "./tinWords";

/** What the wire takes. */
const LONGEST = 24;

export function TinField(props: {
  /** Of the field on the page; the first of a casing is "tin". */
  id: string;
  title: string;
  value: string;
  today: string;
  onValue: (tin: string) => void;
  /** On to what comes after it. */
  onNext: () => void;
}) {
  const { id, value, today, onValue } = props;
  const w = words.value;
  const { tone, text } = tinSaid(value, today, w);
  const meant = offered(value, today);
  // Mostly the last four digits are typed: the phone shows number keys first.
  const [asked, setLetters] = useState(false);
  const letters = asked || /[a-z]/i.test(value);
  const turned = useRef(false);
  useEffect(() => {
    if (!turned.current) return;
    // A phone changes its keys only when a field is entered anew.
    const field = document.getElementById(id);
    field?.blur();
    field?.focus();
  }, [asked]);

  function settle(typed: string) {
    const right = putRight(typed, today);
    if (right !== typed) onValue(right);
  }

  return (
    <Field
      id={id}
      title={props.title}
      hint={text}
      good={tone === "good" ? text : null}
      asks={tone === "asks" ? text : null}
      value={value}
      onValue={onValue}
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
          {...testid(`${id}-letters`)}
        >
          ABC
        </button>
      }
      after={
        meant !== null && (
          <button
            type="button"
            class="button"
            onClick={() => onValue(meant)}
            {...testid(`${id}-meant`)}
          >
            {w.tin_meant(meant)}
          </button>
        )
      }
      input={{
        ...testid(id),
        maxLength: LONGEST,
        inputMode: letters ? "text" : "numeric",
        autocapitalize: "characters",
        spellcheck: false,
        enterkeyhint: "next",
        onBlur: (event) => settle((event.target as HTMLInputElement).value),
        onKeyDown: (event) => {
          if (event.key !== "Enter") return;
          event.preventDefault();
          props.onNext();
        },
      }}
    />
  );
}
