/// <reference types="node" />
// Turns a page of docs/guide into a Svelte component when the window is built: no markdown and no HTML is read at run time.
import { readFileSync } from "node:fs";
import { basename, dirname, resolve } from "node:path";
import { Marked, type Tokens } from "marked";
import type { PreprocessorGroup } from "svelte/compiler";

const TOKENS = resolve(import.meta.dirname, "../src/app.css");
/** Tokens a picture of the guide may use; each stands in the picture as its colour by day. */
const MAY_USE = ["page", "ink", "rule", "plate", "dye", "body", "steel", "zone", "face-top", "face-left", "face-front"];

/** Colour by day to token, as the interface's own sheet has them. */
export function tokens(css: string): Map<string, string> {
  return new Map(
    MAY_USE.map((name) => {
      const day = css.match(new RegExp(`--${name}: light-dark\\((#\\w{6}),`))?.[1];
      if (!day) throw new Error(`app.css has no colour ${name} for the pictures of the guide.`);
      return [day, `var(--${name})`];
    }),
  );
}

/** A table may be wider than a phone: then it moves by finger or by arrow keys. */
const TABLE = '<div class="table" role="region" aria-label="Table" tabindex="0">';

const attribute = (text: string) => text.replaceAll("&", "&amp;").replaceAll('"', "&quot;");
const noBraces = (html: string) => html.replaceAll("{", "&#123;").replaceAll("}", "&#125;");

/** A picture in the colours of the window, day, night and print, read out as `alt`. */
function drawn(svg: string, alt: string, css: string): string {
  const names = tokens(css);
  return svg
    .replace(/<title>.*?<\/title>\s*/, "")
    .replace(/ width="\d+" height="\d+"/, ` role="img" aria-label="${attribute(alt)}"`)
    .replace(/"(#\w{6})"/g, (_, hex: string) => {
      const token = names.get(hex);
      if (!token) throw new Error(`${hex} is no colour of the interface: ${alt}`);
      return `"${token}"`;
    });
}

/** The component of one page, as Svelte source. */
export function page(markdown: string, file: string): string {
  const css = readFileSync(TOKENS, "utf8");
  const imports: string[] = [];
  const marked = new Marked({
    renderer: {
      // The head of the screen is the page's first heading.
      heading({ tokens: inner, depth }: Tokens.Heading) {
        return depth === 1 ? "" : `<h${depth}>${this.parser.parseInline(inner)}</h${depth}>`;
      },
      // A picture stands by itself.
      paragraph({ tokens: inner }: Tokens.Paragraph) {
        const html = this.parser.parseInline(inner);
        return inner.length === 1 && inner[0]?.type === "image" ? `<figure>${html}</figure>` : `<p>${html}</p>`;
      },
      image({ href, text }: Tokens.Image) {
        if (href.endsWith(".svg")) return drawn(readFileSync(resolve(dirname(file), href), "utf8"), text, css);
        const name = `picture${imports.length}`;
        imports.push(`import ${name} from "./${href}";`);
        return `<img src=(${name}) alt="${attribute(text)}" width="390" />`;
      },
      link({ href, tokens: inner }: Tokens.Link) {
        const words = this.parser.parseInline(inner);
        // What lies outside the guide is not in the window.
        return /^[a-z-]+\.md$|^README\.md$/.test(href)
          ? `<a href="#${basename(href, ".md")}" data-page="${basename(href, ".md")}">${words}</a>`
          : words;
      },
    },
  });
  const html = noBraces(marked.parse(markdown) as string)
    .replace(/src=\((picture\d+)\)/g, "src={$1}")
    .replaceAll("<table>", `<!-- svelte-ignore a11y_no_noninteractive_tabindex -->${TABLE}<table>`)
    .replaceAll("</table>", "</table></div>");
  const title = markdown.match(/^# (.+)$/m)?.[1];
  if (!title) throw new Error(`${file} has no heading.`);
  return `<script module>export const title = ${JSON.stringify(title)};</script>
<script>${imports.join("")}</script>
${html}`;
}

export const guide: PreprocessorGroup = {
  name: "guide",
  markup: ({ content, filename }) =>
    filename?.endsWith(".md") ? { code: page(content, filename) } : { code: content },
};
