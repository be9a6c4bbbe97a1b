/** The note of a casing or a line; near its end it says how much more it takes. */
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { words } from "../words";
import { NOTE_MOST, roomLeft } from "./fields";

export function NoteField(props: { value: string; onValue: (note: string) => void }) {
  const w = words.value;
  return (
    <Field
      id="note"
      title={w.note}
      rows={2}
      value={props.value}
      asks={roomLeft(props.value, w)}
      onValue={props.onValue}
      input={{ ...testid("note"), maxLength: NOTE_MOST }}
    />
  );
}
