/** The worker serves named files and the shell under /app/, and nothing else, ever. */
import { beforeEach, expect, it, vi } from "vitest";

const ORIGIN = "https://yard.example";
const FILES = [
  ["/app/", "1"],
  ["/app/assets/index-b.js", "2"],
  ["/app/icon.svg", "3"],
];

/** Caches by name, each a map from address to what was kept there. */
let kept: Map<string, Map<string, Response>>;
let route: (request: Request) => Promise<Response> | null;
let shell: { keepAll(): Promise<void>; dropUnused(): Promise<void> };

const cache = (name: string) => ({
  async match(key: string, options?: { ignoreSearch?: boolean }) {
    const entries = kept.get(name) ?? new Map<string, Response>();
    const found = [...entries].find(([at]) =>
      options?.ignoreSearch === true ? at.split("?")[0] === key : at === key,
    );
    return found?.[1].clone();
  },
  async put(key: string, response: Response) {
    if (!kept.has(name)) kept.set(name, new Map());
    kept.get(name)!.set(key, response);
  },
});

const registration = { installing: null as object | null, waiting: null as object | null };
let tabs: { postMessage(question: string, ports: MessagePort[]): void }[] = [];

beforeEach(async () => {
  kept = new Map();
  tabs = [];
  registration.installing = registration.waiting = null;
  vi.stubGlobal("location", new URL(`${ORIGIN}/app/sw.js`));
  vi.stubGlobal("__FILES__", FILES);
  vi.stubGlobal("__BUILD__", "new");
  vi.stubGlobal("self", { registration, clients: { matchAll: async () => tabs } });
  vi.stubGlobal("caches", {
    open: async (name: string) => cache(name),
    keys: async () => [...kept.keys()],
    delete: async (name: string) => kept.delete(name),
    async match(key: string) {
      for (const name of kept.keys()) {
        const found = await cache(name).match(key);
        if (found !== undefined) return found;
      }
    },
  });
  vi.stubGlobal("fetch", async (request: Request | string) => {
    const { pathname } = new URL(typeof request === "string" ? request : request.url, ORIGIN);
    return new Response(`fetched ${pathname}`);
  });
  vi.stubGlobal(
    "Request",
    class {
      url: string;
      constructor(path: string) {
        this.url = ORIGIN + path;
      }
    },
  );
  vi.resetModules();
  // The worker has a tsconfig of its own; these tests stand outside of it.
  const from = "../../src/worker/";
  route = (await import(/* @vite-ignore */ `${from}routes.ts`)).route;
  shell = await import(/* @vite-ignore */ `${from}shell.ts`);
});

const asked = (path: string, mode = "no-cors", method = "GET") =>
  route({ url: path.startsWith("http") ? path : ORIGIN + path, method, mode } as Request);
const text = async (answer: Promise<Response> | null) => await (await answer!).text();

it.each([
  "/api/sync/pull",
  "/L/K72K54X2",
  "/admin/",
  "/office/questions",
  "/",
  "/app",
  "/app/sw.js",
  "/app/report.pdf",
  "https://elsewhere.example/app/",
])("is none of its business: %s", (path) => {
  expect(asked(path, "navigate")).toBeNull();
  expect(asked(path)).toBeNull();
});

it("a page address under /app/ is the shell, also when the server is away", async () => {
  await shell.keepAll();
  vi.stubGlobal("fetch", () => Promise.reject(new TypeError("no signal")));
  expect(await text(asked("/app/pickup/1/finish", "navigate"))).toBe("fetched /app/");
  expect(await text(asked("/app/assets/index-b.js"))).toBe("fetched /app/assets/index-b.js");
});

it("anything but reading passes it by", () => {
  expect(asked("/app/", "navigate", "POST")).toBeNull();
});

it("keeps all files or fails whole", async () => {
  vi.stubGlobal("fetch", async (request: Request) =>
    request.url.endsWith(".svg") ? new Response("", { status: 503 }) : new Response("ok"),
  );
  await expect(shell.keepAll()).rejects.toThrow("/app/icon.svg");
});

const tabRunning = (script: string) => ({
  postMessage: (_: string, [port]: MessagePort[]) => port!.postMessage(script),
});
const oldBuild = () =>
  kept.set("yardloop-app-old", new Map([["/app/assets/index-a.js?rev=9", new Response("old")]]));

it("an old build stays while a tab runs it, and its files are still served", async () => {
  oldBuild();
  await shell.keepAll();
  tabs = [tabRunning("/app/assets/index-b.js"), tabRunning("/app/assets/index-a.js")];
  await shell.dropUnused();
  expect(await text(asked("/app/assets/index-a.js"))).toBe("old");
  tabs = [tabRunning("/app/assets/index-b.js")];
  await shell.dropUnused();
  expect([...kept.keys()]).toEqual(["yardloop-app-new"]);
});

it("a build that waits for consent is not taken for an old one", async () => {
  oldBuild();
  await shell.keepAll();
  registration.waiting = {};
  await shell.dropUnused();
  expect(kept.has("yardloop-app-old")).toBe(true);
});
