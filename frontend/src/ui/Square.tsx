/** A square for a scanner or a camera: drawn here, without network. */
import { qr } from "../domain/qr";

const QUIET = 4;

export function Square({ text, name }: { text: string; name: string }) {
  const rows = qr(text);
  const side = rows.length + 2 * QUIET;
  const path = rows
    .flatMap((row, y) => row.map((dark, x) => (dark ? `M${x + QUIET} ${y + QUIET}h1v1h-1z` : "")))
    .join("");
  return (
    <svg
      class="square"
      viewBox={`0 0 ${side} ${side}`}
      role="img"
      aria-label={name}
      shape-rendering="crispEdges"
    >
      <rect width={side} height={side} fill="#ffffff" />
      <path d={path} fill="#000000" />
    </svg>
  );
}
