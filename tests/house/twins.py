"""The phone's rules in Node, to be asked beside the server's: one bundle, one process, JSON lines.

Every module of frontend/src/domain that is named here is bundled by the build tool that ships it,
so what answers is what a phone runs. Knows no rule; `make test` has installed what it needs.
"""

import json
import subprocess
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict, is_dataclass
from datetime import date
from pathlib import Path
from typing import Any

PROJECT = Path(__file__).parents[2]

BUNDLE = """
import { build } from "vite";
const [entry, outDir] = process.argv.slice(1);
const lib = { entry, formats: ["es"], fileName: () => "twins.mjs" };
await build({ configFile: false, logLevel: "error", publicDir: false, build: { outDir, lib } });
"""

ANSWERS = """
import { createInterface } from "node:readline";
const twins = await import(process.argv[1]);
for await (const line of createInterface({ input: process.stdin })) {
  const [module, name, given] = JSON.parse(line);
  console.log(JSON.stringify(twins[module][name](...given)) ?? "null");
}
"""


def plain(told: Any) -> Any:
    """A rule's answer as JSON has it."""
    return json.loads(json.dumps(told, default=_plain))


def _plain(told: Any) -> Any:
    if is_dataclass(told) and not isinstance(told, type):
        return asdict(told)
    if isinstance(told, date):
        return told.isoformat()
    raise TypeError(told)


class Twin:
    """The TypeScript modules, asked a function at a time."""

    def __init__(self, node: "subprocess.Popen[str]") -> None:
        self.node = node

    def ask(self, module: str, name: str, *given: Any) -> Any:
        """What the exported function answers to these arguments."""
        assert self.node.stdin is not None
        assert self.node.stdout is not None
        self.node.stdin.write(json.dumps([module, name, given], default=_plain) + "\n")
        self.node.stdin.flush()
        answer = self.node.stdout.readline()
        assert answer, f"{module}.{name} broke on {given!r}"
        return json.loads(answer)


@contextmanager
def twin_of(modules: Sequence[str], folder: Path) -> Iterator[Twin]:
    """Bundle these modules into a folder and keep one Node that answers for them."""
    domain = PROJECT / "frontend/src/domain"
    entry = folder / "entry.mjs"
    lines = [f"export * as {m} from {json.dumps(str(domain / m))};" for m in modules]
    entry.write_text("\n".join(lines))
    run = ["node", "--input-type=module", "-e"]
    frontend = PROJECT / "frontend"
    subprocess.run([*run, BUNDLE, str(entry), str(folder)], cwd=frontend, check=True)
    with subprocess.Popen(
        [*run, ANSWERS, (folder / "twins.mjs").as_uri()],
        cwd=frontend,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        encoding="utf-8",
    ) as node:
        yield Twin(node)
        assert node.stdin is not None
        node.stdin.close()
