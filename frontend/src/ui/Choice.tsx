/** One of a few, all in sight: keys as large as a glove needs, one of them pressed. */

export function Choice<V extends string>(props: {
  name: string;
  title: string;
  /** The keys say enough to who sees them; the title is for who hears them. */
  unseen?: boolean;
  values: V[];
  names: Record<V, string>;
  /** Null as long as none is chosen. */
  value: V | null;
  onValue: (value: V) => void;
}): preact.JSX.Element {
  return (
    <fieldset class="choice">
      <legend class={props.unseen ? "hidden" : ""}>{props.title}</legend>
      <div class="choices">
        {props.values.map((value) => (
          <label key={value} class="button">
            <input
              type="radio"
              name={props.name}
              value={value}
              checked={value === props.value}
              onChange={() => props.onValue(value)}
              data-testid={`${props.name}-${value}`}
            />
            {props.names[value]}
          </label>
        ))}
      </div>
    </fieldset>
  );
}
