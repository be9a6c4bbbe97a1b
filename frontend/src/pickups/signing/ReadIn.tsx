/**
 * "Read it in": the screen in the language of who reads it, as long as it is shown to them. What
 * the phone's holder has chosen stays, and is back when they go on.
 */
import { useEffect } from "preact/hooks";
import { testid } from "../testids";
import { type Language, readsIn, spoken, words } from "../words";

/** Each named in itself: who reads it may know no other. */
const LANGUAGES: [Language, string][] = [
  ["en", "English"],
  ["es", "Español"],
];

export function ReadIn(props: { kept: Language | ""; onKept: (chosen: Language) => void }) {
  const { kept } = props;
  useEffect(() => {
    if (kept !== "") readsIn.value = kept;
    return () => {
      readsIn.value = null;
    };
  }, [kept]);
  function choose(chosen: Language) {
    readsIn.value = chosen;
    props.onKept(chosen);
  }
  return (
    <fieldset class="choice">
      <legend>{words.value.read_in}</legend>
      <div class="choices">
        {LANGUAGES.map(([code, name]) => (
          <label key={code} class="button" lang={code}>
            <input
              type="radio"
              name="read-in"
              value={code}
              checked={spoken.value === code}
              onChange={() => choose(code)}
              {...testid(`read-in-${code}`)}
            />
            {name}
          </label>
        ))}
      </div>
    </fieldset>
  );
}
