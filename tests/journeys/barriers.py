"""What keeps somebody from working a page: looked for at the desk's and the phone's size.

`look` is for a journey in passing; `sweep` looks at one state in both languages and both lights
and gives back what it found; `walk_through` does so at each state of a walk, so that everything is
named at once.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import Literal

from playwright.sync_api import Page, expect

from pickups.config import places

AXE = places.PROJECT / "frontend" / "node_modules" / "axe-core" / "axe.min.js"
NOTHING_CUT_OFF = """() => {
    const at = document.getElementById("scroll");
    return at.scrollWidth <= at.clientWidth;
}"""
STANDARDS = ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21aa", "wcag22aa", "best-practice"]
CONTRAST = ["color-contrast", "color-contrast-enhanced"]
LIGHTS: tuple[Literal["light"], Literal["dark"]] = ("light", "dark")
PHONE, DESK, ZOOMED = (360, 740), (1440, 900), (180, 370)
GLOVE_PX = 48
"""WCAG 2.2, 2.5.5 asks for 44; a glove needs more (common practice, no published source)."""

# Every control that is there to be hit: how large it is, whether something else lies over it,
# and whether two of them overlap. A box or a dot of a choice is as large as its label, unless
# it is large enough itself.
GEOMETRY = """least => {
    const found = [];
    const name = it => (it.dataset.testid || it.id || it.getAttribute("aria-label")
        || it.textContent.trim().slice(0, 30) || it.name || it.tagName);
    const open = document.querySelector("dialog[open]") ?? document;
    const all = [...open.querySelectorAll(
        "button, a[href], input:not([type=hidden]), select, textarea, summary, [tabindex='0']")];
    const inText = it => it.matches("a") && getComputedStyle(it).display === "inline"
        && it.parentElement.textContent.trim() !== it.textContent.trim();
    const floats = it => it !== null && it !== document.documentElement
        && (/fixed|sticky/.test(getComputedStyle(it).position) || floats(it.parentElement));
    const boxes = [];
    for (const it of all) {
        if (!it.checkVisibility({visibilityProperty: true, opacityProperty: true})) continue;
        if (it.disabled || it.closest("[inert]") || inText(it)) continue;
        if (it.closest(".hidden")) continue;
        const choice = it.matches("[type=checkbox], [type=radio], [type=file]");
        const own = it.getBoundingClientRect();
        const small = own.width < least - 0.5 || own.height < least - 0.5;
        const target = (choice && small && (it.closest("label") ?? it.labels?.[0])) || it;
        const scrolls = it.matches("[tabindex='0']:not(button, a, input, select, textarea)");
        target.scrollIntoView({block: "center", inline: "nearest", behavior: "instant"});
        const at = target.getBoundingClientRect();
        if (at.width < 1 || at.height < 1) continue;
        if (scrolls) continue;
        if (at.width < least - 0.5 || at.height < least - 0.5)
            found.push(`${name(it)} is ${Math.round(at.width)} x ${Math.round(at.height)} px`);
        const over = document.elementFromPoint(at.x + at.width / 2, at.y + at.height / 2);
        if (over && !target.contains(over) && !over.contains(target)
            && !(it.labels && [...it.labels].some(one => one.contains(over))))
            found.push(`${name(it)} lies under ${name(over)}`);
        boxes.push([it, target]);
    }
    const places = boxes.map(([it, target]) => [it, target, target.getBoundingClientRect()]);
    for (const [i, [a, ta, p]] of places.entries())
        for (const [b, tb, q] of places.slice(i + 1)) {
            if (ta === tb || ta.contains(tb) || tb.contains(ta)) continue;
            if (floats(ta) !== floats(tb)) continue;  // what stays in sight is passed below
            const wide = Math.min(p.right, q.right) - Math.max(p.left, q.left);
            const high = Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top);
            if (wide > 1 && high > 1) found.push(`${name(a)} and ${name(b)} overlap`);
        }
    scrollTo(0, 0);
    document.getElementById("scroll")?.scrollTo(0, 0);
    return found;
}"""
WIDER = """() => {
    const at = document.getElementById("scroll");
    const wide = [document.documentElement, ...(at ? [at] : [])]
        .some(one => one.scrollWidth > one.clientWidth);
    if (!wide) return [];
    const out = [...document.querySelectorAll("body *")].filter(one =>
        one.getBoundingClientRect().right > innerWidth + 1 && !one.closest(".hidden"));
    return [`wider than ${innerWidth} px: ${out.slice(0, 3).map(one =>
        (one.className || one.tagName) + " " + one.textContent.trim().slice(0, 20)).join(", ")}`];
}"""
MOVES = """() => document.getAnimations()
    .filter(one => one.playState === "running" && one.effect.getComputedTiming().duration > 1)
    .map(one => `${one.effect.target?.className} moves though less motion is asked for`)"""

KEPT_LANGUAGE = """() => new Promise((done, fail) => {
    const opening = indexedDB.open("yardloop-local");
    opening.onerror = fail;
    opening.onsuccess = () => {
        const read = opening.result.transaction("settings").objectStore("settings").get("language");
        read.onerror = fail;
        read.onsuccess = () => { opening.result.close(); done(read.result?.value); };
    };
})"""


def look(page: Page) -> None:
    """No barrier that axe finds, at both sizes, and nothing wider than the screen."""
    page.emulate_media(reduced_motion="reduce")  # half-way in, contrasts are not what they will be
    for width, height in (DESK, PHONE):
        page.set_viewport_size({"width": width, "height": height})
        assert axe(page) == []
        assert page.evaluate(NOTHING_CUT_OFF)


def axe(page: Page, rules: Sequence[str] = ()) -> list[str]:
    """What axe-core finds by its standards, or by these rules alone."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE.read_text())
    only = {"type": "rule", "values": [*rules]} if rules else {"type": "tag", "values": STANDARDS}
    said = page.evaluate(
        "runOnly => axe.run(document, {runOnly, resultTypes: ['violations']})", only
    )
    assert said["passes"], "it did look"
    return [f"{v['id']}: {node['html'][:160]}" for v in said["violations"] for node in v["nodes"]]


