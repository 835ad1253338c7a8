import { flushSync, mount, unmount } from "svelte";
import { expect, test, vi } from "vitest";
import { page, tokens } from "../build/guide";
import { FIRST_PAGE, GUIDE } from "../src/lib/guide";
import type { AppState } from "../src/lib/state/app.svelte";
import GuidePage from "../src/views/GuidePage.svelte";

test("every page of the guide is in the window, and its links lead to pages", () => {
  expect(GUIDE.size).toBeGreaterThanOrEqual(13);
  expect(GUIDE.get(FIRST_PAGE)?.title).toBe("How to measure");
  for (const [name, { default: Page, title }] of GUIDE) {
    const target = document.createElement("div");
    const shown = mount(Page, { target });
    expect(title, name).not.toBe("");
    expect(target.querySelector("h1"), `${name}: the screen has the heading`).toBeNull();
    for (const link of target.querySelectorAll("a"))
      expect(GUIDE.has(link.dataset.page ?? ""), link.outerHTML).toBe(true);
    for (const picture of target.querySelectorAll("figure > svg, img"))
      expect((picture.getAttribute("aria-label") ?? picture.getAttribute("alt") ?? "").length, name).toBeGreaterThan(
        20,
      );
    expect(target.querySelector("[style]"), `${name}: the window allows no inline style`).toBeNull();
    expect(target.innerHTML, `${name}: colours are those of the window`).not.toMatch(/"#[0-9a-f]{6}"/);
    void unmount(shown);
  }
});

test("braces and links out of the guide are words", () => {
  const made = page("# A {b}\n\nText {c} and [the method](../method.md), `{d}`.\n", "/none.md");
  expect(made).toContain("Text &#123;c&#125; and the method, <code>&#123;d&#125;</code>.");
  expect(made).not.toContain("<a");
});

test("a colour that has no name is refused", () => {
  expect(() => tokens(":root { --page: light-dark(#fbfcfe, #0d1850); }")).toThrow("no colour ink");
});

test("a link leads to its page without leaving the window, Escape and back to where one came from", () => {
  const app = { go: vi.fn(), back: vi.fn(), menuOpen: false };
  const shown = mount(GuidePage, {
    target: document.body,
    props: { app: app as unknown as AppState, page: FIRST_PAGE },
    context: new Map([["form", () => "phone"]]),
  });
  flushSync();
  const click = new MouseEvent("click", { bubbles: true, cancelable: true });
  document.querySelector('a[data-page="hose"]')?.dispatchEvent(click);
  expect(click.defaultPrevented).toBe(true);
  expect(app.go).toHaveBeenCalledExactlyOnceWith({ at: "guide", page: "hose" });
  window.dispatchEvent(new KeyboardEvent("keydown", { key: "Escape" }));
  document.querySelector<HTMLElement>('[data-test="back"]')?.click();
  expect(app.back).toHaveBeenCalledTimes(2);
  void unmount(shown);
});
