/**
 * A PDF to the printer without leaving the page: shown in a frame that nobody sees, whose own
 * viewer is told to print. A browser without such a viewer opens it in a tab instead.
 */

/** A frame stays until the next PDF: a print dialogue may be open for minutes. */
let last: { frame: HTMLIFrameElement; url: string } | null = null;

/** "sent": the browser's print dialogue, or the printer itself, has it. "opened": in a tab of its
 * own, to be printed there. "blocked": the browser let us do neither. */
export type Sent = "sent" | "opened" | "blocked";

export async function printPdf(pdf: Blob): Promise<Sent> {
  clear();
  const url = URL.createObjectURL(pdf);
  if (navigator.pdfViewerEnabled) {
    const frame = document.createElement("iframe");
    frame.className = "printed";
    frame.setAttribute("aria-hidden", "true");
    frame.tabIndex = -1;
    last = { frame, url };
    const loaded = new Promise((resolve) => {
      frame.onload = resolve;
    });
    frame.src = url;
    document.body.append(frame);
    await loaded;
    try {
      frame.contentWindow!.print();
      return "sent";
    } catch {
      clear();
    }
  }
  return open(URL.createObjectURL(pdf), "_blank") === null ? "blocked" : "opened";
}

function clear(): void {
  last?.frame.remove();
  if (last !== null) URL.revokeObjectURL(last.url);
  last = null;
}
