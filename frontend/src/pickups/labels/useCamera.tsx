/**
 * A label by camera into one field: the key that opens the camera, and its dialog. The camera's
 * part is loaded when it is first asked for.
 */
import { useState } from "preact/hooks";
import { testid } from "../testids";
import { words } from "../words";

type Dialog = typeof import("../yard/ScanDialog").default;

/** `field`: where typing goes on, and what the key is named after; `sound`: it holds a label. */
export function useCamera(
  field: { id: string; testid: string; sound: boolean },
  onLabel: (code: string) => void,
  onFault: (fault: string | null) => void,
): { key: preact.JSX.Element; dialog: preact.JSX.Element | null } {
  const w = words.value;
  const [camera, setCamera] = useState<{ Dialog: Dialog } | null>(null);

  async function open() {
    onFault(null);
    try {
      setCamera({ Dialog: (await import("../yard/ScanDialog")).default });
    } catch {
      onFault(w.scan_not_here);
    }
  }

  return {
    key: (
      <button
        type="button"
        class={field.sound ? "button" : "button next"}
        aria-label={w.scan_title}
        onClick={() => void open()}
        {...testid(field.testid)}
      >
        {w.scan}
      </button>
    ),
    dialog: camera && (
      <camera.Dialog
        onLabel={(code) => {
          setCamera(null);
          onLabel(code);
        }}
        onClose={(type) => {
          setCamera(null);
          if (type) document.getElementById(field.id)?.focus();
        }}
      />
    ),
  };
}
