/** A whole number that a glove changes by one at a time; its value is read out as it changes. */
import { testid } from "../testids";

export function Stepper(props: {
  name: string;
  title: string;
  value: number;
  least: number;
  most: number;
  fewer: string;
  more: string;
  onValue: (value: number) => void;
}) {
  const { name, title, value, least, most } = props;
  return (
    <fieldset class="stepper">
      <legend class="hidden">{title}</legend>
      <span class="title" aria-hidden="true">
        {title}
      </span>
      <button
        type="button"
        class="button"
        aria-label={props.fewer}
        disabled={value <= least}
        onClick={() => props.onValue(value - 1)}
        {...testid(`${name}-fewer`)}
      >
        −
      </button>
      <b aria-live="polite" {...testid(name)}>
        {value}
      </b>
      <button
        type="button"
        class="button"
        aria-label={props.more}
        disabled={value >= most}
        onClick={() => props.onValue(value + 1)}
        {...testid(`${name}-more`)}
      >
        +
      </button>
    </fieldset>
  );
}
