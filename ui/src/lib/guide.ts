// The pages of docs/guide, compiled into the window: no network, no file is read.
import type { Component } from "svelte";

interface Page {
  default: Component;
  title: string;
}

const files = import.meta.glob<Page>("../../../docs/guide/*.md", { eager: true });

/** Page by its file's name without the ending; `README` is the first. */
export const GUIDE: ReadonlyMap<string, Page> = new Map(
  Object.entries(files).map(([path, page]) => [path.replace(/^.*\/|\.md$/g, ""), page]),
);

export const FIRST_PAGE = "README";
