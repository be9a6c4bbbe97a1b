/** One of a few, chosen by its first letter: dense, for a desk. */
import { testid } from "../testids";

export function Choose<V extends string>(props: {
  id: string;
  title: string;
  values: V[];
  names: Record<V, string>;
  value: V;
  onValue: (value: V) => void;
}) {
  const { id, values, names, value } = props;
  return (
    <div class="field">
      <label for={id}>{props.title}</label>
      <select
        id={id}
        value={value}
        onChange={(event) => props.onValue((event.target as HTMLSelectElement).value as V)}
        {...testid(id)}
      >
        {values.map((one) => (
          <option key={one} value={one} selected={one === value}>
            {names[one]}
          </option>
        ))}
      </select>
    </div>
  );
}
