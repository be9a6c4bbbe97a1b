/**
 * The block of a page on which the other side signs: the list in their language, then a name and a
 * drawing, or why they will not, or that nobody is there. What is told of it, and how to use it:
 * signing.ts. It survives a kill with the sheet.
 */
import type { ComponentChildren } from "preact";
import type { VisitLine } from "../../domain/rows";
import { counted as countedOf, shownText } from "../../domain/shown";
import { Choice } from "../../ui/Choice";
import { Field } from "../../ui/Field";
import { testid } from "../testids";
import { language, spoken, words } from "../words";
import { Drawn } from "./Drawn";
import { ReadIn } from "./ReadIn";
import { Refusal, Words } from "./Refusal";
import { SignedList } from "./SignedList";
import type { Together } from "../wanted/offer";
import {
  ENDINGS,
  endedAs,
  endingOf,
  type Ending,
  readBy,
  SIGNER_MOST,
  type SignedLine,
  type SigningFault,
  type SigningSheet,
  signedAnother,
} from "./signing";

export interface SigningProps {
  sheet: SigningSheet;
  lines: SignedLine[];
  /** Scrap and what stays there, whose counts the signature covers too. */
  others?: VisitLine[];
  /** What was wrong when it was to be told. */
  fault: SigningFault | null;
  onFault: (fault: SigningFault | null) => void;
  /** A drawing is being kept: nothing is to be told meanwhile. */
  onBusy: (busy: boolean) => void;
  /** Whether promised days belong to the list; they do unless something is brought back. */
  promises?: boolean;
  /** By when the forecast has all of the list back together. */
  together?: Together | null;
  /** What is read in place of the list, where there is none of casings. */
  list?: ComponentChildren;
  /** Which endings this place has; all of them unless it says so. */
  endings?: Ending[];
  /** The photos, and what else is asked for, where nobody is there to sign: where that may be. */
  nobodyThere?: ComponentChildren;
  /** Words between the list and the name. */
  children?: ComponentChildren;
}

export function Signing(props: SigningProps) {
  const { sheet, lines, others = [], fault, onFault } = props;
  const counted = countedOf(others);
  const { fields, fill } = sheet;
  const w = words.value;
  const ending = endingOf(fields);
  const another = signedAnother(sheet, lines, counted);
  const covers = shownText(lines, counted);
  const at = (where: SigningFault["at"]) => (fault?.at === where ? fault.said : null);

  function say(some: Parameters<typeof fill>[0]) {
    onFault(null);
    fill(some);
  }

  return (
    <section class="signing stack">
      <h2>{w.sign_title}</h2>
      <ReadIn kept={fields.reads_in} onKept={(chosen) => fill(readBy(chosen, language.value))} />
      {props.list ?? (
        <SignedList
          lines={lines}
          others={others}
          promises={props.promises ?? true}
          together={props.together ?? null}
        />
      )}
      {props.children}
      <Choice
        name="sign"
        title={w.sign_how}
        values={props.endings ?? ENDINGS}
        names={w.sign_endings}
        value={ending}
        onValue={(to) => say(endedAs(to))}
      />
      {ending === "refuses" && <Refusal fields={fields} fault={fault} onSay={say} />}
      {ending === "nobody" && (
        <>
          <p class="caution">{w.sign_nobody_say}</p>
          {props.nobodyThere}
          <Words fields={fields} fault={at("unsigned")} onSay={say} title={w.sign_nobody_words} />
        </>
      )}
      {ending === "signs" && (
        <>
          <p>{w.sign_hand_over}</p>
          {another && (
            <div class="notice" role="alert">
              <p class="fault" {...testid("sign-another")}>
                {w.sign_again}
              </p>
              {fields.signer.trim() !== "" && (
                <button
                  id="sign-again"
                  type="button"
                  class="button"
                  onClick={() => say({ covers, signed_in: spoken.value })}
                  {...testid("sign-again")}
                >
                  {w.sign_has_read(fields.signer.trim())}
                </button>
              )}
            </div>
          )}
          <Field
            id="signer"
            title={w.sign_name}
            hint={w.sign_name_hint}
            fault={at("signer")}
            value={fields.signer}
            onValue={(signer) => say({ signer, covers, signed_in: spoken.value })}
            input={{
              ...testid("signer"),
              maxLength: SIGNER_MOST,
              autocapitalize: "words",
              enterkeyhint: "done",
              // It is not the last word yet: the drawing comes next.
              onKeyDown: (event) => {
                if (event.key !== "Enter") return;
                event.preventDefault();
                (event.target as HTMLInputElement).blur();
              },
            }}
          />
          {sheet.ready && (
            <Drawn sheet={sheet} covers={covers} another={another} onBusy={props.onBusy} />
          )}
        </>
      )}
    </section>
  );
}
