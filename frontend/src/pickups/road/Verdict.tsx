/** What became of the last scan, in words that can be read at arm's length; and what is asked. */
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { testid } from "../testids";

export interface Said {
  tone: "good" | "again" | "asks" | "fault";
  text: string;
  /** What a hand has to know about this very casing. */
  caution?: string | null;
}

export interface Question {
  title: string;
  /** Why it is asked, a sentence each. */
  lines: string[];
  /** Nothing should be handed on before somebody has looked again. */
  grave: boolean;
  no: string;
  yes: string;
  /** What is said when the answer is no: nothing was told. */
  left: Said;
  /** Tells it all the same. */
  onYes(): Promise<Said>;
}

const CLASS = { good: "good", again: "soft", asks: "asks", fault: "fault" };

let turn = 0;

export function SaidLine({ said }: { said: Said | null }) {
  // The same words once more are another scan.
  const last = useRef<{ said: Said | null; key: number }>({ said: null, key: 0 });
  if (last.current.said !== said) last.current = { said, key: ++turn };
  return (
    <div class="verdict" role="status" data-tone={said?.tone} {...testid("verdict")}>
      {said !== null && (
        <p key={last.current.key} class={`${CLASS[said.tone]} arrives`}>
          {said.text}
        </p>
      )}
      {said?.caution && <Caution>{said.caution}</Caution>}
    </div>
  );
}

export const Caution = ({ children }: { children: ComponentChildren }) => (
  <p class="caution rejected">{children}</p>
);

export function QuestionBox(props: { question: Question; onAnswer: (yes: boolean) => void }) {
  const { title, lines, grave, no, yes } = props.question;
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    box.current?.querySelector("h2")?.focus({ preventScroll: true });
    box.current?.scrollIntoView({ block: "nearest" });
  }, [props.question]);
  return (
    <div
      ref={box}
      class={grave ? "notice ask grave" : "notice ask"}
      role="alertdialog"
      aria-labelledby="ask-title"
      aria-describedby="ask-why"
      {...testid("question")}
    >
      <h2 id="ask-title" tabIndex={-1}>
        {title}
      </h2>
      <div id="ask-why">
        {lines.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
      <button
        type="button"
        class="button primary"
        onClick={() => props.onAnswer(false)}
        {...testid("answer-no")}
      >
        {no}
      </button>
      <button
        type="button"
        class="button"
        onClick={() => props.onAnswer(true)}
        {...testid("answer-yes")}
      >
        {yes}
      </button>
    </div>
  );
}