def sweep(
    page: Page,
    name: str,
    languages: Iterator[str] | Sequence[str],
    sizes: Callable[[Page], list[str]],
) -> list[str]:
    """What keeps somebody from this state, in each language as it is given, in both lights."""
    found = []
    for language in languages:
        for light in LIGHTS:
            page.emulate_media(reduced_motion="reduce", color_scheme=light)
            seen = axe(page, () if light == "light" else CONTRAST)
            found += [f"{name}, {language}, {light}: {one}" for one in seen]
        found += [f"{name}, {language}: {one}" for one in [*sizes(page), *page.evaluate(MOVES)]]
    page.emulate_media(reduced_motion="reduce", color_scheme="light")
    return found


def walk_through(
    page: Page, states: str, walk: Iterator[str], sizes: Callable[[Page], list[str]]
) -> None:
    """Stops at each state of a walk, which are those of the table, one a line, in this order."""
    found, seen = [], []
    for name in walk:
        seen.append(name)
        found += sweep(page, name, both(page), sizes)
    assert seen == [line.strip() for line in states.splitlines() if line.strip()]
    assert found == [], "\n".join(found)


def both(page: Page) -> Iterator[str]:
    """Each language in turn, in place, by the switch of every screen; the first one at the end."""
    spoken = page.locator("html")
    first = spoken.get_attribute("lang") or ""
    for language, other in (("en", "es"), ("es", "en"))[:: 1 if first == "en" else -1]:
        yield language
        # A dialog lies over the switch: it is pressed all the same.
        page.evaluate("document.querySelector('[data-testid=language]').click()")
        expect(spoken).to_have_attribute("lang", other)
        # On the disk too: the next step of the walk may load the page anew.
        page.wait_for_function(f"() => ({KEPT_LANGUAGE})().then(kept => kept === '{other}')")


def sized(page: Page, size: tuple[int, int]) -> None:
    page.set_viewport_size({"width": size[0], "height": size[1]})


def gloved(page: Page) -> list[str]:
    """Targets for a glove, nothing over them, nothing cut off; at twice the size too."""
    found: list[str] = [*page.evaluate(GEOMETRY, GLOVE_PX), *page.evaluate(WIDER)]
    sized(page, ZOOMED)
    found += [f"at twice the size: {one}" for one in page.evaluate(WIDER)]
    sized(page, PHONE)
    return found


def at_the_desk(page: Page) -> list[str]:
    """A counter is a PC or a tablet: keys of a glove's size where it is as narrow as a phone."""
    sized(page, PHONE)
    found: list[str] = [*page.evaluate(WIDER), *page.evaluate(GEOMETRY, GLOVE_PX)]
    sized(page, DESK)
    return [*found, *page.evaluate(WIDER)]
