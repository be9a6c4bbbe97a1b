/** The list that is signed, as it stands on the screen. */
import type { VisitLine } from "../../domain/rows";
import { shown as label } from "../../domain/labels";
import { countsSaid, lineSaid, lineTitle } from "../seen/visitLines";
import { testid } from "../testids";
import { dayInWords, numerals, words } from "../words";
import type { Together } from "../wanted/offer";
import { odds } from "../wanted/OfferSaid";
import { daysSaid, type SignedLine } from "./signing";

/** What is signed: how many, each label with its day, by when together; scrap and what stays. */
export function SignedList(props: {
  lines: SignedLine[];
  others: VisitLine[];
  promises: boolean;
  /** By when the forecast has them all back together. */
  together?: Together | null;
}) {
  const { lines, others, promises, together } = props;
  const w = words.value;
  const also = countsSaid(others, w);
  return (
    <>
      <p class="count big" {...testid("sign-count")}>
        <b>{w.casings(lines.length)}</b>
        {also !== "" && `, ${also}`}
        {promises && lines.length > 0 && (
          <span {...testid("sign-promised")}>{`. ${daysSaid(lines, w, dayInWords)}.`}</span>
        )}
      </p>
      {promises && together && (
        <p {...testid("sign-together")}>
          {w.offer_together(together.count, dayInWords(together.on), odds(together.percent, w))}
        </p>
      )}
      <ol class="lines signed" {...testid("sign-list")}>
        {lines.map((line, i) => (
          // Two casings may carry one label, while the office sorts it out.
          <li key={`${line.label} ${i}`}>
            <span class="number" aria-hidden="true">
              {i + 1}
            </span>
            <b class="code">{label(line.label)}</b>
            {promises && (
              <span class="on">
                {line.on === "" ? w.promised_no_day : w.promised_short(dayInWords(line.on))}
              </span>
            )}
            {line.said && <span class="said">{line.said}</span>}
            {line.stop && <span class="said stops">{line.stop}</span>}
          </li>
        ))}
        {others.map((line) => (
          <li key={line.id}>
            <span class="number" aria-hidden="true">
              {line.kind === "scrap" ? "×" : "–"}
            </span>
            <b>{lineTitle(line, w)}</b>
            <span class="said">{lineSaid(line, w, numerals)}</span>
          </li>
        ))}
      </ol>
    </>
  );
}
