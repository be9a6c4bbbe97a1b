/** The build of the phone's app: the page by Vite, then the worker with the list of what to keep. */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { build, type Plugin } from "vite";
import { defineConfig } from "vitest/config";

const walk = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory() ? walk(join(folder, entry.name)) : [join(folder, entry.name)],
  );

const digest = (bytes: Buffer | string) =>
  createHash("sha256").update(bytes).digest("hex").slice(0, 16);

/** Builds /app/sw.js after the page; it carries each file's address and digest. */
function serviceWorker(): Plugin {
  let out = "";
  return {
    name: "service-worker",
    apply: "build",
    configResolved(config) {
      out = config.build.outDir;
    },
    async closeBundle() {
      const files = walk(out)
        .filter((file) => !/(^|\/)sw\.js$|\.(gz|br|map)$/.test(file))
        .map((file) => [`/app/${relative(out, file)}`, digest(readFileSync(file))])
        // The shell is kept as it is served, with the headers of the page.
        .map(([path, rev]) => [path === "/app/index.html" ? "/app/" : path, rev])
        .sort();
      await build({
        configFile: false,
        logLevel: "warn",
        define: {
          __FILES__: JSON.stringify(files),
          __BUILD__: JSON.stringify(digest(JSON.stringify(files))),
        },
        build: {
          outDir: out,
          emptyOutDir: false,
          copyPublicDir: false,
          target: "es2022",
          lib: {
            entry: "src/worker/index.ts",
            formats: ["iife"],
            name: "sw",
            fileName: () => "sw.js",
          },
        },
      });
    },
  };
}

export default defineConfig({
  base: "/app/",
  plugins: [serviceWorker()],
  build: {
    outDir: "dist",
    target: "es2022",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  // The reader of symbols is an ES module, as the page is.
  worker: { format: "es" },
  test: {
    include: ["tests/**/*.test.ts"],
    testTimeout: 20_000,
    // A phone that is killed leaves requests behind that nobody waits for any more.
    onUnhandledError: (error) => error.name !== "AbortError",
  },
});
