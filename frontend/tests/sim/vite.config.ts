/** Builds the runner for Node, so that tests in another language can drive the shipped engine. */
import { join } from "node:path";
import { defineConfig } from "vite";

export default defineConfig({
  root: join(import.meta.dirname, "../.."),
  logLevel: "warn",
  build: {
    ssr: "tests/sim/runner.ts",
    outDir: "tests/sim/dist",
    emptyOutDir: true,
    target: "node20",
    copyPublicDir: false,
    rollupOptions: { output: { entryFileNames: "runner.mjs" } },
  },
});
