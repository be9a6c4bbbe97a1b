/** A field whose text this tablet remembers from one casing to the next. */
import { useState } from "preact/hooks";
import { Field, type FieldProps } from "../ui/Field";

export function KeptField(
  props: Omit<FieldProps, "onValue"> & { onKept: (value: string) => void },
) {
  // Keys come faster than what is remembered is read back.
  const [typed, setTyped] = useState(props.value);
  return (
    <Field
      {...props}
      value={typed}
      onValue={(value) => {
        setTyped(value);
        props.onKept(value);
      }}
    />
  );
}
