/**
 * One scan after the other: by a camera that stays open, a wedge scanner or eight typed symbols.
 * Each label is judged by the screen around it, one at a time; the word about the last stays in
 * sight. What is odd is asked here, and nothing else is taken before there is an answer.
 */
import { useEffect, useRef, useState } from "preact/hooks";
import { bell, type Bell } from "../../bridge/bell";
import { fault as faultOf, shown, tidy } from "../../domain/labels";
import { nowOf } from "../../domain/replaced";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { testid } from "../testids";
import { useWedge } from "../wedge";
import { words } from "../words";
import { mistyped, odd } from "../labels/labelWords";
import { type Question, QuestionBox, type Said, SaidLine } from "./Verdict";

export type Heard = { said: Said } | { question: Question };

/** What became of the scan, and what is odd about its label. */
const also = (said: Said, about: string | null): Said =>
  about === null ? said : { ...said, text: `${said.text} ${about}` };

type Dialog = typeof import("../yard/ScanDialog").default;

export function Scanning(props: {
  /** Judges a sound label, and tells it where nothing is odd about it; `ticked`: on the list. */
  onScan: (label: string, ticked: boolean) => Promise<Heard>;
  /** "9 of 14 loaded": stands in the camera's view too. */
  count: string;
  /** Scanning is the one next action here. */
  next: boolean;
  /** What the key beside a typed label says. */
  take: string;
  onAsks?: (asks: boolean) => void;
  /** Filled with the way to put a label in line as if it were scanned. */
  ticked?: { current: ((label: string, ticked: boolean) => void) | null };
}) {
  const w = words.value;
  const phone = usePhone();
  const [said, setSaid] = useState<Said | null>(null);
  const [question, setQuestion] = useState<Question | null>(null);
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  const [camera, setCamera] = useState<{ Dialog: Dialog } | null>(null);
  const open = useRef<Question | null>(null);
  const line = useRef<Promise<void>>(Promise.resolve());
  const sound = useRef<Bell | null>(null);
  const latest = useRef(props);
  latest.current = props;
  const label = tidy(typed);
  const sounds = faultOf(label) === null;

  useEffect(() => () => sound.current?.close(), []);
  useEffect(() => {
    if (props.ticked !== undefined) props.ticked.current = scan;
  });

  function ask(next: Question | null): void {
    open.current = next;
    setQuestion(next);
    latest.current.onAsks?.(next !== null);
  }

  function hear(next: Said): void {
    sound.current ??= bell();
    if (next.tone === "good") sound.current.ring("good");
    else if (next.tone !== "again") sound.current.ring("asks");
    setSaid(next);
  }

  /** One after the other, however fast they come. */
  function scan(code: string, ticked = false): void {
    setFault(null);
    setTyped("");
    line.current = line.current.then(async () => {
      if (open.current !== null) return hear({ tone: "asks", text: words.value.road_answer_first });
      try {
        const now = phone.now.value;
        const about = odd(code, now, words.value);
        const heard = await latest.current.onScan(nowOf(code, now.casings.values()), ticked);
        if ("said" in heard) return hear(also(heard.said, about));
        sound.current ??= bell();
        sound.current.ring("asks");
        setSaid(null);
        const { question } = heard;
        ask(about === null ? question : { ...question, lines: [about, ...question.lines] });
      } catch {
        hear({ tone: "fault", text: words.value.save_failed });
      }
    });
  }

  function answer(yes: boolean): void {
    const asked = open.current;
    if (asked === null) return;
    ask(null);
    if (!yes) {
      setSaid(asked.left);
      return;
    }
    line.current = line.current.then(async () => {
      try {
        hear(await asked.onYes());
      } catch {
        hear({ tone: "fault", text: words.value.save_failed });
      }
    });
  }

  useWedge("label", ({ text, code, elsewhere }) => {
    if (code !== null) scan(code);
    else if (!elsewhere) hear({ tone: "fault", text: w.scan_not_ours(text.slice(0, 40)) });
  });

  async function openCamera(): Promise<void> {
    sound.current ??= bell();
    try {
      setCamera({ Dialog: (await import("../yard/ScanDialog")).default });
    } catch {
      setFault(w.scan_not_here);
    }
  }

  function enterTyped(): void {
    const wrong = mistyped(typed, phone.now.value, w);
    if (wrong === null) scan(label);
    else setFault(wrong);
  }

  const verdict =
    question !== null ? (
      <>
        <QuestionBox question={question} onAnswer={answer} />
        <SaidLine said={said} />
      </>
    ) : (
      <SaidLine said={said} />
    );
  const inCamera = camera !== null;
  return (
    <section class="scanning stack">
      {!inCamera && verdict}
      <Field
        id="label"
        title={w.label}
        hint={w.label_hint}
        fault={fault}
        value={typed}
        onValue={(value) => {
          setFault(null);
          setTyped(faultOf(tidy(value)) === null ? shown(tidy(value)) : value);
        }}
        code
        beside={
          sounds ? (
            <button
              type="button"
              class={question === null ? "button next" : "button"}
              onClick={enterTyped}
              {...testid("take")}
            >
              {props.take}
            </button>
          ) : (
            <button
              type="button"
              class={props.next && question === null ? "button next" : "button"}
              aria-label={w.scan_title}
              onClick={() => void openCamera()}
              {...testid("scan")}
            >
              {w.scan}
            </button>
          )
        }
        input={{
          ...testid("label"),
          autocapitalize: "characters",
          spellcheck: false,
          enterkeyhint: "done",
          onKeyDown: (event) => {
            if (event.key !== "Enter") return;
            event.preventDefault();
            enterTyped();
          },
        }}
      />
      {camera !== null && (
        <camera.Dialog
          onLabel={(code) => scan(code)}
          onClose={(type) => {
            setCamera(null);
            if (type) document.getElementById("label")?.focus();
          }}
          stays={{ title: props.count, said: verdict, asks: question !== null }}
        />
      )}
    </section>
  );
}
