/**
 * Scanning: the camera fills the screen until a sound label is in it, or stays open and tells each
 * label once as it comes into sight. What else is in the picture is told in words while looking
 * goes on. Every trouble names the way out, which is always there: the eight symbols can be typed.
 */
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { bell } from "../../bridge/bell";
import { type ScanTrouble, troubleOf, type Watch, watch } from "../../bridge/scanner";
import { shown } from "../../domain/labels";
import { comings, type Sighting, sighted } from "../../domain/sighting";
import { testid } from "../testids";
import { words } from "../words";
import type { Words } from "../words.en";

/** How long a word about something else stays after it has left the picture. */
const LINGER_MS = 2000;

export default function ScanDialog(props: {
  onLabel: (code: string) => void;
  /** Closed without a label; `type` where the driver wants to type it. */
  onClose: (type: boolean) => void;
  /** For one label after the other: what became of the last, and whether a person is asked. */
  stays?: { title: string; said: ComponentChildren; asks: boolean };
}) {
  const w = words.value;
  const dialog = useRef<HTMLDialogElement>(null);
  const video = useRef<HTMLVideoElement>(null);
  const [torch, setTorch] = useState<Watch["torch"]>(null);
  const [lit, setLit] = useState(false);
  const [looking, setLooking] = useState(false);
  const [trouble, setTrouble] = useState<ScanTrouble | null>(null);
  const [said, setSaid] = useState("");
  const [attempt, setAttempt] = useState(1);
  const latest = useRef(props);
  latest.current = props;
  const { stays } = props;
  const coming = useRef(comings(LINGER_MS)).current;
  const asks = stays?.asks === true;
  useEffect(() => {
    // The label that was asked about is most likely still in the hand.
    if (!asks) coming.stays(performance.now());
  }, [asks]);

  useEffect(() => {
    const sound = latest.current.stays === undefined ? bell() : null;
    let watching: Watch | null = null;
    let open = true;
    let linger: ReturnType<typeof setTimeout> | undefined;
    if (dialog.current?.open === false) dialog.current.showModal();

    function seen(texts: string[]): void {
      // What scanning costs stands beside the picture, for whoever measures it.
      if (watching !== null && video.current !== null) {
        const { msPerSecond, looks } = watching.effort();
        video.current.dataset.decodeMsPerS = msPerSecond.toFixed(1);
        video.current.dataset.looks = String(looks);
      }
      const sighting = sighted(texts);
      const more = latest.current.stays;
      if (sighting.what === "label" && more !== undefined) {
        if (!more.asks && coming.comes(sighting.code, performance.now()))
          latest.current.onLabel(sighting.code);
        return;
      }
      if (sighting.what === "label") {
        sound?.ring();
        end();
        dialog.current?.close();
        latest.current.onLabel(sighting.code);
        return;
      }
      const other = inWords(sighting, w);
      if (other === "") return;
      setSaid(other);
      clearTimeout(linger);
      linger = setTimeout(() => setSaid(""), LINGER_MS);
    }
    function fail(why: ScanTrouble): void {
      watching?.stop();
      setTorch(null);
      setLit(false);
      setTrouble(why);
    }
    function end(): void {
      open = false;
      watching?.stop();
      clearTimeout(linger);
    }
    // Nobody looks through a camera that is out of sight.
    const hidden = () => {
      if (document.visibilityState === "hidden") latest.current.onClose(false);
    };
    document.addEventListener("visibilitychange", hidden);

    watch(
      video.current!,
      (texts) => open && seen(texts),
      (why) => open && fail(why),
    ).then(
      (started) => {
        watching = started;
        if (!open) return started.stop();
        setLooking(true);
        setTorch(() => started.torch);
      },
      (no) => open && fail(troubleOf(no)),
    );
    return () => {
      document.removeEventListener("visibilitychange", hidden);
      end();
      sound?.close();
    };
  }, [attempt]);

  function again(): void {
    setTrouble(null);
    setLooking(false);
    setAttempt(attempt + 1);
  }

  async function light(): Promise<void> {
    try {
      await torch?.(!lit);
      setLit(!lit);
    } catch {
      setTorch(null);
    }
  }

  return (
    <dialog
      ref={dialog}
      class={stays === undefined ? "scan" : "scan stays"}
      aria-labelledby="scan-title"
      onCancel={(event) => {
        event.preventDefault();
        props.onClose(false);
      }}
      {...testid("scan-dialog")}
    >
      <h2 id="scan-title">{stays?.title ?? w.scan_title}</h2>
      {stays?.said}
      <div class="sight" hidden={trouble !== null || asks}>
        <video ref={video} playsInline muted {...testid("scan-video")} />
        <span class="aim" aria-hidden="true" />
      </div>
      <p
        role="status"
        class={trouble !== null ? "fault" : said ? "asks" : ""}
        {...testid("scan-said")}
      >
        {trouble !== null
          ? troubles(w)[trouble]
          : asks
            ? ""
            : said || (looking ? w.scan_hint : w.scan_opening)}
      </p>
      <div class="scan-keys">
        {stays !== undefined && (
          <button
            type="button"
            class="button"
            onClick={() => props.onClose(false)}
            {...testid("scan-done")}
          >
            {w.close}
          </button>
        )}
        {torch !== null && (
          <button
            type="button"
            class="button"
            aria-pressed={lit}
            onClick={() => void light()}
            {...testid("scan-torch")}
          >
            {w.scan_light}
          </button>
        )}
        {(trouble === "in_use" || trouble === "refused") && (
          <button type="button" class="button" onClick={again} {...testid("scan-again")}>
            {w.try_again}
          </button>
        )}
        <button
          type="button"
          class={trouble !== null && !asks ? "button primary" : "button"}
          onClick={() => {
            // While it is open nothing outside can be chosen.
            dialog.current?.close();
            props.onClose(true);
          }}
          {...testid("scan-type")}
        >
          {w.scan_type}
        </button>
      </div>
    </dialog>
  );
}

const troubles = (w: Words): Record<ScanTrouble, string> => ({
  refused: w.scan_refused,
  no_camera: w.scan_no_camera,
  in_use: w.scan_in_use,
  cannot_read: w.scan_cannot_read,
});

function inWords(sighting: Sighting, w: Words): string {
  switch (sighting.what) {
    case "wrong":
      return w.scan_wrong(sighting.text);
    case "several":
      return w.scan_several(sighting.codes.map(shown).join(", "));
    case "not_ours":
      return w.scan_not_ours(sighting.text.slice(0, 40));
    default:
      return "";
  }
}
