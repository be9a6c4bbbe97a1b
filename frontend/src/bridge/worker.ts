/**
 * Page and worker: registration, and a new build only with the person's consent. After consent
 * this tab loads anew; other tabs run on with what they have until they are opened again.
 */
import { signal } from "@preact/signals";
import { HERE, SYNC_TAG, TAKE_OVER, WHICH_SCRIPT } from "../sync/news";

/** A new build is on the phone and waits for a word. */
export const newVersion = signal(false);

/** The sign that the build gave to the script that runs here; empty before the page has begun. */
export const build = signal("");

let registration: ServiceWorkerRegistration | null = null;
let agreed = false;

/** `script` is the address of the script that this tab runs. */
export async function startWorker(script: string): Promise<void> {
  build.value = /-([\w-]+)\.js$/.exec(new URL(script).pathname)?.[1] ?? "";
  const worker = navigator.serviceWorker;
  if (worker === undefined) return;
  worker.addEventListener("message", (event) => {
    if (event.data === WHICH_SCRIPT) event.ports[0]?.postMessage(new URL(script).pathname);
  });
  worker.startMessages();
  worker.addEventListener("controllerchange", () => {
    if (agreed) location.reload();
  });
  try {
    registration = await worker.register("/app/sw.js", { scope: "/app/", updateViaCache: "none" });
  } catch {
    return; // without it the app works while there is signal
  }
  watch(registration);
  worker.controller?.postMessage(HERE);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void registration?.update().catch(() => {});
  });
}

function watch(of: ServiceWorkerRegistration): void {
  const look = () => {
    newVersion.value = of.waiting !== null && of.active !== null;
  };
  look();
  of.addEventListener("updatefound", () => of.installing?.addEventListener("statechange", look));
}

export function takeNewVersion(): void {
  agreed = true;
  registration?.waiting?.postMessage(TAKE_OVER);
}

/** Where the browser has it, what waits is sent even after this page is closed. */
export async function askForBackgroundSync(): Promise<void> {
  const { sync } = (registration ?? {}) as { sync?: { register(tag: string): Promise<void> } };
  await sync?.register(SYNC_TAG).catch(() => {});
}
