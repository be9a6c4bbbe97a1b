/**
 * Which way imports go, checked by `npm run check`:
 *   main > pickups | plant > bridge > sync > store > ports > domain; ui below the screens, blind
 *   to everything but domain; the worker is a composition root of its own, without a page.
 * tests/house/layers.test.ts shows that each of these rules bites.
 */
const ORDER = ["domain", "ports", "store", "sync", "bridge", "(pickups|plant)", "main\\.[^/]*"];
const below = (layer) => ORDER.slice(ORDER.indexOf(layer) + 1);

const upward = ORDER.slice(0, -1).map((layer) => ({
  name: `${layer.replace(/\W+/g, "-").replace(/^-|-$/g, "")}-imports-downward-only`,
  severity: "error",
  from: { path: `^src/${layer}/` },
  to: { path: [...below(layer).map((l) => `^src/${l}${l.startsWith("main") ? "$" : "/"}`), "^src/worker/"] },
}));

module.exports = {
  forbidden: [
    ...upward,
    {
      name: "ui-is-blind-to-the-store",
      severity: "error",
      from: { path: "^src/ui/" },
      to: { path: "^src/(?!ui/|domain/)" },
    },
    {
      name: "nothing-below-the-screens-knows-the-ui",
      severity: "error",
      from: { path: "^src/(domain|ports|store|sync|bridge|worker)/" },
      to: { path: "^src/ui/" },
    },
    {
      name: "the-worker-has-no-page",
      severity: "error",
      from: { path: "^src/worker/" },
      to: { path: "^src/(bridge|ui|pickups|plant|main)" },
    },
    {
      name: "domain-is-pure",
      severity: "error",
      from: { path: "^src/domain/" },
      to: { dependencyTypes: ["npm", "npm-dev", "core"] },
    },
    {
      name: "only-the-store-knows-the-database",
      severity: "error",
      from: { path: "^src/", pathNot: "^src/store/" },
      to: { path: "node_modules/idb/" },
    },
    {
      name: "only-screens-know-the-widgets-library",
      severity: "error",
      from: { path: "^src/(domain|ports|store|sync|worker)/" },
      to: { path: "node_modules/(preact|@preact)/" },
    },
    { name: "no-circle", severity: "error", from: {}, to: { circular: true } },
    {
      // What ends in ?url is an address that the build makes, no module.
      name: "no-orphan-import",
      severity: "error",
      from: {},
      to: { couldNotResolve: true, pathNot: "\\.wasm\\?url$" },
    },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    exclude: { path: "tests/house/planted/|tests/(sim|bench)/dist/|tests/bench/peer/" },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "default"] },
  },
};
