"""What keeps somebody from working a page: looked for at the desk's and the phone's size."""

from playwright.sync_api import Page

from pickups.config import places

AXE = places.PROJECT / "frontend" / "node_modules" / "axe-core" / "axe.min.js"
NOTHING_CUT_OFF = """() => {
    const at = document.getElementById("scroll");
    return at.scrollWidth <= at.clientWidth;
}"""
STANDARDS = ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21aa", "wcag22aa", "best-practice"]


def look(page: Page) -> None:
    """No barrier that axe finds, at both sizes, and nothing wider than the screen."""
    page.evaluate(AXE.read_text())
    page.emulate_media(reduced_motion="reduce")  # half-way in, contrasts are not what they will be
    for width, height in ((1440, 900), (360, 740)):
        page.set_viewport_size({"width": width, "height": height})
        said = page.evaluate("only => axe.run(document, {runOnly: only})", STANDARDS)
        assert said["passes"], "it did look"
        found = [(v["id"], [node["html"] for node in v["nodes"]]) for v in said["violations"]]
        assert found == []
        assert page.evaluate(NOTHING_CUT_OFF)
