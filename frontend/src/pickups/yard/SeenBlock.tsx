/** On a casing's sheet: its condition, and whether it is worth taking for this customer. */
import { takePhoto } from "../../bridge/takePhoto";
import { usePhone } from "../context";
import { ConditionFieldset } from "../seen/ConditionFieldset";
import { SpecSentence } from "../seen/SpecSentence";
import { hasTire } from "../seen/seen";
import type { Checking } from "../seen/useCheck";
import type { Sheet } from "./draft";
import { type CasingFields, MOST_PHOTOS } from "./fields";

export function SeenBlock(props: {
  sheet: Sheet<CasingFields>;
  /** What would be told now. */
  told: CasingFields;
  checking: Checking;
  /** Somebody tried to save it. */
  tried: boolean;
  /** A photo is being made small. */
  onBusy: (busy: boolean) => void;
  /** Leaves it where it is; none for one that was taken already. */
  onLeave: (() => void) | null;
}) {
  const { sheet, told, checking, tried, onBusy, onLeave } = props;
  const phone = usePhone();
  if (!hasTire(told.line)) return null;
  const room = told.photos.length + sheet.photos.length < MOST_PHOTOS;

  async function keepPhoto(file: File): Promise<string> {
    onBusy(true);
    try {
      return await phone.camera.hash(await takePhoto(phone, file, sheet.addPhoto));
    } finally {
      onBusy(false);
    }
  }

  return (
    <>
      <ConditionFieldset
        key={sheet.id}
        fields={told}
        fill={sheet.fill}
        keepPhoto={room ? keepPhoto : null}
      />
      <SpecSentence
        key={`spec ${sheet.id}`}
        checking={checking}
        fields={told}
        fill={sheet.fill}
        asked={tried}
        onLeave={onLeave}
      />
    </>
  );
}
