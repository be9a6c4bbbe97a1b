/** The drawing of a signature with what is said of it: kept with the sheet after each stroke. */
import { useEffect, useRef, useState } from "preact/hooks";
import { usePhone } from "../context";
import { testid } from "../testids";
import { spoken, words } from "../words";
import { Pad } from "./Pad";
import { drawing, type SigningSheet } from "./signing";

export function Drawn(props: {
  sheet: SigningSheet;
  covers: string;
  another: boolean;
  onBusy: (busy: boolean) => void;
}) {
  const { sheet, covers, another } = props;
  const { camera } = usePhone();
  const w = words.value;
  const [empty, setEmpty] = useState(0);
  const [said, setSaid] = useState<"short" | "failed" | null>(null);
  const kept = drawing(sheet);
  // One stroke after the other, however fast they come.
  const line = useRef(Promise.resolve());
  const latest = useRef(sheet);
  latest.current = sheet;

  useEffect(() => {
    // What was drawn under another list is no signature of this one.
    if (another && kept !== null) wipe();
  }, [another, kept?.sha256]);

  function keep(picture: Blob | "short" | "failed") {
    if (!(picture instanceof Blob)) {
      if (drawing(latest.current) === null) setSaid(picture);
      return;
    }
    props.onBusy(true);
    line.current = line.current
      .then(async () => {
        const { fields, fill, addPhoto, dropPhoto } = latest.current;
        const sha256 = await camera.hash(picture);
        const before = fields.drawn.at(-1);
        // The name of the drawing first: whatever is cut off here, it is never a photo of its own.
        fill({ drawn: [...fields.drawn, sha256], covers, signed_in: spoken.value });
        await addPhoto(picture);
        if (before !== undefined && before !== sha256) await dropPhoto(before);
        setSaid(null);
      })
      .catch(() => setSaid("failed"))
      .finally(() => props.onBusy(false));
  }

  function wipe() {
    setEmpty((times) => times + 1);
    setSaid(null);
    const gone = drawing(latest.current);
    if (gone !== null) line.current = line.current.then(() => sheet.dropPhoto(gone.sha256));
  }

  return (
    <div class="field">
      <span class="title">{w.sign_pad}</span>
      <div class="pad" data-hint={kept === null ? w.sign_pad_hint : ""}>
        <Pad
          kept={kept?.blob ?? null}
          empty={empty}
          label={w.sign_pad}
          describedBy="sign-pad-said"
          onDrawn={keep}
        />
      </div>
      <p
        id="sign-pad-said"
        role="status"
        class={kept !== null ? "good" : said === null ? "soft" : "asks"}
        {...testid("sign-pad-said")}
      >
        {kept !== null ? w.sign_pad_kept : said === null ? w.sign_pad_aside : saidOf(said)}
      </p>
      {kept !== null && (
        <button type="button" class="button" onClick={wipe} {...testid("sign-clear")}>
          {w.sign_clear}
        </button>
      )}
    </div>
  );
}

const saidOf = (said: "short" | "failed"): string =>
  said === "short" ? words.value.sign_pad_short : words.value.sign_pad_failed;
