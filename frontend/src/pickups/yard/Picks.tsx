/** Large keys for what may be meant: one tap instead of typing. */
import { testid } from "../testids";

export function Picks(props: {
  /** Test ids begin with it. */
  name: string;
  title: string;
  values: string[];
  onPick: (value: string) => void;
}) {
  if (props.values.length === 0) return null;
  return (
    <fieldset class="picks">
      <legend class="hidden">{props.title}</legend>
      {props.values.map((value) => (
        <button
          key={value}
          type="button"
          class="button"
          onClick={() => props.onPick(value)}
          {...testid(`${props.name}-${value}`)}
        >
          {value}
        </button>
      ))}
    </fieldset>
  );
}
