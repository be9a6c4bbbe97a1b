/** The driver's own count, before anything here says how many it should be. */
import { useState } from "preact/hooks";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { words } from "../words";
import { customerCount } from "../yard/counts";

export function OwnCount(props: {
  title: string;
  hint: string;
  value: string;
  fault: string | null;
  onValue: (count: string) => void;
}) {
  return (
    <Field
      id="own-count"
      {...props}
      input={{ ...testid("own-count"), inputMode: "numeric", maxLength: 4 }}
    />
  );
}

/** `counted` runs where the count can be told; else its field says what is wrong. */
export function useOwnCount(typed: string, counted: () => void) {
  const [fault, setFault] = useState<string | null>(null);
  const w = words.value;
  return {
    fault,
    clear: () => setFault(null),
    submit(event: Event) {
      event.preventDefault();
      const count = customerCount(typed);
      if (count !== null && count !== "none") return counted();
      document.getElementById("own-count")?.focus();
      const said = typed.trim();
      setFault(said === "" ? w.road_count_missing : w.road_count_wrong(said.slice(0, 20)));
    },
  };
}
