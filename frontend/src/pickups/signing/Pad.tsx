/**
 * A sheet to draw a signature on: finger, glove, pen or mouse. Always dark on white, whatever the
 * screen's colours, since it is kept as a picture. It keeps nothing itself; it tells each stroke.
 */
import { useEffect, useRef } from "preact/hooks";
import { testid } from "../testids";

const WIDTH = 960;
const HEIGHT = 540;
const INK = "#15181b";
const BROAD = 7;
/** Shorter than this, and it was a touch in passing; in the picture's own pixels. */
const LEAST_INK = 60;

type Point = { x: number; y: number };

export function Pad(props: {
  /** What was drawn before, if this is the screen again after a while. */
  kept: Blob | null;
  /** Rises when the sheet is to be empty again. */
  empty: number;
  label: string;
  describedBy: string;
  /** The picture after a stroke, or why there is none: too little ink for a signature. */
  onDrawn: (picture: Blob | "short" | "failed") => void;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const pen = useRef({ id: -1, at: { x: 0, y: 0 }, middle: { x: 0, y: 0 }, ink: 0 });

  useEffect(() => {
    const sheet = wiped(canvas.current!);
    pen.current.ink = 0;
    const { kept } = props;
    if (kept === null || props.empty > 0) return;
    let here = true;
    void createImageBitmap(kept).then((picture) => {
      // Who draws meanwhile draws anew.
      if (here && pen.current.ink === 0) {
        sheet.drawImage(picture, 0, 0, WIDTH, HEIGHT);
        pen.current.ink = LEAST_INK;
      }
      picture.close();
    });
    return () => {
      here = false;
    };
  }, [props.empty]);

  function down(event: PointerEvent) {
    if (pen.current.id !== -1 || event.button > 0) return;
    event.preventDefault();
    const at = place(event);
    canvas.current!.setPointerCapture(event.pointerId);
    Object.assign(pen.current, { id: event.pointerId, at, middle: at });
    line(at, at, at);
  }

  function move(event: PointerEvent) {
    if (event.pointerId !== pen.current.id) return;
    const all = event.getCoalescedEvents?.() ?? [];
    for (const one of all.length > 0 ? all : [event]) {
      const { at, middle, ink } = pen.current;
      const to = place(one);
      const half = { x: (at.x + to.x) / 2, y: (at.y + to.y) / 2 };
      line(middle, at, half);
      const more = Math.hypot(to.x - at.x, to.y - at.y);
      Object.assign(pen.current, { at: to, middle: half, ink: ink + more });
    }
  }

  function up(event: PointerEvent) {
    if (event.pointerId !== pen.current.id) return;
    const { middle, at, ink } = pen.current;
    line(middle, at, at);
    pen.current.id = -1;
    if (ink < LEAST_INK) props.onDrawn("short");
    else canvas.current?.toBlob((picture) => props.onDrawn(picture ?? "failed"), "image/png");
  }

  function line(from: Point, by: Point, to: Point) {
    const sheet = canvas.current!.getContext("2d")!;
    sheet.beginPath();
    sheet.moveTo(from.x, from.y);
    sheet.quadraticCurveTo(by.x, by.y, to.x, to.y);
    sheet.stroke();
  }

  function place(event: PointerEvent): Point {
    const box = canvas.current!.getBoundingClientRect();
    return {
      x: ((event.clientX - box.left) / box.width) * WIDTH,
      y: ((event.clientY - box.top) / box.height) * HEIGHT,
    };
  }

  return (
    <canvas
      ref={canvas}
      width={WIDTH}
      height={HEIGHT}
      role="img"
      aria-label={props.label}
      aria-describedby={props.describedBy}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
      {...testid("sign-pad")}
    />
  );
}

/** An empty sheet, its pen ready. */
function wiped(canvas: HTMLCanvasElement): CanvasRenderingContext2D {
  const sheet = canvas.getContext("2d")!;
  sheet.fillStyle = "#ffffff";
  sheet.fillRect(0, 0, WIDTH, HEIGHT);
  Object.assign(sheet, { strokeStyle: INK, lineWidth: BROAD, lineCap: "round", lineJoin: "round" });
  return sheet;
}
