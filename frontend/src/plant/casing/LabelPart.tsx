/** What is tied to the label here: the number of its envelope or hook, or its finished tag. */
import { fault, shown, tidy } from "../../domain/labels";
import { useCamera } from "../../pickups/labels/useCamera";
import { testid } from "../../pickups/testids";
import { words } from "../../pickups/words";
import { labelFault } from "../../pickups/yard/fields";
import { useState } from "preact/hooks";
import { Field } from "../../ui/Field";
import { tagFault } from "../answer";
import { NUMBER_MOST } from "../nextScan";
import { floorWords } from "../words";
import type { Part } from "./part";

export function LabelPart(props: Part & { of: "tag" | "envelope" }) {
  const { floor, work, fields, fill, fault: lacks, of } = props;
  const w = floorWords.value;
  const [no, setNo] = useState<string | null>(null);
  const value = fields[of];
  const label = tidy(value);
  const tagNo = of === "tag" ? tagFault(fields, work, floor.works) : null;
  const sound = value.trim() !== "" && tagNo === null;
  const camera = useCamera(
    { id: of, testid: `${of}-scan`, sound },
    (code) => fill({ [of]: of === "tag" ? shown(code) : code }),
    setNo,
  );
  const asked = lacks !== null && (lacks === of || lacks.startsWith(`${of}_`));
  const wrong = asked ? w.missing[lacks] : no;
  const typedWrong =
    tagNo === null || label.length < 8
      ? null
      : tagNo === "tag_fault"
        ? labelFault(value, words.value)
        : w.missing[tagNo];
  return (
    <>
      <Field
        id={of}
        title={of === "tag" ? w.tag : w.envelope}
        hint={of === "tag" ? w.tag_hint : w.envelope_hint}
        good={sound ? (of === "tag" ? w.tag_sound : w.envelope_tied(value.trim())) : null}
        fault={wrong ?? typedWrong}
        value={value}
        onValue={(next) => {
          setNo(null);
          const code = tidy(next);
          fill({ [of]: of === "tag" && fault(code) === null ? shown(code) : next });
        }}
        code
        beside={of === "tag" ? camera.key : undefined}
        input={{
          ...testid(of),
          autocapitalize: "characters",
          spellcheck: false,
          maxLength: NUMBER_MOST,
          "data-first": "",
          onKeyDown: (event) => event.key === "Enter" && event.preventDefault(),
        }}
      />
      {camera.dialog}
    </>
  );
}
