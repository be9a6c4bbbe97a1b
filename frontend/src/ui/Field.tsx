/** A named field with its hint and its fault, tied together for those who cannot see them. */
import type { ComponentChildren, JSX } from "preact";

export interface FieldProps {
  id: string;
  title: string;
  hint?: string;
  fault?: string | null;
  good?: string | null;
  /** Odd, and worth another look; no fault. */
  asks?: string | null;
  value: string;
  onValue: (value: string) => void;
  code?: boolean;
  rows?: number;
  /** A key at the field's right. */
  beside?: ComponentChildren;
  after?: ComponentChildren;
  input?: JSX.IntrinsicElements["input"] & Record<`data-${string}`, string>;
}

export function Field(props: FieldProps): JSX.Element {
  const { id, title, hint, fault, asks, good, value } = props;
  const said = fault ?? asks ?? good ?? hint;
  const given = {
    id,
    value,
    class: props.code ? "code" : undefined,
    "aria-invalid": fault ? ("true" as const) : undefined,
    "aria-describedby": said ? `${id}-said` : undefined,
    onInput: (event: Event) => props.onValue((event.target as HTMLInputElement).value),
  };
  return (
    <div class="field">
      <label for={id}>{title}</label>
      {props.rows === undefined ? (
        <div class="beside">
          <input type="text" autocomplete="off" {...props.input} {...given} />
          {props.beside}
        </div>
      ) : (
        <textarea rows={props.rows} {...(props.input as object)} {...given} />
      )}
      <p
        id={`${id}-said`}
        class={fault ? "fault" : asks ? "asks" : good ? "good" : "soft"}
        aria-live="polite"
        data-testid={fault ? `${id}-fault` : undefined}
      >
        {said}
      </p>
      {props.after}
    </div>
  );
}
