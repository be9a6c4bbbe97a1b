/** Builds the bench's page script: the shipped engine, in one file that a page can be given. */
import { join } from "node:path";
import { defineConfig } from "vite";

export default defineConfig({
  root: join(import.meta.dirname, "../.."),
  logLevel: "warn",
  build: {
    outDir: "tests/bench/dist",
    emptyOutDir: true,
    copyPublicDir: false,
    target: "es2022",
    lib: {
      entry: "tests/bench/replicating.ts",
      formats: ["iife"],
      name: "unused",
      fileName: () => "replicating.js",
    },
  },
});
