/** The label stands on this phone already: said, and asked about once; it can be saved all the same. */
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import type { twin } from "./fields";
import { yardName } from "./visits";

export function CasingTwin(props: {
  other: NonNullable<ReturnType<typeof twin>>;
  /** The pickup whose sheet this is. */
  pickup: string;
  correcting: boolean;
  shut: boolean;
  disabled: boolean;
  onSave: () => void;
}) {
  const { other, correcting } = props;
  const w = words.value;
  const { now } = usePhone();
  return (
    <div class="notice" role="alert">
      <p class="fault">
        {w.label_twice(
          other.pickup.id === props.pickup
            ? w.label_here(other.pickup.casings.indexOf(other.casing) + 1)
            : w.label_elsewhere(yardName(now.value, other.casing.yard)),
        )}
      </p>
      <p>{correcting ? w.label_twice_correct : w.label_twice_ask}</p>
      {!props.shut && (
        <button
          id="save-anyway"
          type="button"
          class="button"
          disabled={props.disabled}
          onClick={props.onSave}
          {...testid("save-anyway")}
        >
          {correcting ? w.save_correction_twice : w.save_twice}
        </button>
      )}
    </div>
  );
}
